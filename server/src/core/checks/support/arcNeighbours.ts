/**
 * Arcs that double back on the cuts before and behind them. Needs the move behind the arc, so it looks at a segment's
 * finished moves; the answer is kept for as long as the segment and the one behind it stay the same.
 */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import { lastTangent } from '../../machine/tangent.ts';
import type { Segment } from '../segment.ts';

/** Two directions within 3° join smoothly; more than 10° apart they do not. */
const SMOOTH = Math.cos((3 * Math.PI) / 180);
const NOT_SMOOTH = Math.cos((10 * Math.PI) / 180);

/** A vector in the arc's plane. */
type Direction = readonly [first: number, second: number];

const dot = (a: Direction, b: Direction): number => a[0] * b[0] + a[1] * b[1];

/** Index of the first move at or behind `from` that is no wait; `count` where there is none. */
const firstMotion = (moves: MoveTable, from: number): number => {
  let move = from;
  while (move < moves.count && kindOf(moves, move) === MoveKind.dwell) move++;
  return move;
};

/** True if a segment has a move that goes somewhere, so that it decides how an arc before it goes on. */
export const hasMotion = (segment: Segment): boolean => firstMotion(segment.moves, 0) < segment.moves.count;

/** The direction in which move `move` sets off, X Y Z; NaN for a rapid. */
const startTangent = (moves: MoveTable, move: number, entry: Float64Array, pool: ModePool, out: Float64Array): void => {
  out.fill(Number.NaN);
  if (kindOf(moves, move) === MoveKind.arc) {
    const [first, second, tangents] = arcTangents(moves, move, entry, pool);
    out.fill(0);
    out[first] = tangents.start[0];
    out[second] = tangents.start[1];
  } else if (kindOf(moves, move) === MoveKind.line) {
    for (let axis = 0; axis < 3; axis++) out[axis] = moves.ends[move * 3 + axis] - startOf(moves, move, axis, entry);
    const length = Math.hypot(out[0], out[1], out[2]);
    for (let axis = 0; axis < 3; axis++) out[axis] /= length;
  }
};

const kindOf = (moves: MoveTable, move: number): number => moves.kinds[move] & MoveFlag.kindMask;

const startOf = (moves: MoveTable, move: number, axis: number, entry: Float64Array): number =>
  move === 0 ? entry[axis] : moves.ends[(move - 1) * 3 + axis];

/** First and second axis of the arc's plane, and its directions at start and end with the straight way between. */
const arcTangents = (
  moves: MoveTable,
  move: number,
  entry: Float64Array,
  pool: ModePool,
): [number, number, { start: Direction; end: Direction; chord: Direction }] => {
  const { first, second } = planeOf(pool.at(moves.modes[move], Mode.plane));
  const at = moves.firstExtra(move) * EXTRA_WIDTH;
  const sign = Math.sign(moves.extras[at + 4]);
  const from: Direction = [startOf(moves, move, first, entry), startOf(moves, move, second, entry)];
  const to: Direction = [moves.ends[move * 3 + first], moves.ends[move * 3 + second]];
  const square = (point: Direction): Direction => {
    const along: Direction = [point[0] - moves.extras[at], point[1] - moves.extras[at + 1]];
    const length = Math.hypot(along[0], along[1]);
    return [(-sign * along[1]) / length, (sign * along[0]) / length];
  };
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const chord: Direction = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  return [first, second, { start: square(from), end: square(to), chord }];
};

/** A direction seen in the mirror of a straight line. */
const mirrored = (direction: Direction, line: Direction): Direction => {
  const along = dot(direction, line);
  return [2 * along * line[0] - direction[0], 2 * along * line[1] - direction[1]];
};

/** True if the other direction of the arc joins both neighbours smoothly and its own joins neither. */
const isAgainst = (
  before: Direction,
  behind: Direction,
  { start, end, chord }: { start: Direction; end: Direction; chord: Direction },
): boolean => {
  if (!(dot(before, start) < NOT_SMOOTH && dot(end, behind) < NOT_SMOOTH)) return false;
  // About the same centre the other direction starts and ends the other way; with the same R it is the mirror image.
  const aboutCentre = dot(before, start) < -SMOOTH && dot(end, behind) < -SMOOTH;
  return aboutCentre || (dot(before, mirrored(start, chord)) > SMOOTH && dot(mirrored(end, chord), behind) > SMOOTH);
};

/** An arc that doubles back: its line in the segment, and its direction. */
export interface SuspectArc {
  readonly line: number;
  readonly clockwise: boolean;
}

const known = new WeakMap<Segment, { readonly next: Segment | undefined; readonly arcs: readonly SuspectArc[] }>();
const before = new Float64Array(3);
const behind = new Float64Array(3);

/** The arcs of a segment that double back on both neighbours; `next` is the first segment behind it that has motion. */
export const suspectArcs = (segment: Segment, next: Segment | undefined, pool: ModePool): readonly SuspectArc[] => {
  const answer = known.get(segment);
  if (answer !== undefined && answer.next === next) return answer.arcs;
  const { moves, entry } = segment;
  const arcs: SuspectArc[] = [];
  for (let k = 0; k < moves.extraCount; k++) {
    const move = moves.extraMoves[k];
    if (kindOf(moves, move) !== MoveKind.arc) continue;
    lastTangent(moves, move, entry.position, entry.tangent, pool, before);
    const follower = firstMotion(moves, move + 1);
    if (follower < moves.count) startTangent(moves, follower, entry.position, pool, behind);
    else if (next === undefined) continue;
    else startTangent(next.moves, firstMotion(next.moves, 0), next.entry.position, pool, behind);
    const [first, second, tangents] = arcTangents(moves, move, entry.position, pool);
    if (!isAgainst([before[first], before[second]], [behind[first], behind[second]], tangents)) continue;
    arcs.push({ line: moves.lines[move], clockwise: moves.extras[k * EXTRA_WIDTH + 4] < 0 });
  }
  known.set(segment, { next, arcs });
  return arcs;
};
