/**
 * Arcs that double back on the cuts before and behind them. Needs the move behind the arc, so it looks at a segment's
 * finished moves; the answer is kept for as long as the segment and the one behind it stay the same.
 */

import { distance } from '../../machine/arcs.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import { lastTangent } from '../../machine/tangent.ts';
import type { Segment, SuspectArc } from '../segment.ts';

/** Two directions within 3° join smoothly; more than 10° apart they do not. */
const SMOOTH = Math.cos((3 * Math.PI) / 180);
const NOT_SMOOTH = Math.cos((10 * Math.PI) / 180);

/** Index of the first move at or behind `from` that is no wait; `count` where there is none. */
const firstMotion = (moves: MoveTable, from: number): number => {
  let move = from;
  while (move < moves.count && kindOf(moves, move) === MoveKind.dwell) move++;
  return move;
};

/** True if a segment has a move that goes somewhere, so that it decides how an arc before it goes on. */
export const hasMotion = (segment: Segment): boolean => firstMotion(segment.moves, 0) < segment.moves.count;

/** Index of the first move behind `move` that is no wait; `count` where there is none. */
export const motionBehind = (moves: MoveTable, move: number): number => firstMotion(moves, move + 1);

/** The direction in which move `move` sets off, X Y Z; NaN for a rapid. */
export const startTangent = (
  moves: MoveTable,
  move: number,
  entry: Float64Array,
  pool: ModePool,
  out: Float64Array,
): void => {
  out.fill(Number.NaN);
  if (kindOf(moves, move) === MoveKind.arc) {
    const { first, second } = planeOf(pool.at(moves.modes[move], Mode.plane));
    out.fill(0);
    squareTo(moves, moves.firstExtra(move), startOf(moves, move, first, entry), startOf(moves, move, second, entry));
    out[first] = square.first;
    out[second] = square.second;
  } else if (kindOf(moves, move) === MoveKind.line) {
    for (let axis = 0; axis < 3; axis++) out[axis] = moves.ends[move * 3 + axis] - startOf(moves, move, axis, entry);
    const length = Math.sqrt(out[0] * out[0] + out[1] * out[1] + out[2] * out[2]);
    for (let axis = 0; axis < 3; axis++) out[axis] /= length;
  }
};

const kindOf = (moves: MoveTable, move: number): number => moves.kinds[move] & MoveFlag.kindMask;

const startOf = (moves: MoveTable, move: number, axis: number, entry: Float64Array): number =>
  move === 0 ? entry[axis] : moves.ends[(move - 1) * 3 + axis];

/** A direction along an arc; filled by `squareTo`. */
const square = { first: 0, second: 0 };

/** Direction of the arc with extra numbers `extra` where it passes a point of its plane: square to the radius. */
const squareTo = (moves: MoveTable, extra: number, first: number, second: number): void => {
  const at = extra * EXTRA_WIDTH;
  const sign = moves.extras[at + 4] < 0 ? -1 : 1;
  const alongFirst = first - moves.extras[at];
  const alongSecond = second - moves.extras[at + 1];
  const length = distance(alongFirst, alongSecond);
  square.first = (-sign * alongSecond) / length;
  square.second = (sign * alongFirst) / length;
};

/**
 * True if the arc's own direction joins neither neighbour smoothly and the other direction would join both: about the same
 * centre it starts and ends the other way round; with the same R it is the mirror image in the chord.
 */
