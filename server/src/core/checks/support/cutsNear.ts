/** Whether the program cut near a place before: then nobody knows without taking material off what still stands there. */
import { Mode } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { arcNumbers, kindOf, type PathPlace, perSegment, startOf } from './pathWalk.ts';
import { emptyBox, type PlanBox, takeMove } from './planBox.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** Radius taken for a cutter that nobody described, mm: larger than usual ones. */
const UNKNOWN_RADIUS = 100;

/** A place to look around. Work coordinates, mm. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly offset: number;
  /** Cuts that stay above this level do not count. */
  readonly level: number;
}

interface Cuts {
  readonly region: PlanBox;
  readonly lowest: number;
}

/** What a segment cuts sideways: region of the centre's way and lowest level. */
const cutsOf = perSegment((segment: Segment, { pool }: ProgramFacts): Cuts => {
  const region = emptyBox();
  let lowest = Infinity;
  const { moves } = segment;
  for (let move = 0; move < moves.count; move++) {
    if (!cutsSideways(segment, move)) continue;
    takeMove(region, segment, move, pool);
    lowest = Math.min(lowest, moves.ends[move * 3 + 2]);
  }
  return { region, lowest };
});

/** True for a cut that is not straight along Z. */
const cutsSideways = (segment: Segment, move: number): boolean => {
  const kind = kindOf(segment.moves, move);
  if (kind === MoveKind.arc) return true;
  if (kind !== MoveKind.line) return false;
  const { ends } = segment.moves;
  return ends[move * 3] !== startOf(segment, move, 0) || ends[move * 3 + 1] !== startOf(segment, move, 1);
};

/**
 * True if a cut before `place` came so near a spot that its cutter reaches within `margin` of it, at the spot's level or
 * below. `margin` is in mm from the spot.
 */
export const cutNearBefore = (place: PathPlace, spot: Spot, margin: number, facts: ProgramFacts): boolean => {
  const widest = UNKNOWN_RADIUS + margin;
  for (let number = 0; number <= place.passage; number++) {
    const { segment } = place.passages[number];
    const { region, lowest } = cutsOf(segment, facts);
    if (!(lowest <= spot.level + 1e-6)) continue;
    if (spot.x < region.minX - widest || spot.x > region.maxX + widest) continue;
    if (spot.y < region.minY - widest || spot.y > region.maxY + widest) continue;
    const last = number === place.passage ? place.move : segment.moves.count;
    for (let move = 0; move < last; move++) if (reaches(segment, move, spot, margin, facts)) return true;
  }
  return false;
};

const reaches = (segment: Segment, move: number, spot: Spot, margin: number, facts: ProgramFacts): boolean => {
  if (!cutsSideways(segment, move)) return false;
  const { moves } = segment;
  const { pool, configuration } = facts;
  if (pool.at(moves.modes[move], Mode.offset) !== spot.offset) return true;
  if (!(Math.min(moves.ends[move * 3 + 2], startOf(segment, move, 2)) <= spot.level + 1e-6)) return false;
  const reach = margin + radiusOf(toolShape(configuration, pool, moves.modes[move]));
  return distanceTo(segment, move, spot, facts) <= reach;
};

const radiusOf = ({ diameter }: ToolShape): number => (diameter === undefined ? UNKNOWN_RADIUS : diameter / 2);

/** Least distance of a spot from a move seen from above, mm; of an arc from its whole circle, so never too large. */
const distanceTo = (segment: Segment, move: number, { x, y }: Spot, { pool }: ProgramFacts): number => {
  const { moves } = segment;
  if (kindOf(moves, move) === MoveKind.arc) {
    const { third } = planeOf(pool.at(moves.modes[move], Mode.plane));
    if (third !== 2) return 0;
    const at = arcNumbers(moves, move);
    const away = Math.hypot(x - moves.extras[at], y - moves.extras[at + 1]);
    const low = Math.min(moves.extras[at + 2], moves.extras[at + 3]);
    const high = Math.max(moves.extras[at + 2], moves.extras[at + 3]);
    return Math.max(0, low - away, away - high);
  }
  const startX = startOf(segment, move, 0);
  const startY = startOf(segment, move, 1);
  const dx = moves.ends[move * 3] - startX;
  const dy = moves.ends[move * 3 + 1] - startY;
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - startX) * dx + (y - startY) * dy) / square));
  const away = Math.hypot(startX + t * dx - x, startY + t * dy - y);
  return Number.isNaN(away) ? 0 : away;
};
