import { describe, expect, it } from 'vitest';
import {
  createPackedPath,
  type PackedPath,
  PathStyle,
  STYLE_BITS,
} from '../../server/src/core/geometry/packedLayout.ts';
import { roundedDown, thinned } from './thinned.ts';

/** A path through points on a line, one program line a way. */
function pathOf(points: readonly (readonly [number, number])[]): PackedPath {
  const path = createPackedPath(points.length, 0);
  points.forEach(([x, style], i) => {
    path.positions.set([x, 0, 0], 3 * i);
    path.codes[i] = (i << STYLE_BITS) | style;
  });
  return path;
}
const { none, rapid, cut } = PathStyle;

describe('a path that is thinned out', () => {
  it('leaves out what lies nearer than the tolerance to the last vertex left', () => {
    const path = pathOf([
      [0, none],
      [0.3, cut],
      [0.6, cut],
      [1.2, cut],
      [1.3, cut],
      [9, cut],
    ]);
    expect([...thinned(path, 1)]).toEqual([0, 3, 5]);
  });

  it('keeps the vertex at which the kind of line changes, and the last one', () => {
    const path = pathOf([
      [0, none],
      [0.1, rapid],
      [0.2, rapid],
      [0.3, cut],
      [0.35, cut],
    ]);
    expect([...thinned(path, 1)]).toEqual([0, 2, 4]);
  });

  it('draws nothing farther from its place than the tolerance', () => {
    let seed = 1;
    const random = (): number => {
      seed = (seed * 48_271) % 2_147_483_647;
      return seed / 2_147_483_647;
    };
    for (let round = 0; round < 200; round++) {
      const tolerance = 0.1 + random();
      const points = Array.from({ length: 60 }, () => [random() * 4, random() < 0.8 ? cut : rapid] as const);
      const path = pathOf(points);
      const left = thinned(path, tolerance);
      expect(left[0]).toBe(0);
      expect(left.at(-1)).toBe(59);
      for (let way = 1; way < left.length; way++) {
        const start = points[left[way - 1]][0];
        for (let vertex = left[way - 1] + 1; vertex < left[way]; vertex++) {
          expect(Math.abs(points[vertex][0] - start)).toBeLessThan(tolerance);
          expect(points[vertex][1]).toBe(points[left[way]][1]);
        }
      }
    }
  });

  it('rounds tolerances down to powers of two', () => {
    expect([0.3, 1, 5].map(roundedDown)).toEqual([0.25, 1, 4]);
  });
});
