import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { executed } from '../../../../tests/harness/path.ts';
import { configurationFor, readConfigurationFile } from '../machine/configurationFile.ts';
import { firstShopFile, type ProgramTools, toolChangesOf } from './firstShopFile.ts';

const program = (name: string, text: string): ProgramTools => ({ name, changes: toolChangesOf(executed(text)) });

/** The table that a program gets from the file. */
const tableFor = (programs: readonly ProgramTools[], name: string) => {
  const { text } = firstShopFile(programs);
  const { shop, problems } = readConfigurationFile(text);
  expect(problems).toEqual([]);
  if (!shop) throw new Error(text);
  return configurationFor(shop, name).tools;
};

const PLATE = program(
  'plate.nc',
  'G21\nT3 M6 (TAP M6X1 LH)\nT1 M6 (8MM END MILL 3 FLUTE)\nT2 M6 (DRILL D5 135 DEG)\nT7 M6\nT1 M6 (8MM END MILL 3 FLUTE)\nM30\n',
);

describe('a first file', () => {
  test('has the tools by number, with what their remarks say', () => {
    expect(firstShopFile([PLATE])).toEqual({
      tools: 4,
      text: `{
  "version": 1,
  "units": "mm",
  "tools": [
    { "number": 1, "kind": "end-mill", "description": "8MM END MILL 3 FLUTE", "diameter": 8, "teeth": 3 },
    { "number": 2, "kind": "drill", "description": "DRILL D5 135 DEG", "diameter": 5, "pointAngle": 135 },
    { "number": 3, "kind": "tap", "description": "TAP M6X1 LH", "hand": "left", "thread": "M6X1" },
    { "number": 7, "kind": "other" }
  ]
}
`,
    });
  });

  test('counts inches where all programs do', () => {
    const inch = program('a.nc', 'G20\nT1 M6 (1/2 END MILL)\nM30\n');
    expect(firstShopFile([inch]).text).toContain('"units": "inch"');
    expect(firstShopFile([inch]).text).toContain('"diameter": 0.5');
    expect(firstShopFile([inch, PLATE]).text).toContain('"units": "mm"');
    expect(tableFor([inch], 'a.nc')[0].diameter).toBeCloseTo(12.7, 9);
  });

  test('of a number that is two tools the second stands with its own program', () => {
    const cover = program(
      'cover [2].nc',
      'G21\nT1 M6 (REAMER D10)\nT7 M6 (PROBE)\nT2 M6 (5.0 MM DRILL 135 DEG)\nM30\n',
    );
    const both = [PLATE, cover];
    expect(tableFor(both, 'plate.nc').map(({ number, kind }) => [number, kind])).toEqual([
      [1, 'end-mill'],
      [2, 'drill'],
      [3, 'tap'],
      [7, 'probe'],
    ]);
    expect(tableFor(both, 'cover [2].nc')[0]).toMatchObject({ number: 1, kind: 'reamer', diameter: 10 });
    expect(firstShopFile(both).text.match(/"number": 2,/g)).toHaveLength(1);
    expect(firstShopFile(both).tools).toBe(5);
  });

  test('keeps each number once, also of programs that only differ in signs with a meaning in patterns', () => {
    const names = ['plate.nc', 'part[1].nc', 'part{1}.nc'];
    const kinds = ['END MILL D8', 'REAMER D10', 'DRILL D4'];
    const three = names.map((name, i) => program(name, `G21\nT1 M6 (${kinds[i]})\nM30\n`));
    expect(tableFor(three, 'part[1].nc')).toHaveLength(1);
    expect(firstShopFile(three).tools).toBe(2);
  });

  test('takes the tools of subprograms and loops too, each once', () => {
    const text = 'O1\nG21\nM98 P1000 L2\nM30\nO1000\nT4 M6 (DRILL D3)\nM99\n';
    expect(tableFor([program('a.nc', text)], 'a.nc').map((row) => [row.number, row.diameter])).toEqual([[4, 3]]);
  });

  test('without programs it is a right file too', () => {
    expect(firstShopFile([])).toEqual({ tools: 0, text: '{\n  "version": 1,\n  "units": "mm",\n  "tools": []\n}\n' });
    expect(tableFor([], 'a.nc')).toEqual([]);
  });

  test('leaves out what is no tool number', () => {
    expect(tableFor([program('a.nc', 'T#500 M6\nT[1/2] M6\nM30\n')], 'a.nc')).toEqual([]);
  });

  test('of the examples is right, with every tool of theirs', () => {
    const folder = new URL('../../../../examples/', import.meta.url);
    const examples = readdirSync(folder)
      .filter((name) => name.endsWith('.nc'))
      .map((name) => program(name, readFileSync(new URL(name, folder), 'utf8')));
    for (const { name, changes } of examples) {
      const numbers = new Set(tableFor(examples, name).map((row) => row.number));
      for (const change of changes) expect(numbers, name).toContain(change.number);
    }
    expect(firstShopFile(examples).tools).toBeGreaterThan(2);
  });
});
