/**
 * Bolt circles against the table of hole coordinates for jig boring in machining handbooks (Machinery's Handbook, "Hole
 * Coordinate Dimension Factors for Jig Boring", type A). The factors are typed from memory of the table: a circle of diameter
 * 1 in a square whose upper left corner is 0,0, X to the right, Y down, the first hole at the top, the others counter-clockwise.
 */
import { describe, expect, it } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';

type Factors = readonly (readonly [x: number, y: number])[];

// biome-ignore format: a table reads best in rows
const HANDBOOK: Readonly<Record<number, Factors>> = {
  3: [[0.5, 0], [0.06699, 0.75], [0.93301, 0.75]],
  4: [[0.5, 0], [0, 0.5], [0.5, 1], [1, 0.5]],
  5: [[0.5, 0], [0.02447, 0.34549], [0.20611, 0.90451], [0.79389, 0.90451], [0.97553, 0.34549]],
  6: [[0.5, 0], [0.06699, 0.25], [0.06699, 0.75], [0.5, 1], [0.93301, 0.75], [0.93301, 0.25]],
  7: [
    [0.5, 0], [0.10908, 0.18826], [0.01254, 0.61126], [0.28306, 0.95048],
    [0.71694, 0.95048], [0.98746, 0.61126], [0.89092, 0.18826],
  ],
  8: [
    [0.5, 0], [0.14645, 0.14645], [0, 0.5], [0.14645, 0.85355],
    [0.5, 1], [0.85355, 0.85355], [1, 0.5], [0.85355, 0.14645],
  ],
};

/** The holes of a block as they are drilled: where feed goes down. */
const drilled = (raw: Readonly<Record<string, string | number>>): (readonly [number, number])[] =>
  runBlock('holes', { 'drill.diameter': 3, 'drill.depth': 5, speed: 1000, feed: 100, ...raw })
    .moves.filter(({ kind, from, to }) => kind === 'line' && to[2] < from[2])
    .map(({ to }) => [to[0], to[1]]);

describe('a full bolt circle', () => {
  it.each(Object.entries(HANDBOOK))('of %s holes lies where the handbook has it', (count, factors) => {
    const diameter = 100;
    // The handbook's square: its corner is the work's zero, and its Y goes down.
    const found = drilled({
      pattern: 'circle',
      count,
      radius: diameter / 2,
      start: 90,
      at: `${diameter / 2},${-diameter / 2}`,
    });
    expect(found).toHaveLength(factors.length);
    factors.forEach(([x, y], i) => {
      // Five places of the factor are half a thousandth of a millimetre here, and the block rounds to as much.
      expect(Math.abs(found[i][0] - x * diameter)).toBeLessThanOrEqual(0.00101);
      expect(Math.abs(found[i][1] + y * diameter)).toBeLessThanOrEqual(0.00101);
    });
  });
});

describe('part of a bolt circle', () => {
  /**
   * Chord c = 2·R·sin(pitch/2) and angle/(count − 1): any handbook; the numbers are worked by hand. Four holes over 90° on a
   * radius of 40 are 30° apart: 40·(cos 30°, sin 30°) = 34.641, 20.
   */
  it('of four holes over 90° has them 30° apart', () => {
    const found = drilled({ pattern: 'circle', count: 4, radius: 40, sweep: 90 });
    const wanted = [
      [40, 0],
      [34.641, 20],
      [20, 34.641],
      [0, 40],
    ];
    found.forEach((place, i) => {
      expect(place[0]).toBeCloseTo(wanted[i][0], 3);
      expect(place[1]).toBeCloseTo(wanted[i][1], 3);
    });
    expect(found).toHaveLength(4);
  });
});
