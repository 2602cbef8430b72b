// Files without an extension are known by their first line: those of programs, and of nothing else.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
  contributes: { languages: readonly { id: string; firstLine: string }[] };
};
const firstLine = new RegExp(manifest.contributes.languages[0].firstLine);

const firstOf = (file: string): string => readFileSync(file, 'utf8').split(/\r?\n/)[0];
const filesIn = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(nc|ngc|tap|cnc)$/.test(name))
    .map((name) => join(folder, name));

describe('a file without an extension', () => {
  // A first line that is a remark behind // or ; may begin anything.
  const programs = [...filesIn('examples'), ...filesIn('tests/corpus/programs')].filter(
    (name) => !/^(?:\/\/|;)/.test(firstOf(join(root, name))),
  );

  test('there are programs to look at', () => {
    expect(programs.length).toBeGreaterThan(100);
  });

  test.each(programs)('%s is known by its first line', (name) => {
    expect(firstOf(join(root, name))).toMatch(firstLine);
  });

  test.each([
    '%',
    '% ',
    'O1234',
    'o0042 (PLATE)',
    ':0001',
    '%O7',
    'N10 G21',
    'G90',
    'G0X1.',
    'G17 G40',
    'T1 M6',
    '/N5G1',
  ])('%j begins a program', (line) => {
    expect(line).toMatch(firstLine);
  });

  test.each([
    '',
    '# Notes',
    '#!/bin/sh',
    'Group 1 of the shift plan',
    'G',
    'Order 66 is done',
    'O2 sensor readings',
    'No 5 of the list',
    '%PDF-1.7',
    '%!PS-Adobe',
    'all: build',
    '{ "a": 1 }',
    'Tool 1 M6 bolts',
    '(see below) for the rest',
    '%YAML 1.2',
  ])('%j does not', (line) => {
    expect(line).not.toMatch(firstLine);
  });
});
