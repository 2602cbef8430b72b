/** One round along a rectangle with rounded corners, a circle among them, rolled on and off on quarter circles. */
import type { Place } from './parameter.ts';
import type { ShapePen } from './shapePen.ts';

/** A corner this small is gone round as a sharp one: it would overcut by at most 0.4 of it. mm. */
const SHARP = 0.004;
/** Rolling on and off needs this much room, mm. */
const LEAST_ROLL = 0.05;

/** A round of the cutter's centre. Lengths mm, feeds mm/min. */
export interface Loop {
  readonly halfLength: number;
  readonly halfWidth: number;
  /** Of the centre's path; 0 for sharp. */
  readonly corner: number;
  readonly clockwise: boolean;
  /** Radius of rolling on and off, on the side away from the wall. */
  readonly roll: number;
  /** The wall lies around the path (a pocket), or within it (an outer contour). */
  readonly wall: 'around' | 'within';
  readonly feed: number;
  /** Of the centre on the corners' arcs, and on those of rolling on and off. */
  readonly cornerFeed: number;
  readonly rollFeed: number;
}

/** Where a round begins: the middle of a long side, or beside it where it rolls on. */
export const loopStart = ({ halfWidth, clockwise, roll, wall }: Loop): Place => {
  if (roll < LEAST_ROLL) return [0, -halfWidth];
  const inward = wall === 'around' ? roll : -roll;
  return [clockwise ? roll : -roll, -halfWidth + inward];
};

/** Where it has rolled off. */
const loopEnd = (loop: Loop): Place => {
  const [x, y] = loopStart(loop);
  return [-x, y];
};

/** Draws a round from `loopStart` (where the pen stands) to `loopEnd`. */
export const drawLoop = (pen: ShapePen, loop: Loop): void => {
  const { halfWidth, clockwise, roll, wall, rollFeed } = loop;
  const rolls = roll >= LEAST_ROLL;
  // Inside the path the cutter rolls on in the loop's own sense, outside of it in the other one.
  const rollsClockwise = wall === 'around' ? clockwise : !clockwise;
  const rollCentre: Place = [0, -halfWidth + (wall === 'around' ? roll : -roll)];
  if (rolls) pen.arc(rollsClockwise, [0, -halfWidth], rollCentre, rollFeed);
  drawRound(pen, loop);
  if (rolls) pen.arc(rollsClockwise, loopEnd(loop), rollCentre, rollFeed);
};

/** The round itself, from the middle of the side at −Y and back. */
const drawRound = (pen: ShapePen, loop: Loop): void => {
  const { halfLength, halfWidth, clockwise, feed, cornerFeed } = loop;
  const corner = loop.corner < SHARP ? 0 : loop.corner;
  const [straightX, straightY] = [Math.max(0, halfLength - corner), Math.max(0, halfWidth - corner)];
  // Counter-clockwise: along −Y to +X first. Clockwise is its mirror image in X.
  const mirror = clockwise ? -1 : 1;
  const at = (x: number, y: number): Place => [mirror * x, y];
  const turn = (to: Place, centre: Place): void => {
    if (corner > 0) pen.arc(clockwise, to, centre, cornerFeed);
  };
  if (straightX > 0) pen.line(at(straightX, -halfWidth), feed);
  turn(at(halfLength, -straightY), at(straightX, -straightY));
  if (straightY > 0) pen.line(at(halfLength, straightY), feed);
  turn(at(straightX, halfWidth), at(straightX, straightY));
  if (straightX > 0) pen.line(at(-straightX, halfWidth), feed);
  turn(at(-halfLength, straightY), at(-straightX, straightY));
  if (straightY > 0) pen.line(at(-halfLength, -straightY), feed);
  turn(at(-straightX, -halfWidth), at(-straightX, -straightY));
  pen.line([0, -halfWidth], feed);
};
