/**
 * What one look at a segment tells soon: most segments run under one setup, far from every limit, and what is asked of
 * their moves one by one need not be asked. Of the rules that look at moves most pass a segment by its span.
 */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { perSegment, SAME_PLACE } from './pathWalk.ts';

/** A segment whose moves (waits too) all run under one set of slow modes. Work coordinates, mm. */
export interface SegmentSpan {
  /** One of its sets of modes. */
  readonly modes: number;
  /** Least and greatest X Y Z of the moves' ends, and of the whole circles of arcs; Infinity and −Infinity where none is known. */
  readonly least: readonly number[];
  readonly most: readonly number[];
  /** Where the last rapid ended along Z; NaN without. */
  readonly lastRapid: number;
  /** The lowest end of a rapid that is not known to go up; Infinity without. */
  readonly leastRapid: number;
  /** Its start and all ends are known, X Y Z. */
  readonly isKnown: boolean;
  /** A move changes X or Y. */
  readonly goesAside: boolean;
  /** Another program of the file begins in it. */
  readonly beginsProgram: boolean;
}

/** Undefined for a segment without moves, or under more than one setup. */
export const segmentSpan = perSegment((segment: Segment, { pool }: ProgramFacts): SegmentSpan | undefined =>
  segment.moves.count === 0 ? undefined : readSpan(segment, pool),
);

/** Looked through for every move of a program after it was read: one loop, plain numbers. */
const readSpan = ({ entry, moves }: Segment, pool: ModePool): SegmentSpan | undefined => {
  const { count, ends, kinds, modes } = moves;
  const setup = pool.at(modes[0], Mode.setup);
  let id = modes[0];
  let x = entry.position[0];
  let y = entry.position[1];
  let z = entry.position[2];
  let sum = x + y + z;
  let leastX = Infinity;
  let leastY = Infinity;
  let leastZ = Infinity;
  let mostX = -Infinity;
  let mostY = -Infinity;
  let mostZ = -Infinity;
  let lastRapid = Number.NaN;
  let leastRapid = Infinity;
  let goesAside = false;
  let beginsProgram = false;
  for (let move = 0, at = 0; move < count; move++, at += 3) {
    if (modes[move] !== id) {
      id = modes[move];
      if (pool.at(id, Mode.setup) !== setup) return undefined;
    }
    const kind = kinds[move] & MoveFlag.kindMask;
    const toX = ends[at];
    const toY = ends[at + 1];
    const toZ = ends[at + 2];
    if (kind > MoveKind.arc) {
      beginsProgram ||= (kinds[move] & MoveFlag.programStart) !== 0;
    } else {
      if (toX < leastX) leastX = toX;
      if (toX > mostX) mostX = toX;
      if (toY < leastY) leastY = toY;
      if (toY > mostY) mostY = toY;
      if (toZ < leastZ) leastZ = toZ;
      if (toZ > mostZ) mostZ = toZ;
      if (kind === MoveKind.rapid) {
        if (toZ < leastRapid && !(toZ > z)) leastRapid = toZ;
        if (!Number.isNaN(toZ)) lastRapid = toZ;
      }
      goesAside ||= Math.abs(toX - x) > SAME_PLACE || Math.abs(toY - y) > SAME_PLACE;
    }
    x = toX;
    y = toY;
    z = toZ;
    sum += x + y + z;
  }
  const least = [leastX, leastY, leastZ];
  const most = [mostX, mostY, mostZ];
  takeCircles(moves, pool.at(modes[0], Mode.plane), least, most);
  // A sum with an unknown place in it is not known either, nor is one that has left all bounds.
  const isKnown = Number.isFinite(sum) && ![...least, ...most].some(Number.isNaN);
  return { modes: modes[0], least, most, lastRapid, leastRapid, isKnown, goesAside, beginsProgram };
};

const takeCircles = (moves: Segment['moves'], plane: number, least: number[], most: number[]): void => {
  if (moves.extraCount === 0) return;
  const { first, second } = planeOf(plane);
  const { extras, extraMoves, kinds } = moves;
  for (let extra = 0; extra < moves.extraCount; extra++) {
    if ((kinds[extraMoves[extra]] & MoveFlag.kindMask) !== MoveKind.arc) continue;
    const at = extra * EXTRA_WIDTH;
    const radius = Math.max(extras[at + 2], extras[at + 3]);
    least[first] = Math.min(least[first], extras[at] - radius);
    most[first] = Math.max(most[first], extras[at] + radius);
    least[second] = Math.min(least[second], extras[at + 1] - radius);
    most[second] = Math.max(most[second], extras[at + 1] + radius);
  }
};
