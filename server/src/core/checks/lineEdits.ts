/** Edits of the chunked line table: which chunks an edit replaces, and which lines of a chunk it changed. */
import { CHUNK_LINES, type LineChunk, splitIntoChunks } from '../text/lineChunk.ts';
import type { ChangedLines } from './chunkRun.ts';

/** A chunk of lines replaced by others. */
export interface ChunkEdit {
  /** Chunks [from, to) are replaced by `pieces`. */
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly LineChunk[];
  /** Lines that changed where exactly one chunk became one. */
  readonly changed: ChangedLines | undefined;
}

const CR = 13;
const LF = 10;

const endsLine = (text: string): boolean => {
  const last = text.charCodeAt(text.length - 1);
  return last === LF || last === CR;
};

const firstCharacter = (chunk: LineChunk): number =>
  chunk.end > chunk.start ? chunk.source.charCodeAt(chunk.start) : 0;
const lastCharacter = (chunk: LineChunk): number =>
  chunk.end > chunk.start ? chunk.source.charCodeAt(chunk.end - 1) : 0;

/** Splits a text into chunks of about equal size, so that typing at a full chunk's end does not leave crumbs. */
const splitEvenly = (text: string, last: boolean): LineChunk[] => {
  const pieces = splitIntoChunks(text, last);
  if (pieces.length !== 2) return pieces;
  const lines = pieces[0].lineCount + pieces[1].lineCount;
  return splitIntoChunks(text, last, Math.ceil(lines / 2));
};

/**
 * Replaces the text between two places (line in its chunk, column) by `text`. Columns are clamped to their lines.
 * CR and LF that meet become one line end.
 */
export const editChunks = (
  list: readonly { readonly text: LineChunk }[],
  first: { chunk: number; line: number; column: number },
  end: { chunk: number; line: number; column: number },
  text: string,
): ChunkEdit => {
  const offset = (place: typeof first): number => {
    const chunk = list[place.chunk].text;
    return Math.min(chunk.lineStart(place.line) + Math.max(0, place.column), chunk.lineEnd(place.line));
  };
  const firstChunk = list[first.chunk].text;
  const prefix = firstChunk.source.slice(firstChunk.start, offset(first));
  const endChunk = list[end.chunk].text;
  const suffix = endChunk.source.slice(offset(end), endChunk.end);
  let combined = prefix + text + suffix;
  let from = first.chunk;
  let to = end.chunk + 1;
  while (from > 0 && combined.charCodeAt(0) === LF && lastCharacter(list[from - 1].text) === CR) {
    combined = list[--from].text.text() + combined;
  }
  while (
    to < list.length &&
    ((combined !== '' && !endsLine(combined)) ||
      (combined.charCodeAt(combined.length - 1) === CR && firstCharacter(list[to].text) === LF))
  ) {
    combined += list[to++].text.text();
  }
  const last = to === list.length;
  const pieces = combined === '' && !last ? [] : splitEvenly(combined, last);
  const single = to - from === 1 && pieces.length === 1 && pieces[0].lineCount <= CHUNK_LINES;
  const changed = single ? changedLines(firstChunk, pieces[0], prefix, text + suffix, first.line, end.line) : undefined;
  return { from, to, pieces, changed };
};

const changedLines = (
  before: LineChunk,
  after: LineChunk,
  prefix: string,
  rest: string,
  firstLine: number,
  endLine: number,
): ChangedLines => {
  const joins = prefix.charCodeAt(prefix.length - 1) === CR && rest.charCodeAt(0) === LF;
  const start = joins ? Math.max(0, firstLine - 1) : firstLine;
  const oldEnd = endLine + 1;
  return { start, oldEnd, newEnd: Math.max(start, oldEnd + after.lineCount - before.lineCount) };
};

/** Two changes one after the other as one: the second speaks of lines as the first left them. */
export const mergeChanges = (first: ChangedLines | undefined, second: ChangedLines): ChangedLines => {
  if (first === undefined) return second;
  const grown = first.newEnd - first.oldEnd;
  const start = Math.min(first.start, second.start);
  const oldEnd = Math.max(first.oldEnd, second.oldEnd - grown);
  const newEnd = Math.max(first.newEnd, second.oldEnd) + second.newEnd - second.oldEnd;
  return { start, oldEnd, newEnd };
};
