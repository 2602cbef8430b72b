import { describe, expect, it } from 'vitest';
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { nearestOf } from './measureCurves.ts';

type Triple = [number, number, number];

const common = {
  line: 0,
  length: 0,
  feed: null,
  speed: null,
  tool: null,
  seconds: null,
  offset: 'G54',
  plane: 'XY',
  pass: 1,
  passes: 1,
  part: 1,
  parts: 1,
  text: [],
} as const;
const line = (from: Triple, to: Triple): PathMove => ({ ...common, kind: 'line', from, to });
/** An arc in XY; angles in degrees. */
const arc = (centre: Triple, radius: number, start: number, sweep: number, rise = 0): PathMove => {
  const at = (angle: number, z: number): Triple => [
    centre[0] + radius * Math.cos((angle * Math.PI) / 180),
    centre[1] + radius * Math.sin((angle * Math.PI) / 180),
    z,
  ];
  const from = at(start, centre[2]);
  const to = at(start + sweep, centre[2] + rise);
  return { ...common, kind: 'arc', from, to, centre, radius, endRadius: radius, sweep };
};

describe('the distance between two moves', () => {
  it('is exact between lines, side by side, crossing above each other, and end to end', () => {
    const along = line([0, 0, 0], [100, 0, 0]);
    expect(nearestOf(along, line([20, 7.5, 0], [60, 7.5, 0]))?.distance).toBeCloseTo(7.5, 9);
    const above = nearestOf(along, line([30, -5, 4], [30, 60, 4]));
    expect(above?.distance).toBeCloseTo(4, 9);
    expect(above?.first[0]).toBeCloseTo(30, 5);
    expect(nearestOf(along, line([103, 4, 0], [200, 4, 0]))?.distance).toBeCloseTo(5, 9);
  });

  it('is exact between arcs', () => {
    expect(nearestOf(arc([0, 0, 0], 10, 0, 360), arc([40, 30, 0], 5, 90, -360))?.distance).toBeCloseTo(35, 8);
    // One inside the other, its centre 0.5 aside: 20 − 12 − 0.5.
    expect(nearestOf(arc([0, 0, 0], 20, 0, 360), arc([0.3, 0.4, 0], 12, 10, 360))?.distance).toBeCloseTo(7.5, 8);
    expect(nearestOf(line([-50, 30, 0], [50, 30, 0]), arc([0, 0, 0], 10, 0, 180))?.distance).toBeCloseTo(20, 8);
    expect(nearestOf(arc([0, 0, 0], 10, 200, 140), line([0, 0, 0], [0, 50, 0]))?.distance).toBeCloseTo(10, 8);
  });

  it('leaves out the axis that one looks along', () => {
    const deep = line([0, 3, -20], [10, 3, -20]);
    const high = line([0, 0, 5], [10, 0, 5]);
    expect(nearestOf(high, deep)?.distance).toBeCloseTo(Math.hypot(3, 25), 9);
    expect(nearestOf(high, deep, 2)?.distance).toBeCloseTo(3, 9);
  });

  it('is never more than between any two points of them', () => {
    let seed = 7;
    const random = (from: number, to: number): number => {
      seed = (seed * 16807) % 2147483647;
      return from + ((to - from) * seed) / 2147483647;
    };
    const place = (): Triple => [random(-50, 50), random(-50, 50), random(-20, 5)];
    const anyMove = (): { move: PathMove; at: (part: number) => Triple } => {
      if (random(0, 1) < 0.4) {
        const [from, to] = [place(), place()];
        const at = (part: number): Triple => from.map((v, i) => v + part * (to[i] - v)) as Triple;
        return { move: line(from, to), at };
      }
      const [centre, radius, start, sweep, rise] = [
        place(),
        random(1, 40),
        random(0, 360),
        random(-700, 700),
        random(-9, 9),
      ];
      const at = (part: number): Triple => {
        const angle = ((start + part * sweep) * Math.PI) / 180;
        return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle), centre[2] + part * rise];
      };
      return { move: arc(centre, radius, start, sweep, rise), at };
    };
    for (let trial = 0; trial < 150; trial++) {
      const [a, b] = [anyMove(), anyMove()];
      const points = (at: (part: number) => Triple): Triple[] => Array.from({ length: 101 }, (_, i) => at(i / 100));
      const [as, bs] = [points(a.at), points(b.at)];
      const sampled = Math.min(...as.flatMap((p) => bs.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]))));
      const found = nearestOf(a.move, b.move);
      expect(found?.distance).toBeLessThanOrEqual(sampled + 1e-9);
      expect(found?.distance).toBeCloseTo(
        Math.hypot(...[0, 1, 2].map((i) => (found?.first[i] ?? 0) - (found?.second[i] ?? 0))),
        9,
      );
    }
  });

  it('is not given where a place is not known', () => {
    const half: PathMove = { ...line([0, 0, 0], [1, 1, 1]), from: [0, null, 0] };
    expect(nearestOf(half, line([0, 0, 0], [1, 0, 0]))).toBeUndefined();
  });
});
