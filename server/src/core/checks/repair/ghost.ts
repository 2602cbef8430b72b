/** The path that a repair would lead to, as far as it is another one: what is drawn before the repair is taken. */
import { AXIS_COUNT } from '../../machine/letters.ts';
import { EXTRA_WIDTH, MoveTable } from '../../machine/moves.ts';
import type { Segment } from '../segment.ts';
import { WINDOW } from './site.ts';
import type { LineEdit, Trials } from './trial.ts';

/** Lines that a ghost takes in at most. */
const MOST_LINES = 5000;

/** Moves that are other ones than before; lines count from `firstLine` of the program. */
export interface GhostPath {
  readonly firstLine: number;
  readonly lineCount: number;
  readonly entry: { readonly position: Float64Array };
  readonly moves: MoveTable;
}

/** The changed part of the path with edits applied; undefined where nothing changes or no run comes there. */
export const ghostPath = (trials: Trials, edits: readonly LineEdit[]): GhostPath | undefined => {
  if (edits.length === 0) return undefined;
  const firstLine = Math.min(...edits.map(({ line }) => line));
  const lastEdit = Math.max(...edits.map(({ line }) => line));
  const last = Math.min(lastEdit + WINDOW, firstLine + MOST_LINES - 1);
  const before = trials.segment(firstLine, last, []);
  const after = trials.segment(firstLine, last, edits);
  if (before === undefined || after === undefined) return undefined;
  const from = commonHead(before.moves, after.moves);
  const to = commonTail(before.moves, after.moves, from);
  if (from >= to) return undefined;
  const moves = new MoveTable(to - from);
  moves.append(after.moves, from, to, 0);
  return { firstLine, lineCount: after.blockCount, entry: { position: startOf(after, from) }, moves };
};

const startOf = ({ moves, entry }: Segment, move: number): Float64Array => {
  const position = Float64Array.from(entry.position);
  if (move > 0) position.set(moves.ends.subarray(move * 3 - 3, move * 3));
  return position.slice(0, AXIS_COUNT);
};

const same = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9 || (Number.isNaN(a) && Number.isNaN(b));

/** True if two moves are of one kind and end at one place in one way. */
const isSameMove = (a: MoveTable, i: number, b: MoveTable, j: number): boolean => {
  if (a.kinds[i] !== b.kinds[j]) return false;
  for (let axis = 0; axis < 3; axis++) if (!same(a.ends[i * 3 + axis], b.ends[j * 3 + axis])) return false;
  const [p, q] = [a.firstExtra(i), b.firstExtra(j)];
  const [hasA, hasB] = [p < a.extraCount && a.extraMoves[p] === i, q < b.extraCount && b.extraMoves[q] === j];
  if (hasA !== hasB) return false;
  for (let k = 0; hasA && k < EXTRA_WIDTH; k++) {
    if (!same(a.extras[p * EXTRA_WIDTH + k], b.extras[q * EXTRA_WIDTH + k])) return false;
  }
  return true;
};

/** How many moves both begin with. */
const commonHead = (a: MoveTable, b: MoveTable): number => {
  let count = 0;
  while (count < a.count && count < b.count && isSameMove(a, count, b, count)) count++;
  return count;
};

/** Where the moves begin that both end with, in `b`. A move that begins elsewhere than before is another one. */
const commonTail = (a: MoveTable, b: MoveTable, from: number): number => {
  let count = 0;
  const most = Math.min(a.count, b.count) - from;
  while (count < most && isSameMove(a, a.count - 1 - count, b, b.count - 1 - count)) count++;
  // The first of them ends where it did, but begins where the changed part ends.
  const moved = count > 0 && b.count - count > from ? startsElsewhere(a, a.count - count, b, b.count - count) : false;
  return b.count - count + (moved ? 1 : 0);
};

const startsElsewhere = (a: MoveTable, i: number, b: MoveTable, j: number): boolean => {
  if (i === 0 || j === 0) return true;
  for (let axis = 0; axis < 3; axis++) if (!same(a.ends[i * 3 - 3 + axis], b.ends[j * 3 - 3 + axis])) return true;
  return false;
};
