/**
 * The path of a program with jumps, loops and calls in the order of its run: the chunks that run straight on as they are,
 * then what the run passed through, some thousand moves together.
 */
import type { PathChunk, PathSegment, PathSource } from './pathPieces.ts';

/** What an analysis tells of such a run. */
export interface FlowPaths {
  /** Chunks before the first jump, loop or call. */
  readonly straightChunks: number;
  passages(): Iterable<{ readonly segment: Omit<PathSegment, 'firstLine'>; readonly firstLine: number }>;
}

/** Moves that go together. */
const MOVES_TOGETHER = 20_000;

interface Together extends PathChunk {
  readonly parts: readonly { readonly segment: object; readonly firstLine: number }[];
}

/** See the top of the file. */
export class FlowPathSource implements PathSource {
  chunks: readonly PathChunk[] = [];
  private readonly analysis: PathSource & FlowPaths;
  private together: readonly Together[] = [];

  constructor(analysis: PathSource & FlowPaths) {
    this.analysis = analysis;
  }

  /** The pool of the analysis as it is now: another configuration brings another one. */
  get modePool(): PathSource['modePool'] {
    return this.analysis.modePool;
  }

  chunkFirstLine(index: number): number {
    return this.chunks[index].inFlow ? 0 : this.analysis.chunkFirstLine(index);
  }

  /** Takes the run as it is now; what is the same as before stays the same chunk. */
  update(): void {
    const { analysis } = this;
    const straight = analysis.chunks.slice(0, analysis.straightChunks);
    const groups: Together[] = [];
    let parts: { segment: Omit<PathSegment, 'firstLine'>; firstLine: number }[] = [];
    let moves = 0;
    const close = (): void => {
      if (parts.length === 0) return;
      const known = this.together[groups.length];
      groups.push(known !== undefined && isSame(known.parts, parts) ? known : togetherOf(parts));
      parts = [];
      moves = 0;
    };
    let passed = 0;
    for (const { segment, firstLine } of analysis.passages()) {
      if (passed++ < straight.length || segment.moves.count === 0) continue;
      parts.push({ segment, firstLine });
      moves += segment.moves.count;
      if (moves >= MOVES_TOGETHER) close();
    }
    close();
    this.together = groups;
    this.chunks = [...straight, ...groups];
  }
}

const isSame = (a: Together['parts'], b: Together['parts']): boolean =>
  a.length === b.length && a.every((part, i) => part.segment === b[i].segment && part.firstLine === b[i].firstLine);

const togetherOf = (parts: { segment: Omit<PathSegment, 'firstLine'>; firstLine: number }[]): Together => ({
  version: 1,
  lineCount: 0,
  inFlow: true,
  segments: parts.map(({ segment, firstLine }) => ({ ...picked(segment), firstLine })),
  parts,
});

/** A segment's own line is one of its chunk: here it counts from the program. */
const picked = ({
  entry,
  moves,
  contour,
  pass,
  facts,
  blockCount,
  again,
  stops,
}: Omit<PathSegment, 'firstLine'>): PathSegment => ({
  entry,
  moves,
  contour,
  ...(pass === undefined ? {} : { pass }),
  ...(facts === undefined ? {} : { facts }),
  ...(blockCount === undefined ? {} : { blockCount }),
  ...(again && { again }),
  ...(stops && { stops }),
});
