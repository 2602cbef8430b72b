/**
 * Round and rectangular pockets against the area that a general polygon library (clipper2-ts, a port of Clipper2) finds swept
 * by the cutter, and against worked examples typed from memory.
 */
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';
import { type AnyPocket, anyPocket, cutShape, leastWidth, sharedRaw } from '../../harness/pockets.ts';
import { cutsOn, type RoundedRectangle } from '../../harness/sweptArea.ts';
import { areaOf, areaWithout, outlineOf, sweptBy } from '../../harness/sweptPolygon.ts';

/** Off by so much on the whole outline: the written last digit and the chords of both polygons, mm. */
const OFF = 0.006;

type Raw = Record<string, string | number>;

/** A shape without its rim. */
const within = (shape: RoundedRectangle): RoundedRectangle => {
  const { halfLength, halfWidth, corner } = shape;
  return { ...shape, halfLength: halfLength - 0.02, halfWidth: halfWidth - 0.02, corner: corner - 0.02 };
};

/** Swept area of each level against the shape. */
const compare = (name: string, raw: Raw, levels: readonly number[], radius: number, shape: RoundedRectangle): void => {
  const { moves } = runBlock(name, { speed: 3000, feed: 500, ...raw });
  const { halfLength, halfWidth, corner } = shape;
  const perimeter = 4 * (halfLength + halfWidth - 2 * corner) + 2 * Math.PI * corner;
  const outline = outlineOf(shape);
  // The closed formula of the same area, so that the polygon is not alone.
  expect(areaOf(outline)).toBeCloseTo(4 * halfLength * halfWidth - (4 - Math.PI) * corner * corner, 0);
  for (const level of levels) {
    const swept = sweptBy(cutsOn(moves, level), radius);
    expect(areaWithout(swept, outline)).toBeLessThan(OFF * perimeter);
    expect(areaWithout(outline, swept)).toBeLessThan(OFF * perimeter);
    // Within the rim nothing stands, not the smallest piece.
    expect(areaWithout(outlineOf(within(shape)), swept)).toBeLessThan(0.0005);
  }
  expect(levels.length).toBeGreaterThan(0);
};

describe('the swept area is the pocket', () => {
  test.each<[string, Raw, number]>([
    ['by a helix', { diameter: 63, tool: 10, depth: 6 }, 31.5],
    ['by a wide stepover', { diameter: 80, tool: 12, depth: 6, stepover: 85, entry: 'plunge' }, 40],
    [
      'conventional, along a ramp',
      { diameter: 35, tool: 16, depth: 6, direction: 'conventional', entry: 'ramp' },
      17.5,
    ],
    ['with metal left on the wall', { diameter: 50, tool: 8, depth: 6, 'wall-allowance': 0.3 }, 24.7],
  ])('round, %s', (_, raw, radius) => {
    const shape = { centre: [0, 0], halfLength: radius, halfWidth: radius, corner: radius, angle: 0 } as const;
    compare('round-pocket', { ...raw, stepdown: 3 }, [-3, -6], Number(raw.tool) / 2, shape);
  });

  test.each<[string, Raw, Partial<RoundedRectangle>]>([
    ['with its corners', { length: 70, width: 45, corner: 8 }, { halfLength: 35, halfWidth: 22.5, corner: 8 }],
    ['corners as the cutter', { length: 70, width: 45 }, { halfLength: 35, halfWidth: 22.5, corner: 5 }],
    ['by a wide stepover', { length: 66, width: 51, stepover: 85 }, { halfLength: 33, halfWidth: 25.5, corner: 5 }],
    // 26.4 from the middle: three rounds of 8.8 would leave pieces on the diagonal, so that it takes four.
    [
      'by too wide a stepover',
      { length: 62.8, width: 62.8, stepover: 100 },
      { halfLength: 31.4, halfWidth: 31.4, corner: 5 },
    ],
    [
      'longer in Y, turned',
      { length: 30, width: 60, angle: 25 },
      { halfLength: 15, halfWidth: 30, corner: 5, angle: 25 },
    ],
    ['square, on a ramp', { length: 30, width: 30, entry: 'ramp' }, { halfLength: 15, halfWidth: 15, corner: 5 }],
    ['with round ends', { length: 50, width: 24, corner: 12 }, { halfLength: 25, halfWidth: 12, corner: 12 }],
  ])('rectangular, %s', (_, raw, shape) => {
    const whole = { centre: [12, -7], halfLength: 0, halfWidth: 0, corner: 0, angle: 0, ...shape } as const;
    compare('rectangular-pocket', { ...raw, tool: 10, depth: 4, stepdown: 2, at: '12,-7' }, [-2, -4], 5, whole);
  });
});

it('leaves not the smallest piece in random pockets with wide steps', () => {
  fc.assert(
    fc.property(anyPocket, fc.constantFrom(75, 85, 100), fc.boolean(), (any, stepover, isRound) => {
      const values: AnyPocket = { ...any, stepdown: 8, at: '0,0', 'floor-allowance': 0 };
      const [length, width] = [leastWidth(values) + 2 * values.longer, leastWidth(values) + 2 * values.wider];
      const corner = Math.min(values.tool / 2 + values.rounder, length / 2, width / 2);
      const size = isRound ? { diameter: length } : { length, width, corner, angle: values.angle };
      const { moves } = runBlock(isRound ? 'round-pocket' : 'rectangular-pocket', {
        ...sharedRaw(values),
        stepover,
        ...size,
      });
      const shape = isRound
        ? cutShape(values, [length, length], length / 2, 0)
        : cutShape(values, [length, width], corner, values.angle);
      const floor = Number((values.top - values.depth).toFixed(3));
      const swept = sweptBy(cutsOn(moves, floor), values.tool / 2);
      expect(areaWithout(outlineOf(within(shape)), swept)).toBeLessThan(0.0005);
    }),
    { seed: 6, numRuns: 40 },
  );
});

it('covers the diagonal at the widest step it makes, and would not with a cutter that is 2 % smaller', () => {
  // Rounds of 8.5, 85 % of 10: the limit is s ≤ r·(1 + 1/√2) = 8.536, and 8.365 for a radius of 4.9.
  const { moves } = runBlock('rectangular-pocket', {
    ...{ length: 61, width: 61, tool: 10, depth: 2, stepover: 100, speed: 3000, feed: 500 },
  });
  const standing = (radius: number): number => {
    const half = { halfLength: 25.5 + radius, halfWidth: 25.5 + radius, corner: radius };
    const shape = within({ centre: [0, 0], ...half, angle: 0 });
    return areaWithout(outlineOf(shape), sweptBy(cutsOn(moves, -2), radius));
  };
  expect(standing(5)).toBeLessThan(0.0005);
  expect(standing(4.9)).toBeGreaterThan(0.1);
});

describe('the feed of the centre in a bore is F·(D − d)/D', () => {
  // The formula stands in machining handbooks and tool makers' guides on circular interpolation; the figures are worked here
  // from it, from memory and by hand.
  test.each([
    [50, 20, 500, 300],
    [40, 10, 800, 600],
    [30, 20, 600, 200],
  ])('bore %d, cutter %d, %d mm/min at the wall', (diameter, tool, feed, centre) => {
    const { moves } = runBlock('round-pocket', { diameter, tool, depth: 1, speed: 3000, feed });
    const along = moves.filter(
      ({ arc }) =>
        arc !== undefined && Math.abs(arc.sweep) > 359 && Math.abs(arc.radius - (diameter - tool) / 2) < 0.001,
    );
    expect(new Set(along.map((move) => move.feed))).toEqual(new Set([centre]));
  });
});
