import { describe, expect, test } from 'vitest';
import type { TextChange } from './params.ts';
import { pastedAfter } from './pasted.ts';

const change = (from: readonly [number, number], to: readonly [number, number], text: string): TextChange => ({
  range: { start: { line: from[0], character: from[1] }, end: { line: to[0], character: to[1] } },
  text,
});
const PASTE = change([5, 0], [5, 0], 'X1.\nY2.\nX3.\n');
const PASTED = { firstLine: 5, lastLine: 7 };

describe('lines that were pasted', () => {
  test.each([
    ['two lines or more', PASTE, PASTED],
    ['behind something', change([5, 4], [5, 4], '\nX1.\r\nY2.'), { firstLine: 5, lastLine: 7 }],
    ['one line with its end', change([5, 0], [5, 0], 'X1.\n'), undefined],
    ['a line end', change([5, 4], [5, 4], '\n\n'), undefined],
    ['a generated block', change([5, 0], [5, 0], '( BLOCKWRIGHT-BLOCK HOLES )\nX1.\nY2.\n'), undefined],
    ['a whole text', { range: undefined, text: 'X1.\nY2.' }, undefined],
  ])('%s', (_what, one, expected) => {
    expect(pastedAfter(undefined, [one])).toEqual(expected);
  });

  test.each([
    ['a line comes in above', [change([2, 0], [2, 0], 'M8\n')], { firstLine: 6, lastLine: 8 }],
    ['a line goes right above', [change([4, 0], [5, 0], '')], { firstLine: 4, lastLine: 6 }],
    ['something is typed among them', [change([6, 3], [6, 3], '5')], PASTED],
    ['a line is begun among them', [change([6, 3], [6, 3], '\n')], { firstLine: 5, lastLine: 8 }],
    ['something is typed below', [change([9, 0], [9, 0], 'M5\n')], PASTED],
    ['the border is changed', [change([4, 2], [6, 1], '')], undefined],
    ['several are changed at once', [change([5, 1], [5, 2], '2'), change([6, 1], [6, 2], '5')], undefined],
    ['the whole text is another', [{ range: undefined, text: '' }], undefined],
    ['others are pasted', [change([0, 0], [0, 0], 'X1.\nX2.')], { firstLine: 0, lastLine: 1 }],
  ])('where %s', (_what, changes, expected) => {
    expect(pastedAfter(PASTED, changes)).toEqual(expected);
  });
});
