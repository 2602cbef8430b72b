/** Whether the program cut near a place before: then nobody knows without taking material off what still stands there. */
import { Mode } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { arcNumbers, goesSideways, isArc, kindOf, type PathPlace, perSegment, startOf } from './pathWalk.ts';
import { emptyBox, type PlanBox, takeMove } from './planBox.ts';
import { radiusOf, toolShape } from './toolShape.ts';

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
  /** Of the largest cutter. */
  readonly radius: number;
}

/**
 * How many places may still be looked at for one reading of the findings. Beyond, a cut counts as near, so that nothing is
 * said. Counted in places, since segments of an edited program may lie otherwise than in a fresh one.
 */
export interface LookingBudget {
  places: number;
}

/** A new budget. */
export const lookingBudget = (): LookingBudget => ({ places: 100 });

/** What a segment cuts sideways: region of the centre's way and lowest level. */
const cutsOf = perSegment((segment: Segment, { configuration, pool }: ProgramFacts): Cuts => {
  const region = emptyBox();
  let lowest = Infinity;
  let radius = 0;
  const { moves } = segment;
  for (let move = 0; move < moves.count; move++) {
    if (!cutsSideways(segment, move)) continue;
    takeMove(region, segment, move, pool);
    // Unknown heights compare false and change nothing.
    const level = lowerOf(segment, move);
    if (level < lowest) lowest = level;
    radius = Math.max(radius, radiusOf(toolShape(configuration, pool, moves.modes[move])));
  }
  return { region, lowest, radius };
});

/** True for a cut that is not straight along Z. */
const cutsSideways = (segment: Segment, move: number): boolean =>
  (isArc(segment.moves, move) || kindOf(segment.moves, move) === MoveKind.line) && goesSideways(segment, move);

/**
 * True if a cut before `place` came so near a spot that its cutter reaches within `margin` of it (mm), at the spot's level
 * or below.
 */
export const cutNearBefore = (
  place: PathPlace,
  spot: Spot,
  margin: number,
  facts: ProgramFacts,
  budget: LookingBudget,
): boolean => {
  if (--budget.places < 0) return true;
  for (let number = place.passage; number >= 0; number--) {
    const { segment } = place.passages[number];
    const { region, lowest, radius } = cutsOf(segment, facts);
    if (!(lowest <= spot.level + 1e-6)) continue;
    const widest = radius + margin;
    if (spot.x < region.minX - widest || spot.x > region.maxX + widest) continue;
    if (spot.y < region.minY - widest || spot.y > region.maxY + widest) continue;
    const last = number === place.passage ? place.move : segment.moves.count;
    for (let move = last - 1; move >= 0; move--) if (reaches(segment, move, spot, margin, facts)) return true;
  }
  return false;
};

/** The lower end of a move; of one known end that end. */
const lowerOf = (segment: Segment, move: number): number => {
  const start = startOf(segment, move, 2);
  const end = segment.moves.ends[move * 3 + 2];
  return start < end || Number.isNaN(end) ? start : end;
};

const reaches = (segment: Segment, move: number, spot: Spot, margin: number, facts: ProgramFacts): boolean => {
  if (!cutsSideways(segment, move)) return false;
  const { moves } = segment;
  const { pool, configuration } = facts;
  if (!(lowerOf(segment, move) <= spot.level + 1e-6)) return false;
  if (pool.at(moves.modes[move], Mode.offset) !== spot.offset) return false;
  const reach = margin + radiusOf(toolShape(configuration, pool, moves.modes[move]));
  return distanceTo(segment, move, spot, facts) <= reach;
};

/** Least distance of a spot from a move seen from above, mm. */
const distanceTo = (segment: Segment, move: number, { x, y }: Spot, { pool }: ProgramFacts): number => {
  const { moves } = segment;
  const startX = startOf(segment, move, 0);
  const startY = startOf(segment, move, 1);
  const endX = moves.ends[move * 3];
  const endY = moves.ends[move * 3 + 1];
  if (isArc(moves, move) && planeOf(pool.at(moves.modes[move], Mode.plane)).third === 2) {
    const ends = Math.min(Math.hypot(startX - x, startY - y), Math.hypot(endX - x, endY - y));
    return Math.min(ends, distanceToArc(segment, move, x, y));
  }
  const dx = endX - startX;
  const dy = endY - startY;
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - startX) * dx + (y - startY) * dy) / square));
  return Math.hypot(startX + t * dx - x, startY + t * dy - y);
};

/** Distance of a place from the circle of an arc in X Y where it lies beside the arc; Infinity beside the rest of the circle. */
const distanceToArc = (segment: Segment, move: number, x: number, y: number): number => {
  const at = arcNumbers(segment.moves, move);
  const [centreX, centreY, radius, endRadius, sweep] = segment.moves.extras.subarray(at, at + 5);
  const away = Math.hypot(x - centreX, y - centreY);
  const startAngle = Math.atan2(startOf(segment, move, 1) - centreY, startOf(segment, move, 0) - centreX);
  const turned = (Math.atan2(y - centreY, x - centreX) - startAngle) * Math.sign(sweep);
  const turn = turned - Math.floor(turned / (2 * Math.PI)) * 2 * Math.PI;
  if (turn > Math.abs(sweep) && away > 1e-9) return Infinity;
  const there = radius + (endRadius - radius) * Math.min(1, turn / Math.abs(sweep));
  return Math.abs(away - there);
};
