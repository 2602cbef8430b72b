/** Cutting a text into chunks of lines. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CHUNK_LINES, type LineChunk, splitIntoChunks } from './lineChunk.ts';

const lines = (chunks: readonly LineChunk[]): string[] =>
  chunks.flatMap((chunk) =>
    Array.from({ length: chunk.lineCount }, (_, i) => chunk.source.slice(chunk.lineStart(i), chunk.lineEnd(i))),
  );

describe('lines', () => {
  it.each<[string, string[]]>([
    ['', ['']],
    ['G0', ['G0']],
    ['G0\n', ['G0', '']],
    ['G0\nX1', ['G0', 'X1']],
    ['G0\r\nX1\r\n', ['G0', 'X1', '']],
    ['G0\rX1\r', ['G0', 'X1', '']],
    ['G0\n\rX1', ['G0', '', 'X1']],
    ['\r\n\n\r', ['', '', '', '']],
    ['A\rB\nC\r\nD', ['A', 'B', 'C', 'D']],
  ])('of %j', (text, expected) => {
    expect(lines(splitIntoChunks(text, true))).toEqual(expected);
  });

  it('are those of a plain split at CR, LF and CRLF, whole, in chunks of at most so many', () => {
    const text = fc
      .array(fc.constantFrom('\n', '\r', '\r\n', 'X1', 'G0 ', '(A)', 'é'), { maxLength: 80 })
      .map((pieces) => pieces.join(''));
    fc.assert(
      fc.property(text, fc.integer({ min: 1, max: 7 }), (source, most) => {
        const chunks = splitIntoChunks(source, true, most);
        expect(lines(chunks)).toEqual(source.split(/\r\n|\r|\n/));
        expect(chunks.map((chunk) => chunk.text()).join('')).toBe(source);
        for (const chunk of chunks) expect(chunk.lineCount).toBeLessThanOrEqual(most);
      }),
      { numRuns: 2000, seed: 3 },
    );
  });

  it('a text that is not the last one has no line behind its last line end', () => {
    expect(lines(splitIntoChunks('G0\nX1\n', false))).toEqual(['G0', 'X1']);
    expect(lines(splitIntoChunks('G0\rX1\r', false))).toEqual(['G0', 'X1']);
    expect(splitIntoChunks('', false)).toEqual([]);
  });

  it('a chunk is full at 512 lines, and holds long lines too', () => {
    const chunks = splitIntoChunks('X1\n'.repeat(CHUNK_LINES + 1), true);
    expect(chunks.map(({ lineCount }) => lineCount)).toEqual([CHUNK_LINES, 2]);
    const long = `${'9'.repeat(70_000)}\nX1\nX2`;
    expect(lines(splitIntoChunks(long, true)).slice(1)).toEqual(['X1', 'X2']);
  });
});
