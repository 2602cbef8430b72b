/**
 * The program as a table of lines in chunks of at most 512. A chunk refers to a stretch of a longer text, so that opening
 * a program copies nothing; an edited chunk has a short text of its own.
 */

/** Most lines in a chunk. */
export const CHUNK_LINES = 512;

const CR = 13;
const LF = 10;

/** A run of whole lines. */
export class LineChunk {
  readonly source: string;
  /** Offset of the first character in `source`, and behind the last (line ends included). */
  readonly start: number;
  readonly end: number;
  /** Offsets of the lines counted from `start`. */
  private readonly starts: Uint16Array | Uint32Array;
  readonly lineCount: number;
  /** True if every line of the source ends with LF alone. */
  private readonly feedsOnly: boolean;

  constructor(source: string, start: number, end: number, starts: Uint16Array | Uint32Array, feedsOnly: boolean) {
    this.source = source;
    this.start = start;
    this.end = end;
    this.starts = starts;
    this.lineCount = starts.length;
    this.feedsOnly = feedsOnly;
  }

  /** Offset in `source` of the first character of line `line` (counted in the chunk). */
  lineStart(line: number): number {
    return this.start + this.starts[line];
  }

  /** Offset in `source` behind the line's last character, without its line end. */
  lineEnd(line: number): number {
    if (this.feedsOnly && line + 1 < this.lineCount) return this.start + this.starts[line + 1] - 1;
    const first = this.lineStart(line);
    let end = this.lineEndWithBreak(line);
    if (end > first && this.source.charCodeAt(end - 1) === LF) end--;
    if (end > first && this.source.charCodeAt(end - 1) === CR) end--;
    return end;
  }

  /** Offset in `source` behind the line, its line end included. */
  lineEndWithBreak(line: number): number {
    return line + 1 < this.lineCount ? this.start + this.starts[line + 1] : this.end;
  }

  /** Text of a line without its line end. */
  lineText(line: number): string {
    return this.source.slice(this.lineStart(line), this.lineEnd(line));
  }

  /** The chunk's text. */
  text(): string {
    return this.source.slice(this.start, this.end);
  }
}

/**
 * Cuts a text into chunks. CR, LF and CRLF end a line. Only where `last` is true the text's end makes a line of its own
 * (empty if the text ends with a line end), otherwise the text must end with a line end.
 */
export const splitIntoChunks = (source: string, last: boolean, linesInChunk: number = CHUNK_LINES): LineChunk[] => {
  return source.indexOf('\r') < 0
    ? splitAtFeeds(source, last, linesInChunk)
    : splitAtAnyEnd(source, last, linesInChunk);
};

/** For texts whose lines all end with LF: several times quicker than looking at each character. */
const splitAtFeeds = (source: string, last: boolean, linesInChunk: number): LineChunk[] => {
  const chunks: LineChunk[] = [];
  const starts = new Uint32Array(linesInChunk);
  let count = 0;
  let chunkStart = 0;
  let lineStart = 0;
  for (;;) {
    const feed = source.indexOf('\n', lineStart);
    if (feed < 0) break;
    starts[count++] = lineStart - chunkStart;
    lineStart = feed + 1;
    if (count < linesInChunk) continue;
    chunks.push(makeChunk(source, chunkStart, lineStart, starts, count, true));
    count = 0;
    chunkStart = lineStart;
  }
  closeLast(chunks, source, last, chunkStart, lineStart, starts, count);
  return chunks;
};

const splitAtAnyEnd = (source: string, last: boolean, linesInChunk: number): LineChunk[] => {
  const chunks: LineChunk[] = [];
  const starts = new Uint32Array(linesInChunk);
  let count = 0;
  let chunkStart = 0;
  let lineStart = 0;
  const length = source.length;
  for (let i = 0; i < length; i++) {
    const c = source.charCodeAt(i);
    if (c > CR || (c !== LF && c !== CR)) continue;
    if (c === CR && i + 1 < length && source.charCodeAt(i + 1) === LF) i++;
    starts[count++] = lineStart - chunkStart;
    lineStart = i + 1;
    if (count < linesInChunk) continue;
    chunks.push(makeChunk(source, chunkStart, lineStart, starts, count, false));
    count = 0;
    chunkStart = lineStart;
  }
  closeLast(chunks, source, last, chunkStart, lineStart, starts, count);
  return chunks;
};

/** The chunk that is still open at the text's end. */
const closeLast = (
  chunks: LineChunk[],
  source: string,
  last: boolean,
  chunkStart: number,
  lineStart: number,
  starts: Uint32Array,
  count: number,
): void => {
  if (last) {
    starts[count] = lineStart - chunkStart;
    chunks.push(makeChunk(source, chunkStart, source.length, starts, count + 1, false));
  } else if (count > 0) chunks.push(makeChunk(source, chunkStart, lineStart, starts, count, false));
};

/** A chunk with its line starts in the narrowest numbers that hold them. */
const makeChunk = (
  source: string,
  start: number,
  end: number,
  starts: Uint32Array,
  count: number,
  feedsOnly: boolean,
): LineChunk => {
  const used = starts.subarray(0, count);
  const lineStarts = starts[count - 1] > 0xffff ? new Uint32Array(used) : new Uint16Array(used);
  return new LineChunk(source, start, end, lineStarts, feedsOnly);
};
