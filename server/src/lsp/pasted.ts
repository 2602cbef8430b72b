/** The lines that were put in at once last: pasted, most likely from another program. */
import type { TextChange } from './params.ts';

/** Lines from 0, both included. */
export interface PastedLines {
  readonly firstLine: number;
  readonly lastLine: number;
}

/**
 * The pasted lines after a message of changes. Lines move with what is changed above them; a change across their border, or
 * several at once among them, as a repair makes them, and they are pasted lines no longer.
 */
export const pastedAfter = (
  pasted: PastedLines | undefined,
  changes: readonly TextChange[],
): PastedLines | undefined => {
  if (changes.length === 1) {
    const fresh = pastedBy(changes[0]);
    if (fresh !== undefined) return fresh;
  }
  let lines = pasted;
  for (const change of changes) lines = lines && movedBy(lines, change, changes.length > 1);
  return lines;
};

/** What one change puts in, where that is two lines with something in them, or more. */
const pastedBy = ({ range, text }: TextChange): PastedLines | undefined => {
  if (range === undefined || text.includes('BLOCKWRIGHT-BLOCK')) return undefined;
  const lines = text.split(/\r?\n/);
  if (lines.filter((line) => line.trim() !== '').length < 2) return undefined;
  const last = lines.length - 1 - (lines[lines.length - 1].trim() === '' ? 1 : 0);
  return { firstLine: range.start.line, lastLine: range.start.line + last };
};

const movedBy = (lines: PastedLines, { range, text }: TextChange, isOneOfMany: boolean): PastedLines | undefined => {
  if (range === undefined) return undefined;
  const { firstLine, lastLine } = lines;
  const { start, end } = range;
  if (start.line > lastLine) return lines;
  const grown = text.split('\n').length - 1 - (end.line - start.line);
  const isAbove = end.line < firstLine || (end.line === firstLine && end.character === 0 && start.line < firstLine);
  if (isAbove) return { firstLine: firstLine + grown, lastLine: lastLine + grown };
  if (start.line < firstLine || end.line > lastLine || isOneOfMany) return undefined;
  return { firstLine, lastLine: lastLine + grown };
};
