/** The lines that are run at once, with what came of it. */
import type { LineChunk } from '../text/lineChunk.ts';
import type { ChangedLines } from './chunkRun.ts';
import type { Finding } from './findings.ts';
import type { FlowChunk } from './flow/places.ts';
import type { TextPassage } from './programFacts.ts';
import type { Segment, SegmentEntry, SegmentFinding } from './segment.ts';

/** Lines of a program. Where it runs straight on, the one segment that came of executing them; see `passages` for the rest. */
export interface Chunk {
  readonly lineCount: number;
  readonly segments: readonly Segment[];
  /** Changes whenever the chunk's moves do. */
  readonly version: number;
}

/** A chunk as the run keeps it. */
export class RunChunk implements Chunk, FlowChunk {
  text: LineChunk;
  /** Place in the list of chunks. */
  index = 0;
  /** Lines that a run with jumps never reached, read for mistakes in writing; undefined until then. */
  reads: readonly Segment[] | undefined;
  segment: Segment | undefined;
  exit: SegmentEntry | undefined;
  changed: ChangedLines | undefined;
  /** Must be run (again): text or state at its head changed. */
  dirty = true;
  version = 0;
  /** Rendered findings by the segment's own, kept while their line stays. */
  rendered: WeakMap<SegmentFinding, Finding> | undefined;

  private passage: ChunkPassage | undefined;

  constructor(text: LineChunk) {
    this.text = text;
  }

  /** Its one segment in the order of the run, where it has one: the same object as long as nothing changes. */
  passageAt(firstLine: number): ChunkPassage | undefined {
    const { passage, segment, text } = this;
    if (segment === undefined) return undefined;
    if (
      passage !== undefined &&
      passage.segment === segment &&
      passage.text === text &&
      passage.firstLine === firstLine
    )
      return passage;
    this.passage = { chunk: this, text, inChunk: 0, segment, firstLine };
    return this.passage;
  }

  get lineCount(): number {
    return this.text.lineCount;
  }

  get segments(): readonly Segment[] {
    return this.segment === undefined ? [] : [this.segment];
  }

  /** Forgets what came of running it. */
  forget(): void {
    this.segment = undefined;
    this.passage = undefined;
    this.exit = undefined;
    this.changed = undefined;
    this.reads = undefined;
    this.dirty = true;
  }
}

/** A segment of the run with the chunk that it belongs to. */
export interface ChunkPassage extends TextPassage {
  readonly chunk: RunChunk;
}
