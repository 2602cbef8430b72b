/** Edits of whole lines: another text for some lines of a program, which keeps its lines and their ends. */
import type { Analysis } from '../checks/analysis.ts';

/** Another text for a stretch of one line; line and columns from 0, the end exclusive. */
export interface LineChange {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  readonly text: string;
}

/** Why nothing is changed, in a sentence or two, and the line that it is about (from 0; −1 none). */
export interface Refusal {
  readonly line: number;
  readonly why: string;
}

/** What is to be changed, or why nothing is. Changes in the order of their lines. */
export type Outcome = { readonly changes: readonly LineChange[] } | { readonly refusal: Refusal };

/** Lines read and written without a pause. */
export const BATCH = 500;

/** Longer programs are not executed a second time for the sake of their looks, lines. */
export const LONGEST = 300_000;

/** What differs between two texts of a line: as little as one stretch can hold. */
export const lineChange = (line: number, before: string, after: string): LineChange => {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start++;
  let same = 0;
  while (same < most - start && before[before.length - 1 - same] === after[after.length - 1 - same]) same++;
  return { line, column: start, endColumn: before.length - same, text: after.slice(start, after.length - same) };
};

/** The program's text with changes, at most one a line, in the order of their lines. */
export const changedText = (analysis: Analysis, changes: readonly LineChange[]): string => {
  const parts: string[] = [];
  let next = 0;
  for (let index = 0; index < analysis.chunks.length; index++) {
    const chunk = analysis.chunkText(index);
    const firstLine = analysis.chunkFirstLine(index);
    let at = chunk.start;
    for (; next < changes.length && changes[next].line < firstLine + chunk.lineCount; next++) {
      const { line, column, endColumn, text } = changes[next];
      const start = chunk.lineStart(line - firstLine);
      parts.push(chunk.source.slice(at, start + column), text);
      at = start + endColumn;
    }
    parts.push(chunk.source.slice(at, chunk.end));
  }
  return parts.join('');
};

/** A number of lines as it stands in a sentence: 312,000. */
export const counted = (count: number): string => String(count).replace(/\B(?=(\d{3})+$)/g, ',');
