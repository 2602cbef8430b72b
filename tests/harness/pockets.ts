/** Pockets and slots in property tests: random values, and what the path of each must keep to. Lengths mm. */
import fc from 'fast-check';
import type { BlockContext } from '../../server/src/core/blocks/context.ts';
import type { TracedMove } from '../../server/src/core/features/trace.ts';
import { cutsOn, distanceFrom, outsideBy, placeIn, placesAlong, type RoundedRectangle } from './sweptArea.ts';

const tenths = (least: number, most: number) => fc.integer({ min: least * 10, max: most * 10 }).map((n) => n / 10);
const share = fc.integer({ min: -1000, max: 1000 }).map((n) => n / 1000);

/** What pockets and slots share, and places to look at. */
export const anyPocket = fc.record({
  tool: fc.constantFrom(3, 6, 10, 12.5, 16),
  depth: tenths(0.5, 6),
  stepdown: fc.constantFrom(1.7, 3, 8),
  stepover: fc.constantFrom(20, 40, 50, 65, 85, 100),
  'wall-allowance': fc.constantFrom(0, 0, 0.2),
  'floor-allowance': fc.constantFrom(0, 0, 0.1),
  direction: fc.constantFrom('climb', 'conventional'),
  entry: fc.constantFrom('helix', 'ramp', 'plunge'),
  top: fc.constantFrom(0, 5, -3.2),
  at: fc.constantFrom('0,0', '12.5,-30.25'),
  /** The shape, beyond the least that the cutter has room in. */
  longer: tenths(0, 30),
  wider: tenths(0, 30),
  rounder: tenths(0, 6),
  angle: fc.constantFrom(0, 0, 90, 30, -77.5),
  shares: fc.array(fc.tuple(share, share), { minLength: 20, maxLength: 20 }),
});
/** One of them. */
export type AnyPocket = typeof anyPocket extends fc.Arbitrary<infer T> ? T : never;

/** The values that every pocket takes, as on the command line. */
export const sharedRaw = ({ longer: _, wider: _w, rounder: _r, angle: _a, shares: _s, ...raw }: AnyPocket) => ({
  speed: 3000,
  feed: 600,
  ...raw,
});

/** Least width that the cutter is to have room in. */
export const leastWidth = ({ tool, 'wall-allowance': left }: AnyPocket): number => tool * 1.15 + 2 * left;

/** What a cutter leaves of an outline, less what is left on the walls: its corners are the cutter's at least. */
export const cutShape = (
  { at, tool, 'wall-allowance': left }: AnyPocket,
  [length, width]: readonly [number, number],
  corner: number,
  angle: number,
): RoundedRectangle => {
  const [x, y] = at.split(',').map(Number);
  const half = { halfLength: length / 2 - left, halfWidth: width / 2 - left };
  return { centre: [x, y], ...half, corner: Math.max(corner - left, tool / 2), angle };
};

/** Floors of the levels, in even steps none deeper than asked. */
export const floorsOf = ({ top, depth, stepdown, 'floor-allowance': left }: AnyPocket): number[] => {
  const count = Math.ceil((depth - left) / stepdown - 1e-9);
  return Array.from({ length: count }, (_, i) => top - ((depth - left) * (i + 1)) / count);
};

/** Middle, middles of the sides and corners of a shape. */
const ALWAYS = [0, 1, -1].flatMap((along) => [0, 1, -1].map((across): [number, number] => [along, across]));

/**
 * Everything that holds for a pocket: all of the shape is cut on each level and nothing beyond it, and below the top nothing
 * moves at rapid but straight up. @throws saying what does not hold
 */
export const checkPocket = (
  moves: readonly TracedMove[],
  values: AnyPocket,
  shape: RoundedRectangle,
  { entry }: BlockContext,
): void => {
  const inch = entry.units === 'inch';
  // Ends and centres are half a last digit off in X and Y each.
  const room = inch ? 0.0048 : 0.0025;
  const radius = values.tool / 2;
  const must = (holds: boolean, what: () => string): void => {
    if (!holds) throw new Error(`${what()}: ${JSON.stringify(values)} ${JSON.stringify(shape)}`);
  };
  for (const move of moves) {
    const { kind, from, to } = move;
    if (Math.min(from[2], to[2]) >= values.top - 1e-6) continue;
    const isStraightUp = from[0] === to[0] && from[1] === to[1] && to[2] > from[2];
    must(kind !== 'rapid' || isStraightUp, () => `A rapid from ${from} to ${to}`);
    const beyond = Math.max(...placesAlong(move, values.tool).map((place) => outsideBy(place, shape) + radius));
    must(beyond < room, () => `${beyond} beyond the wall from ${from} to ${to}`);
  }
  for (const floor of floorsOf(values)) {
    const level = inch ? Number((floor / 25.4).toFixed(4)) * 25.4 : Number(floor.toFixed(3));
    const cuts = cutsOn(moves, level);
    for (const [along, across] of [...ALWAYS, ...values.shares]) {
      const place = placeIn(shape, along, across);
      const far = Math.min(...cuts.map((move) => distanceFrom(place, move))) - radius;
      must(far < room, () => `${place} is not cut on ${level}, by ${far}`);
    }
  }
};
