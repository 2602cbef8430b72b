/**
 * Chamfers against the trigonometry that handbooks print for countersinks and chamfers: depth = (Dcs − D)/(2·tan(θ/2)) from the
 * edge of a hole. Typed from memory, worked by hand; a slip in both the product and here would not be seen.
 */
import { describe, expect, test } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';

const CUTTER = { tool: 16, speed: 6000, feed: 600 };

describe('depth of a chamfer by its width and the point angle', () => {
  test.each([
    // 1/tan 45°, 1/tan 30°, 1/tan 60°, 1/tan 41°.
    [90, 1, 1],
    [60, 1, 1.7321],
    [120, 1, 0.5774],
    [82, 1, 1.1504],
    [90, 0.5, 0.5],
  ])('%d°, %d wide', (angle, size, depth) => {
    const { moves } = runBlock('chamfer', { ...CUTTER, diameter: 40, size, 'point-angle': angle, 'tip-offset': 0.4 });
    expect(Math.min(...moves.map(({ to }) => to[2]))).toBeCloseTo(-depth - 0.4, 3);
  });
});

describe('radius of the path from wall, tip and tip offset', () => {
  test.each([
    // A pointed cutter of 90°, its tip 0.5 below the chamfer: 0.5 from the wall.
    ['internal', 40, 90, 0, 0.5, 19.5],
    ['external', 40, 90, 0, 0.5, 20.5],
    // A flat of 2 makes it 1 more.
    ['internal', 40, 90, 2, 0.5, 18.5],
    // 60°: 1 below is 0.5774 from the axis.
    ['internal', 40, 60, 0, 1, 19.423],
    ['external', 40, 60, 0, 1, 20.577],
  ])('%s, hole or disc of %d, %d°, tip %d, %d below', (side, diameter, angle, tip, offset, radius) => {
    const { moves } = runBlock('chamfer', {
      ...{ ...CUTTER, diameter, size: 1, side, tip },
      ...{ 'point-angle': angle, 'tip-offset': offset },
    });
    const round = moves.find(({ arc }) => arc !== undefined && Math.abs(arc.sweep) > 359);
    expect(round?.arc?.radius).toBeCloseTo(radius, 3);
  });
});
