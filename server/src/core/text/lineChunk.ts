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

  constructor(source: string, start: number, end: number, starts: Uint16Array | Uint32Array) {
    this.source = source;
    this.start = start;
    this.end = end;
    this.starts = starts;
    this.lineCount = starts.length;
  }

  /** Offset in `source` of the first character of line `line` (counted in the chunk). */
  lineStart(line: number): number {
    return this.start + this.starts[line];
  }

  /** Offset in `source` behind the line's last character, without its line end. */
  lineEnd(line: number): number {
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
  const chunks: LineChunk[] = [];
  const starts = new Uint32Array(linesInChunk);
  let count = 0;
  let chunkStart = 0;
  let lineStart = 0;
  const close = (end: number): void => {
    const wide = lineStart - chunkStart > 0xffff;
    chunks.push(
      new LineChunk(
        source,
        chunkStart,
        end,
        wide ? starts.slice(0, count) : Uint16Array.from(starts.subarray(0, count)),
      ),
    );
    count = 0;
    chunkStart = end;
  };
  const length = source.length;
  for (let i = 0; i < length; i++) {
    const c = source.charCodeAt(i);
    if (c > CR || (c !== LF && c !== CR)) continue;
    if (c === CR && i + 1 < length && source.charCodeAt(i + 1) === LF) i++;
    starts[count++] = lineStart - chunkStart;
    if (count === linesInChunk) close(i + 1);
    lineStart = i + 1;
  }
  if (last) {
    if (count === 0) chunkStart = lineStart;
    starts[count++] = lineStart - chunkStart;
    close(length);
  } else if (count > 0) close(lineStart);
  return chunks;
};
