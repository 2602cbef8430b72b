/** Depths of spots and countersinks against handbook factors and a standard. */
import { describe, expect, it } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';

type Raw = Readonly<Record<string, string | number>>;

const depthOf = (raw: Raw): number => {
  const { moves } = runBlock('holes', { speed: 500, feed: 50, ...raw });
  return -Math.min(...moves.map(({ to }) => to[2]));
};

/**
 * Depth of a spot a diameter: drilling handbooks and makers of spot drills give these factors for the point angle. From memory.
 */
const FACTORS: readonly (readonly [angle: number, factor: number])[] = [
  [60, 0.866],
  [82, 0.575],
  [90, 0.5],
  [100, 0.42],
  [118, 0.3],
  [120, 0.289],
  [135, 0.207],
  [140, 0.182],
];

describe('a spot drill', () => {
  it.each(FACTORS)('of %i° goes %f of the chamfer’s diameter deep', (angle, factor) => {
    for (const diameter of [2, 6.5, 12.7, 25]) {
      const depth = depthOf({ operations: 'spot', 'spot.diameter': diameter, 'spot.angle': angle });
      // The factors have three places.
      expect(Math.abs(depth - factor * diameter)).toBeLessThanOrEqual(0.0006 * diameter + 0.001);
    }
  });

  it('of 90° for a 1 mm chamfer at M8 goes half of 10 mm deep', () => {
    // Worked by hand: the chamfer's diameter is 8 + 2·1 = 10, and 10/(2·tan 45°) = 5.
    expect(depthOf({ operations: 'spot', 'spot.diameter': 10, 'spot.angle': 90 })).toBe(5);
  });
});

/**
 * Machinery's Handbook, "Lengths of Points on Twist Drills and Centering Tools": size of the tool, length of its point at 90° and
 * at 118°, inches with three places. Rows typed from memory.
 */
const POINTS: readonly (readonly [size: number, at90: number, at118: number])[] = [
  [0.125, 0.062, 0.038],
  [0.25, 0.125, 0.075],
  [0.5, 0.25, 0.15],
  [0.75, 0.375, 0.225],
  [1, 0.5, 0.3],
];

describe('a spot as wide as the tool', () => {
  it.each(POINTS)('of %f in goes as deep as the handbook’s point is long', (size, at90, at118) => {
    for (const [angle, length] of [
      [90, at90],
      [118, at118],
    ]) {
      const depth = depthOf({ operations: 'spot', 'spot.diameter': size * 25.4, 'spot.angle': angle });
      expect(Math.abs(depth / 25.4 - length)).toBeLessThanOrEqual(0.0006);
    }
  });
});

/**
 * Countersinks for flat head screws: thread, clearance hole, largest countersink, its depth t₁ at the hole's edge, mm. ISO 15065,
 * from memory; the 90° cone makes t₁ = (Dc − dh)/2.
 */
const ISO_15065: readonly (readonly [thread: string, hole: number, countersink: number, depth: number])[] = [
  ['M3', 3.4, 6.5, 1.55],
  ['M4', 4.5, 9.6, 2.55],
  ['M5', 5.5, 10.65, 2.58],
  ['M6', 6.6, 12.85, 3.13],
  ['M8', 9, 17.55, 4.28],
  ['M10', 11, 20.3, 4.65],
];

describe('a countersink for a flat head screw', () => {
  it.each(ISO_15065)('%s is as deep as the standard has it', (_, hole, diameter, depth) => {
    const tip = depthOf({ operations: 'countersink', 'countersink.diameter': diameter });
    // The cone is as wide as the hole half its diameter above the tip.
    expect(Math.abs(tip - hole / 2 - depth)).toBeLessThanOrEqual(0.006);
    // A tool with a flat as wide as the hole goes just so deep.
    const flat = depthOf({ operations: 'countersink', 'countersink.diameter': diameter, 'countersink.tip': hole });
    expect(Math.abs(flat - depth)).toBeLessThanOrEqual(0.006);
  });
});
