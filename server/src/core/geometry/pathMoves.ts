/**
 * The moves that a path is built from, and how many vertices they give: counted from the arcs alone, before anything is
 * filled.
 */

/** What the path builder does with a kind of move. */
export const Treatment = {
  /** Nothing moves. */
  hold: 0,
  rapid: 1,
  line: 2,
  arc: 3,
  /** The position has other numbers from here on: a new line starts. */
  renamed: 4,
} as const;

/** The moves of a segment, as far as the path needs them; see `machine/moves.ts`. */
export interface PathMoves {
  readonly count: number;
  /** X Y Z of each end point, mm, NaN unknown. */
  readonly ends: Float64Array;
  /** Lines from the segment's first line. */
  readonly lines: Int32Array;
  readonly kinds: Uint8Array;
  readonly modes: Uint32Array;
  readonly extraCount: number;
  /** Moves with extra numbers, ascending. */
  readonly extraMoves: Uint32Array;
  /** Of an arc: centre (first and second axis of the plane), radius at start and end, sweep in radians. */
  readonly extras: Float64Array;
}

/** Numbers kept for an arc. */
export const EXTRAS = 5;
/** Greatest distance between a chord and its arc, mm, as far as the finest step allows. */
const CHORD_TOLERANCE = 0.008;
const FINEST_STEP = Math.PI / 180;
const COARSEST_STEP = Math.PI / 4;
/** Bound on the chords of one move: an arc of more than about 4,000 turns gets coarser than 8 chords a turn. */
const MAX_CHORDS = 32_768;

/** Number of chords of an arc: radius in mm, sweep in radians. 1 where the arc is not known. */
export function chordCount(radius: number, sweep: number): number {
  const turn = Math.abs(sweep);
  if (!(turn > 0) || !(radius > 0) || turn === Number.POSITIVE_INFINITY) return 1;
  const byTolerance = radius > CHORD_TOLERANCE ? 2 * Math.acos(1 - CHORD_TOLERANCE / radius) : COARSEST_STEP;
  const step = Math.min(COARSEST_STEP, Math.max(FINEST_STEP, byTolerance));
  return Math.min(MAX_CHORDS, Math.ceil(turn / step - 1e-9));
}

const chordsOf = (extras: Float64Array, row: number): number =>
  chordCount(Math.max(extras[row * EXTRAS + 2], extras[row * EXTRAS + 3]), extras[row * EXTRAS + 4]);

const isArc = (moves: PathMoves, row: number, treatments: Uint8Array): boolean =>
  treatments[moves.kinds[moves.extraMoves[row]]] === Treatment.arc;

/** Number of vertices of a segment's moves [from, to), their start point included. */
export function countVertices(moves: PathMoves, treatments: Uint8Array, from = 0, to = moves.count): number {
  let count = 1 + to - from;
  for (let row = 0; row < moves.extraCount; row++) {
    if (moves.extraMoves[row] >= from && moves.extraMoves[row] < to && isArc(moves, row, treatments))
      count += chordsOf(moves.extras, row) - 1;
  }
  return count;
}

/** Cuts a segment at moves so that no part has more than `limit` vertices; gives [from, to, vertices] a part. */
export function splitMoves(moves: PathMoves, treatments: Uint8Array, limit: number): [number, number, number][] {
  const parts: [number, number, number][] = [];
  let from = 0;
  let vertices = 1;
  let row = 0;
  for (let move = 0; move < moves.count; move++) {
    let cost = 1;
    for (; row < moves.extraCount && moves.extraMoves[row] === move; row++) {
      if (isArc(moves, row, treatments)) cost = chordsOf(moves.extras, row);
    }
    if (vertices + cost > limit && move > from) {
      parts.push([from, move, vertices]);
      from = move;
      vertices = 1;
    }
    vertices += cost;
  }
  parts.push([from, moves.count, vertices]);
  return parts;
}

/** Which of X Y Z (bits 1 2 4) no move of these tables ever reaches. Stops as soon as all are known. */
export function axesNeverKnown(tables: Iterable<PathMoves>): number {
  let unknown = 7;
  for (const { ends, count } of tables) {
    for (let i = 0; i < count * 3; i += 3) {
      if (!Number.isNaN(ends[i])) unknown &= ~1;
      if (!Number.isNaN(ends[i + 1])) unknown &= ~2;
      if (!Number.isNaN(ends[i + 2])) unknown &= ~4;
      if (unknown === 0) return 0;
    }
  }
  return unknown;
}
