import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../../tests/harness/ruleTester.ts';
import { BLOCKS } from '../../blocks/registry.ts';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';

/** What is told of a block of a kind made for a cutter of 10 with a sharp corner, where the table has one with a radius. */
const told = (name: string): string[] => {
  const tools = [{ number: 1, kind: 'end-mill', diameter: 10, cornerRadius: 1 }] as const;
  const marker = name.toUpperCase();
  const program = `T1 M6\n( BLOCKWRIGHT-BLOCK ${marker} TOOL=10 )\n( BLOCKWRIGHT-END ${marker} BODY=1 FOR=2 )\nM30`;
  return findingsOf(program, { ...DEFAULT_CONFIGURATION, tools })
    .filter(({ rule }) => rule === 'generated-block-stale')
    .map(({ message }) => message);
};

const hasCorner = BLOCKS.filter(({ parameters }) => parameters.some(({ name }) => name === 'corner-radius'));

describe('blocks made for another corner radius', () => {
  it.each(hasCorner)('$name: without a value it was made for a sharp corner', ({ name, parameters }) => {
    expect(parameters.find((parameter) => parameter.name === 'corner-radius')?.fallback).toBe('0');
    expect(told(name)).toHaveLength(1);
    expect(told(name)[0]).toContain('a corner radius of 0, and tool 1 has 1');
  });

  it.each(BLOCKS.filter((kind) => !hasCorner.includes(kind)))('$name has none', ({ name }) => {
    expect(told(name)).toEqual([]);
  });
});
