/**
 * A segment: one straight stretch executed once, with all that came of it. Lines are counted from the segment's first
 * line, so that a segment stays true when lines are inserted above it.
 */
import type { MoveTable } from '../machine/moves.ts';
import type { VariableName } from '../syntax/variables.ts';
import type { Fact } from './facts.ts';
import type { KeptNotes } from './passNotes.ts';
import type { Fix, MessageData } from './rule.ts';

/** A state at the head of a segment. */
export interface SegmentEntry {
  /** Id of the modes. */
  readonly modes: number;
  /** Where the tool stands: work coordinates of X Y Z A B C U V W, mm and degrees; NaN unknown. */
  readonly position: Float64Array;
  readonly variables: ReadonlyMap<VariableName, number>;
  /** Direction of the last cut. */
  readonly tangent: Float64Array;
  /** What radius compensation holds back until it knows what follows, and the programmed position; empty where `position` is the programmed one. */
  readonly openMoves: Float64Array;
}

/** A finding as a segment keeps it; its words are made when somebody reads it. */
export interface SegmentFinding {
  /** Place of the rule in the register. */
  readonly rule: number;
  readonly message: string;
  /** Line it is about, and columns (UTF-16, from 0). */
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  readonly data: MessageData;
  readonly fixes: readonly Fix[];
  /** Where it is in the file of a called program (line from 0); the place above is then that of the call. */
  readonly origin?: { readonly program: number; readonly line: number };
}

/** Bits of `Segment.lineFlags`. */
export const LineFlag = {
  /** A length with a point; a length without one (only where the profile counts increments). */
  point: 1,
  noPoint: 2,
  /** The block assigns variables or sets work offsets: a restart behind it begins at the segment's head. */
  assigns: 4,
  /** The block has an arc: rules look at its neighbours. */
  arc: 8,
  /** A rule looked back at the direction of the move before. */
  looksBack: 16,
  /** Behind the block radius compensation waits for what follows, or the cutter stands aside of the contour. */
  open: 32,
} as const;

/** An arc that doubles back: its line in the segment, and its direction. */
export interface SuspectArc {
  readonly line: number;
  readonly clockwise: boolean;
}

/** What came of executing a stretch once. */
export interface Segment extends KeptNotes {
  readonly entry: SegmentEntry;
  /** Its first line, counted from the chunk's first line, and which pass through these lines it is (1 is the first). */
  readonly firstLine: number;
  readonly pass: number;
  readonly blockCount: number;
  /** Id of the modes behind each block. */
  readonly modesAfter: Uint32Array;
  readonly lineFlags: Uint8Array;
  /** The path of the tool; under radius compensation that of the cutter's centre. A move belongs to the segment in which it became certain. */
  readonly moves: MoveTable;
  /** The programmed contour, where radius compensation leads the cutter beside it. A stretch begins with a `renamed` move at its start. */
  readonly contour: MoveTable | undefined;
  /** `SegmentEntry.openMoves` behind the segment, lines counted from its end. */
  readonly openAfter: Float64Array;
  readonly findings: readonly SegmentFinding[];
  readonly facts: readonly Fact[];
  /** Bit by kind of the facts in it. */
  readonly factKinds: number;
  /** Or of all line flags. */
  readonly flags: number;
  /** What rules found in it, each at its own place: see `perSegment`. */
  kept?: unknown[] | undefined;
  /** Arcs that double back, kept for as long as the segment behind stays the same. */
  suspectArcs?: { readonly next: Segment | undefined; readonly arcs: readonly SuspectArc[] };
}
