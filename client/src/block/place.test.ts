// Where a block goes, and where its place goes while the text about it is edited: against edits of a real text.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Edit, editFor, moved, type Place, placeAt } from './place.ts';

const linesOf = (text: string) => {
  const lines = text.split('\n');
  return { lineCount: lines.length, lineText: (line: number) => lines[line] ?? '' };
};

/** The text after an edit, by plain cutting. */
const applied = (text: string, { fromLine, fromColumn, toLine, toColumn, text: by }: Edit): string => {
  const lines = text.split('\n');
  const offset = (line: number, column: number) =>
    lines.slice(0, line).join('\n').length + (line > 0 ? 1 : 0) + Math.min(column, lines[line]!.length);
  return text.slice(0, offset(fromLine, fromColumn)) + by + text.slice(offset(toLine, toColumn));
};

describe('the place of a block', () => {
  it('is an empty line, the line before which the cursor stands, or behind the line it is in', () => {
    expect(placeAt(3, 0, true)).toEqual({ line: 3, replaced: 1 });
    expect(placeAt(3, 0, false)).toEqual({ line: 3, replaced: 0 });
    expect(placeAt(3, 5, false)).toEqual({ line: 4, replaced: 0 });
  });

  it('is written in whole lines', () => {
    const block = ['B1', 'B2'];
    const write = (text: string, place: Place) => applied(text, editFor(place, block, linesOf(text), '\n'));
    expect(write('a\n\nc\n', { line: 1, replaced: 1 })).toBe('a\nB1\nB2\nc\n');
    expect(write('a\nc\n', { line: 1, replaced: 0 })).toBe('a\nB1\nB2\nc\n');
    expect(write('a\nx\ny\nc\n', { line: 1, replaced: 2 })).toBe('a\nB1\nB2\nc\n');
    // At the end, with and without a line end there.
    expect(write('a\n', { line: 1, replaced: 1 })).toBe('a\nB1\nB2\n');
    expect(write('a', { line: 1, replaced: 0 })).toBe('a\nB1\nB2\n');
    expect(write('', { line: 0, replaced: 1 })).toBe('B1\nB2\n');
  });

  it('goes along with the lines about it', () => {
    const line = fc.constantFrom('a', 'bb', '');
    const texts = fc.array(line, { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(texts, fc.array(line, { maxLength: 4 }), fc.nat(7), fc.nat(3), (before, coming, at, cut) => {
        // Whole lines `at` to `at + cut` give way to others; the block's place are the lines 4 and 5.
        const end = Math.min(before.length, at + cut);
        const after = [...before.slice(0, at), ...coming, ...before.slice(end)];
        const change = { startLine: at, endLine: end, endColumn: 0, newLines: coming.length };
        const place = moved({ line: 4, replaced: 2 }, change);
        if (end <= 4 && at < 4) {
          expect(place).toEqual({ line: 4 + after.length - before.length, replaced: 2, touched: false });
        } else if (at >= 6) {
          expect(place).toEqual({ line: 4, replaced: 2, touched: false });
        } else {
          expect(place.touched).toBe(true);
          expect(place.line).toBe(Math.min(4, at));
        }
      }),
      { seed: 3, numRuns: 3000 },
    );
  });

  it('knows when its own lines are typed in', () => {
    const typed = { startLine: 4, endLine: 4, endColumn: 2, newLines: 0 };
    expect(moved({ line: 4, replaced: 1 }, typed)).toEqual({ line: 4, replaced: 1, touched: true });
    expect(moved({ line: 4, replaced: 1 }, { ...typed, newLines: 2 })).toEqual({ line: 4, replaced: 3, touched: true });
    expect(moved({ line: 5, replaced: 0 }, { ...typed, newLines: 2 })).toEqual({
      line: 7,
      replaced: 0,
      touched: false,
    });
  });
});
