/** What a cutter sweeps, seen from above: distances of places from a path, and outlines to compare it with. Lengths mm. */
import type { TracedMove } from '../../server/src/core/features/trace.ts';

type Place = readonly [number, number];

/** A rectangle with rounded corners about a centre, turned by degrees; a circle has equal halves and corner. */
export interface RoundedRectangle {
  readonly centre: Place;
  readonly halfLength: number;
  readonly halfWidth: number;
  readonly corner: number;
  readonly angle: number;
}

/** Places along a move, ends included, at most `gap` apart. */
export const placesAlong = ({ from, to, arc }: TracedMove, gap: number): Place[] => {
  const flat = arc === undefined ? Math.hypot(to[0] - from[0], to[1] - from[1]) : 0;
  const sweep = arc === undefined ? 0 : (arc.sweep * Math.PI) / 180;
  const length = arc === undefined ? flat : Math.abs(sweep) * arc.radius;
  const count = Math.max(1, Math.ceil(length / gap));
  return Array.from({ length: count + 1 }, (_, i): Place => {
    const share = i / count;
    if (arc === undefined) return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    const angle = Math.atan2(from[1] - arc.centre[1], from[0] - arc.centre[0]) + sweep * share;
    return [arc.centre[0] + arc.radius * Math.cos(angle), arc.centre[1] + arc.radius * Math.sin(angle)];
  });
};

/** How far a place is from a move in the XY plane. */
export const distanceFrom = ([x, y]: Place, { from, to, arc }: TracedMove): number => {
  if (arc === undefined) {
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const square = dx * dx + dy * dy;
    const share = square === 0 ? 0 : ((x - from[0]) * dx + (y - from[1]) * dy) / square;
    const along = Math.max(0, Math.min(1, share));
    return Math.hypot(x - from[0] - dx * along, y - from[1] - dy * along);
  }
  const start = Math.atan2(from[1] - arc.centre[1], from[0] - arc.centre[0]);
  const angle = Math.atan2(y - arc.centre[1], x - arc.centre[0]);
  const way = (arc.clockwise ? start - angle : angle - start) + 4 * Math.PI;
  const isBeside = ((way % (2 * Math.PI)) * 180) / Math.PI <= Math.abs(arc.sweep);
  if (isBeside) return Math.abs(Math.hypot(x - arc.centre[0], y - arc.centre[1]) - arc.radius);
  return Math.min(Math.hypot(x - from[0], y - from[1]), Math.hypot(x - to[0], y - to[1]));
};

/** How far a place lies outside of an outline; negative inside. */
export const outsideBy = ([x, y]: Place, shape: RoundedRectangle): number => {
  const { centre, halfLength, halfWidth, corner, angle } = shape;
  const turn = (-angle * Math.PI) / 180;
  const [dx, dy] = [x - centre[0], y - centre[1]];
  const along = Math.abs(dx * Math.cos(turn) - dy * Math.sin(turn)) - (halfLength - corner);
  const across = Math.abs(dx * Math.sin(turn) + dy * Math.cos(turn)) - (halfWidth - corner);
  if (along > 0 && across > 0) return Math.hypot(along, across) - corner;
  return Math.max(along, across) - corner;
};

/** A place in an outline by two shares of −1 … 1 of its halves; places beyond its corners are drawn onto them. */
export const placeIn = (shape: RoundedRectangle, alongShare: number, acrossShare: number): Place => {
  const { centre, halfLength, halfWidth, corner, angle } = shape;
  let [x, y] = [alongShare * halfLength, acrossShare * halfWidth];
  const [beyondX, beyondY] = [Math.abs(x) - halfLength + corner, Math.abs(y) - halfWidth + corner];
  const beyond = Math.hypot(beyondX, beyondY);
  if (beyondX > 0 && beyondY > 0 && beyond > corner) {
    x = Math.sign(x) * (halfLength - corner + (beyondX / beyond) * corner);
    y = Math.sign(y) * (halfWidth - corner + (beyondY / beyond) * corner);
  }
  const turn = (angle * Math.PI) / 180;
  return [centre[0] + x * Math.cos(turn) - y * Math.sin(turn), centre[1] + x * Math.sin(turn) + y * Math.cos(turn)];
};

/** Moves at feed that stay on a level. */
export const cutsOn = (moves: readonly TracedMove[], level: number): TracedMove[] =>
  moves.filter(
    ({ kind, from, to }) =>
      (kind === 'line' || kind === 'arc') && Math.abs(from[2] - level) < 1e-4 && Math.abs(to[2] - level) < 1e-4,
  );
