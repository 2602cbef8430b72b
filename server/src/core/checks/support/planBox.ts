/** Boxes in the plan view (X Y), and which part of a straight way lies in them. Lengths mm. */
import { arcExtents } from '../../geometry/arcMeasure.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { Segment } from '../segment.ts';
import { arcNumbers, kindOf, startOf } from './pathWalk.ts';

/** An upright rectangle in X and Y. */
export interface PlanBox {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/** A part of a way, from and to as shares 0 to 1; empty where `from` is not below `to`. */
export interface Share {
  readonly from: number;
  readonly to: number;
}

export const emptyBox = (): PlanBox => ({ minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity });

/** Makes a box hold a point too; an unknown coordinate changes nothing. */
export const takePoint = (box: PlanBox, x: number, y: number): void => {
  if (x < box.minX) box.minX = x;
  if (x > box.maxX) box.maxX = x;
  if (y < box.minY) box.minY = y;
  if (y > box.maxY) box.maxY = y;
};

/** Makes a box hold another one, widened by `margin`. */
export const takeBox = (box: PlanBox, other: PlanBox, margin = 0): void => {
  if (other.minX > other.maxX && other.minY > other.maxY) return;
  takePoint(box, other.minX - margin, other.minY - margin);
  takePoint(box, other.maxX + margin, other.maxY + margin);
};

/** True if a box holds a point. */
export const holdsPoint = (box: PlanBox, x: number, y: number): boolean =>
  x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;

/** True if a box holds the straight way of a move from its start to its end. */
export const holdsWay = (box: PlanBox, segment: Segment, move: number): boolean => {
  const { ends } = segment.moves;
  return (
    holdsPoint(box, ends[move * 3], ends[move * 3 + 1]) &&
    holdsPoint(box, startOf(segment, move, 0), startOf(segment, move, 1))
  );
};

/** The share of the straight way from (x, y) by (dx, dy) that lies in a box. A point is a way of length 0: 0 to 1 where it is inside. */
export const shareInBox = (box: PlanBox, x: number, y: number, dx: number, dy: number): Share => {
  let from = 0;
  let to = 1;
  const clip = (at: number, way: number, low: number, high: number): void => {
    if (Math.abs(way) < 1e-12) {
      if (!(at >= low && at <= high)) to = -1;
      return;
    }
    const a = (low - at) / way;
    const b = (high - at) / way;
    from = Math.max(from, Math.min(a, b));
    to = Math.min(to, Math.max(a, b));
  };
  clip(x, dx, box.minX, box.maxX);
  clip(y, dy, box.minY, box.maxY);
  return { from, to };
};

/** Makes a box hold the whole of a move (line or arc) of a segment. */
export const takeMove = (box: PlanBox, segment: Segment, move: number, pool: ModePool): void => {
  const { moves } = segment;
  takePoint(box, startOf(segment, move, 0), startOf(segment, move, 1));
  takePoint(box, moves.ends[move * 3], moves.ends[move * 3 + 1]);
  if (kindOf(moves, move) !== MoveKind.arc) return;
  const { first, second } = planeOf(pool.at(moves.modes[move], Mode.plane));
  const at = arcNumbers(moves, move);
  const [centreFirst, centreSecond, radius, endRadius, sweep] = moves.extras.subarray(at, at + 5);
  const startAngle = Math.atan2(
    startOf(segment, move, second) - centreSecond,
    startOf(segment, move, first) - centreFirst,
  );
  const extents = arcExtents({ centreFirst, centreSecond, radius, endRadius, startAngle, sweep });
  const low = [Number.NaN, Number.NaN, Number.NaN];
  const high = [Number.NaN, Number.NaN, Number.NaN];
  low[first] = extents.minFirst;
  high[first] = extents.maxFirst;
  low[second] = extents.minSecond;
  high[second] = extents.maxSecond;
  takePoint(box, low[0], low[1]);
  takePoint(box, high[0], high[1]);
};
