// The lines of both texts come back from their difference, and nothing that stays is told as changed.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { changesOf, difference } from './difference.ts';

const signed = (before: string, after: string): string =>
  difference([...before], [...after])
    .map(({ sign, text }) => sign + text)
    .join('');

it('tells what goes and what comes', () => {
  expect(signed('abc', 'abc')).toBe(' a b c');
  expect(signed('abc', 'axc')).toBe(' a−b+x c');
  expect(signed('abc', 'ac')).toBe(' a−b c');
  expect(signed('ac', 'abc')).toBe(' a+b c');
  expect(signed('', 'a')).toBe('+a');
  expect(signed('a', '')).toBe('−a');
  // A line of a hand goes, though the lines about it change as well.
  expect(signed('mhxye', 'nxze')).toBe('−m−h+n x−y+z e');
});

it('gives both texts back, with as many lines as can be that stay', () => {
  const lines = fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { maxLength: 12 });
  fc.assert(
    fc.property(lines, lines, (before, after) => {
      const all = difference(before, after);
      const only = (left: string): string[] => all.flatMap(({ sign, text }) => (sign === left ? [] : [text]));
      expect(only('+')).toEqual(before);
      expect(only('−')).toEqual(after);
      expect(all.filter(({ sign }) => sign === ' ').length).toBe(longestCommon(before, after));
    }),
    { seed: 1, numRuns: 2000 },
  );
});

it('tells long middles as all gone and all come', () => {
  const before = Array.from({ length: 1600 }, (_, i) => `a${i}`);
  const after = Array.from({ length: 1600 }, (_, i) => `b${i}`);
  expect(
    difference(['head', ...before], ['head', ...after])
      .map(({ sign }) => sign)
      .join(''),
  ).toBe(` ${'−'.repeat(1600)}${'+'.repeat(1600)}`);
});

it('leaves out what stays far from any change, and says how much', () => {
  const text = (before: string, after: string): string =>
    changesOf(difference([...before], [...after]))
      .map(({ sign, text: line }) => (sign === '…' ? `[${line}]` : sign + line))
      .join('');
  expect(text('abcdefghij', 'abcdeXghij')).toBe('[… 3 lines stay …] d e−f+X g h[… 2 lines stay …]');
  expect(text('abc', 'abX')).toBe(' a b−c+X');
  expect(text('abcd', 'abcd')).toBe('[… 4 lines stay …]');
});

/** By trying all, for short texts. */
function longestCommon(a: readonly string[], b: readonly string[]): number {
  let row = new Array<number>(b.length + 1).fill(0);
  for (const one of a) {
    const next = [0];
    for (const [j, other] of b.entries()) {
      next.push(one === other ? row[j]! + 1 : Math.max(row[j + 1]!, next[j]!));
    }
    row = next;
  }
  return row[b.length]!;
}
