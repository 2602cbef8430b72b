/** Depths of drilled, reamed and tapped holes against worked examples. */
import { describe, expect, it } from 'vitest';
import { type ExecutedBlock, runBlock } from '../../harness/blocks.ts';

/** Lowest level of each operation, in their order. */
const levels = ({ lines, moves }: ExecutedBlock): number[] => {
  const ends = lines.flatMap((line, i) => (line.endsWith('G80') ? [i] : []));
  return ends.map((end, i) =>
    Math.min(
      ...moves
        // At home, before a tool change, the height over the work is not known.
        .filter(({ line, to }) => line <= end && line > (ends[i - 1] ?? -1) && !Number.isNaN(to[2]))
        .map(({ to }) => to[2]),
    ),
  );
};

describe('a tapped blind hole', () => {
  /**
   * The example of the design's page on rules: M6, drill 5, tip at −18 (full diameter to −16.5, point 0.300·D), tap to −15.
   * Tap: 12 of full thread and a lead of 3 × 1; drill: 1.5 × P of room for chips below it.
   */
  it('M6 with 12 mm of full thread is drilled to 18 and tapped to 15', () => {
    const block = runBlock('holes', {
      operations: 'drill,tap',
      'tap.tool-number': 2,
      'tap.thread': 'M6',
      'tap.holder': 'synchronised',
      'tap.depth': 12,
      'tap.speed': 300,
      speed: 1200,
      feed: 120,
    });
    const [drill, tap] = levels(block);
    expect(drill).toBeCloseTo(-18, 2);
    expect(tap).toBe(-15);
    expect(block.lines.join('\n')).toContain('DRILL D5.');
  });
});

describe('a drill’s point', () => {
  /** Length of the point a diameter, by point angle: common in drilling handbooks, from memory. */
  it.each([
    [90, 0.5],
    [118, 0.3],
    [130, 0.233],
    [135, 0.207],
    [140, 0.182],
  ])('of %i° is %f of the diameter', (angle, factor) => {
    for (const diameter of [3, 8.5, 20]) {
      const block = runBlock('holes', {
        'drill.diameter': diameter,
        'drill.depth': 25,
        'drill.angle': angle,
        speed: 500,
        feed: 50,
      });
      expect(Math.abs(levels(block)[0] + 25 + factor * diameter)).toBeLessThanOrEqual(0.0006 * diameter);
    }
  });

  it('comes out of a plate of 20 with 1 mm of the full diameter: 10 mm and 118° go to 24.004', () => {
    const block = runBlock('holes', {
      'drill.diameter': 10,
      'drill.depth': 20,
      'drill.through': 'yes',
      speed: 500,
      feed: 50,
    });
    expect(levels(block)).toEqual([-24.004]);
  });
});