const isAgainst = (
  moves: MoveTable,
  extra: number,
  move: number,
  entry: Float64Array,
  first: number,
  second: number,
): boolean => {
  const fromFirst = startOf(moves, move, first, entry);
  const fromSecond = startOf(moves, move, second, entry);
  squareTo(moves, extra, fromFirst, fromSecond);
  const startFirst = square.first;
  const startSecond = square.second;
  const atStart = before[first] * startFirst + before[second] * startSecond;
  if (!(atStart < NOT_SMOOTH)) return false;
  const toFirst = moves.ends[move * 3 + first];
  const toSecond = moves.ends[move * 3 + second];
  squareTo(moves, extra, toFirst, toSecond);
  const atEnd = behind[first] * square.first + behind[second] * square.second;
  if (!(atEnd < NOT_SMOOTH)) return false;
  if (atStart < -SMOOTH && atEnd < -SMOOTH) return true;
  const length = distance(toFirst - fromFirst, toSecond - fromSecond);
  const chordFirst = (toFirst - fromFirst) / length;
  const chordSecond = (toSecond - fromSecond) / length;
  // A direction d seen in the mirror of the chord c is 2(d·c)c − d.
  const mirroredStart =
    2 *
      (startFirst * chordFirst + startSecond * chordSecond) *
      (before[first] * chordFirst + before[second] * chordSecond) -
    atStart;
  const mirroredEnd =
    2 *
      (square.first * chordFirst + square.second * chordSecond) *
      (behind[first] * chordFirst + behind[second] * chordSecond) -
    atEnd;
  return mirroredStart > SMOOTH && mirroredEnd > SMOOTH;
};

/** Share of the radius within which two arcs have one centre. */
const ONE_CENTRE = 1e-3;

/**
 * True if the arc and the one behind it go to and fro along one circle while one of them sinks: a ramp. Half and full
 * turns look the same in both directions and are not taken for it.
 */
const isRampToAndFro = (one: ArcMove, two: ArcMove, first: number, second: number): boolean => {
  if (kindOf(two.moves, two.move) !== MoveKind.arc) return false;
  const a = one.moves.firstExtra(one.move) * EXTRA_WIDTH;
  const b = two.moves.firstExtra(two.move) * EXTRA_WIDTH;
  const halves = one.moves.extras[a + 4] / Math.PI;
  const isHalf = Math.abs(halves - Math.round(halves)) < 0.01;
  if (isHalf || halves > 0 === two.moves.extras[b + 4] > 0) return false;
  const apart = distance(one.moves.extras[a] - two.moves.extras[b], one.moves.extras[a + 1] - two.moves.extras[b + 1]);
  if (apart > ONE_CENTRE * one.moves.extras[a + 2]) return false;
  const normal = 3 - first - second;
  return [one, two].some(
    ({ moves, move, entry }) => startOf(moves, move, normal, entry) !== moves.ends[move * 3 + normal],
  );
};

/** A move of a table that begins at a position. */
interface ArcMove {
  readonly moves: MoveTable;
  readonly move: number;
  readonly entry: Float64Array;
}

const before = new Float64Array(3);
const behind = new Float64Array(3);

/** The arcs of a segment that double back on both neighbours; `next` is the first segment behind it that has motion. */
export const suspectArcs = (segment: Segment, next: Segment | undefined, pool: ModePool): readonly SuspectArc[] => {
  const answer = segment.suspectArcs;
  if (answer !== undefined && answer.next === next) return answer.arcs;
  const { moves, entry } = segment;
  const arcs: SuspectArc[] = [];
  for (let k = 0; k < moves.extraCount; k++) {
    const move = moves.extraMoves[k];
    if (kindOf(moves, move) !== MoveKind.arc) continue;
    lastTangent(moves, move, entry.position, entry.tangent, pool, before);
    const follower = firstMotion(moves, move + 1);
    const isOwn = follower < moves.count;
    if (!isOwn && next === undefined) continue;
    const followed: ArcMove =
      isOwn || next === undefined
        ? { moves, move: follower, entry: entry.position }
        : { moves: next.moves, move: firstMotion(next.moves, 0), entry: next.entry.position };
    startTangent(followed.moves, followed.move, followed.entry, pool, behind);
    const { first, second } = planeOf(pool.at(moves.modes[move], Mode.plane));
    if (!isAgainst(moves, k, move, entry.position, first, second)) continue;
    if (isRampToAndFro({ moves, move, entry: entry.position }, followed, first, second)) continue;
    arcs.push({ line: moves.lines[move], clockwise: moves.extras[k * EXTRA_WIDTH + 4] < 0 });
  }
  segment.suspectArcs = { next, arcs };
  return arcs;
};
