/** Random edits of a program, the same from the same seed. */
import type { Analysis } from '../../server/src/core/checks/analysis.ts';

/** One of a list. */
export const pick = <T>(random: () => number, list: readonly T[]): T => list[Math.floor(random() * list.length)];

/** A text of `lines` lines made of the pieces. */
export const pieces = (random: () => number, list: readonly string[], lines: number): string =>
  Array.from({ length: lines }, () => pick(random, list)).join('');

/** One random edit, applied to the analysis and, by offsets, to a plain string. */
export const editAtRandom = (
  random: () => number,
  analysis: Analysis,
  text: string,
  list: readonly string[],
): string => {
  const lines = text.split(/\r\n|\r|\n/);
  const startLine = Math.floor(random() * lines.length);
  const wide = random();
  const endLine =
    wide < 0.7 ? startLine : Math.min(lines.length - 1, startLine + Math.floor(random() * (wide > 0.98 ? 900 : 4)));
  const startColumn = Math.floor(random() * (lines[startLine].length + 1));
  const endColumn =
    endLine === startLine
      ? Math.min(lines[endLine].length, startColumn + Math.floor(random() * 6))
      : Math.floor(random() * (lines[endLine].length + 1));
  const inserted =
    random() < 0.15
      ? ''
      : random() < 0.97
        ? pieces(random, list, 1 + Math.floor(random() * 3))
        : pieces(random, list, 700);
  analysis.edit(startLine, startColumn, endLine, endColumn, inserted);
  const offset = (line: number, column: number): number => {
    const ends = /\r\n|\r|\n/g;
    let start = 0;
    for (let i = 0; i < line; i++) {
      ends.exec(text);
      start = ends.lastIndex;
    }
    return start + column;
  };
  return text.slice(0, offset(startLine, startColumn)) + inserted + text.slice(offset(endLine, endColumn));
};
