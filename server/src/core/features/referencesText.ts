/** The text of a program as searches read it: one that is analysed, or a file beside it that is not. */
import type { Analysis } from '../checks/analysis.ts';
import { ProgramLayout } from '../checks/flow/layout.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import { type LineChunk, splitIntoChunks } from '../text/lineChunk.ts';
import { type ChunkDigest, digestOf } from './modeOriginDigest.ts';

/** A place in a text: line and columns from 0. */
export interface TextSpan {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
}

/** See the top of the file. */
export interface ProgramText {
  readonly profile: ControlProfile;
  readonly lineCount: number;
  readonly layout: ProgramLayout;
  readonly chunkCount: number;
  chunkText(index: number): LineChunk;
  chunkFirstLine(index: number): number;
  lineText(line: number): string;
}

/** The text of an analysed program. */
export const textOfAnalysis = (analysis: Analysis, profile: ControlProfile): ProgramText => ({
  profile,
  get lineCount() {
    return analysis.lineCount;
  },
  get layout() {
    return analysis.layout;
  },
  get chunkCount() {
    return analysis.chunks.length;
  },
  chunkText: (index) => analysis.chunkText(index),
  chunkFirstLine: (index) => analysis.chunkFirstLine(index),
  lineText: (line) => analysis.lineText(line),
});

/** A file's text, under the profile of the program that it is looked at for. */
export const textOfFile = (source: string, profile: ControlProfile): ProgramText => {
  const chunks = splitIntoChunks(source, true);
  const firstLines: number[] = [0];
  for (const { lineCount } of chunks) firstLines.push(firstLines[firstLines.length - 1] + lineCount);
  const lineCount = firstLines[chunks.length];
  let layout: ProgramLayout | undefined;
  return {
    profile,
    lineCount,
    get layout() {
      layout ??= new ProgramLayout(chunks, (index) => firstLines[index], lineCount, profile);
      return layout;
    },
    chunkCount: chunks.length,
    chunkText: (index) => chunks[index],
    chunkFirstLine: (index) => firstLines[index],
    lineText: (line) => {
      const behind = firstLines.findIndex((first) => first > line);
      const index = behind < 0 ? chunks.length - 1 : behind - 1;
      return chunks[index].lineText(line - firstLines[index]);
    },
  };
};

/** Chunks that are looked through between two pauses. */
const BATCH = 8;

/**
 * Reads the blocks of all lines that may hold something, first by chunk, then by line, in order; pauses now and then.
 * Values of variables are not known in them. `visit` returns true to end the search.
 */
export function* visitBlocks(
  text: ProgramText,
  mayHold: (digest: ChunkDigest) => boolean,
  holds: RegExp,
  visit: (block: Block, line: number) => boolean | undefined,
): Generator<undefined, void> {
  const reader = new BlockReader(text.profile);
  const block = new Block();
  for (let index = 0; index < text.chunkCount; index++) {
    if (index % BATCH === BATCH - 1) yield undefined;
    const chunk = text.chunkText(index);
    if (!mayHold(digestOf(chunk))) continue;
    const first = text.chunkFirstLine(index);
    for (let line = 0; line < chunk.lineCount; line++) {
      if (!holds.test(chunk.lineText(line))) continue;
      reader.read(chunk.source, chunk.lineStart(line), chunk.lineEnd(line), block, undefined);
      if (visit(block, first + line)) return;
    }
  }
}

/** Runs a search to its end at once. */
export const allOf = <Result>(search: Generator<undefined, Result>): Result => {
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
  }
};
