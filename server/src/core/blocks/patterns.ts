/** Where the holes of a pattern lie: a list, a row, a grid, a circle, or the edge of a rectangle. Lengths mm, angles degrees. */
import type { Place } from './parameter.ts';

/** A pattern without its place: the first hole, or a circle's centre, lies at 0,0. */
export type Pattern =
  | { readonly kind: 'row'; readonly count: number; readonly spacing: number; readonly angle: number }
  | {
      readonly kind: 'grid' | 'frame';
      readonly counts: readonly [along: number, across: number];
      readonly spacings: readonly [along: number, across: number];
      readonly angle: number;
    }
  | {
      readonly kind: 'circle';
      readonly count: number;
      readonly radius: number;
      /** Polar angle of the first hole, from the X axis counter-clockwise. */
      readonly start: number;
      /** From the first to the last hole; ±360 is a full circle. Negative goes clockwise. */
      readonly sweep: number;
    };

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** How many holes a pattern has. */
export const holeCount = (pattern: Pattern): number => {
  switch (pattern.kind) {
    case 'row':
    case 'circle':
      return pattern.count;
    case 'grid':
      return pattern.counts[0] * pattern.counts[1];
    case 'frame':
      return 2 * (pattern.counts[0] + pattern.counts[1]) - 4;
  }
};

/** Degrees from hole to hole of a circle: a full circle is divided by the count, a part arc by the count less one. */
export const anglePitch = (count: number, sweep: number): number =>
  Math.abs(sweep) === 360 ? sweep / count : sweep / Math.max(1, count - 1);

/** The places of a pattern about a place, in the order they are made. */
export const patternPlaces = (pattern: Pattern, [x, y]: Place): Place[] => {
  if (pattern.kind === 'circle') {
    const { count, radius, start, sweep } = pattern;
    const pitch = anglePitch(count, sweep);
    return Array.from({ length: count }, (_, i): Place => {
      const angle = radians(start + i * pitch);
      return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
    });
  }
  const turn = radians(pattern.angle);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return stepsOf(pattern).map(
    ([along, across]): Place => [x + along * cos - across * sin, y + along * sin + across * cos],
  );
};

/** The places before they are turned. */
const stepsOf = (pattern: Exclude<Pattern, { kind: 'circle' }>): Place[] => {
  if (pattern.kind === 'row') {
    return Array.from({ length: pattern.count }, (_, i): Place => [i * pattern.spacing, 0]);
  }
  const [dx, dy] = pattern.spacings;
  const steps = pattern.kind === 'grid' ? gridSteps(...pattern.counts) : frameSteps(...pattern.counts);
  return steps.map(([i, j]): Place => [i * dx, j * dy]);
};

/** Row by row, every second one backwards, so that the way between the rows is short. */
const gridSteps = (along: number, across: number): Place[] =>
  Array.from({ length: along * across }, (_, n): Place => {
    const row = Math.floor(n / along);
    const column = n % along;
    return [row % 2 === 0 ? column : along - 1 - column, row];
  });

/** Round the edge counter-clockwise from the first corner, every corner once. */
const frameSteps = (along: number, across: number): Place[] => {
  const [right, upper] = [along - 1, across - 1];
  return [
    ...Array.from({ length: right }, (_, i): Place => [i, 0]),
    ...Array.from({ length: upper }, (_, j): Place => [right, j]),
    ...Array.from({ length: right }, (_, i): Place => [right - i, upper]),
    ...Array.from({ length: upper }, (_, j): Place => [0, upper - j]),
  ];
};

/** The two places that lie closest together, as indices, and their distance; undefined for a single place. */
export const closestPair = (
  places: readonly Place[],
): { readonly first: number; readonly second: number; readonly distance: number } | undefined => {
  // In the order of X only neighbours nearer than the best so far need a look.
  const order = places.map((_, index) => index).sort((a, b) => places[a][0] - places[b][0]);
  let best: { first: number; second: number; distance: number } | undefined;
  for (let i = 0; i < order.length; i++) {
    const [x, y] = places[order[i]];
    for (let j = i + 1; j < order.length; j++) {
      const [otherX, otherY] = places[order[j]];
      if (best !== undefined && otherX - x >= best.distance) break;
      const distance = Math.hypot(otherX - x, otherY - y);
      if (best !== undefined && distance >= best.distance) continue;
      best = { first: Math.min(order[i], order[j]), second: Math.max(order[i], order[j]), distance };
    }
  }
  return best;
};
