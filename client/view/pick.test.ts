import { describe, expect, it } from 'vitest';
import { createPackedPath, PathStyle, RowField, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import { type Camera, project } from './camera.ts';
import { pick } from './pick.ts';
import type { ShownPiece } from './picture.ts';

const size = { width: 400, height: 400 };
const camera: Camera = { view: 'top', target: [0, 0, 0], scale: 10, azimuth: 0, elevation: 0 };

/** A piece of these vertices: x, y, z, line, style. */
function pieceOf(vertices: readonly (readonly number[])[], firstLine = 0, id = 1): ShownPiece {
  const path = createPackedPath(vertices.length, 0);
  path.origin.set([3, 4, 5]);
  path.rows[RowField.tool] = 7;
  vertices.forEach(([x, y, z, line, style], i) => {
    path.positions.set([x - 3, y - 4, z - 5], i * 3);
    path.codes[i] = (line << STYLE_BITS) | style;
  });
  const column = (axis: number): number[] => vertices.map((vertex) => vertex[axis]);
  path.bounds.set([0, 1, 2].map((axis) => Math.min(...column(axis))));
  path.bounds.set(
    [0, 1, 2].map((axis) => Math.max(...column(axis))),
    3,
  );
  return { id, firstLine, path, startSeconds: 0, seconds: 0, times: undefined };
}

const { none, cut, rapid } = PathStyle;
const corner = pieceOf(
  [
    [0, 0, 0, 0, none],
    [10, 0, 0, 1, cut],
    [10, 10, 0, 2, cut],
    [0, 10, 0, 3, none],
    [0, 0, 0, 4, rapid],
  ],
  100,
);

/** Picks beside a point of the work, pixels right and down. */
const pickAt = (pieces: ShownPiece[], point: readonly [number, number, number], dx = 0, dy = 0, from = camera) => {
  const { x, y } = project(from, size, point);
  return pick(pieces, from, size, x + dx, y + dy);
};

describe('picking', () => {
  it('finds the nearest line of the program, with its tool', () => {
    expect(pickAt([corner], [5, 0, 0], 0, 6)).toMatchObject({ line: 101, tool: 7, style: cut, piece: 1, vertex: 1 });
    expect(pickAt([corner], [10, 5, 0], -3)?.line).toBe(102);
    expect(pickAt([corner], [10, 5, 0], -3)?.distance).toBeCloseTo(3, 4);
  });

  it('tells the line of a move that began before its piece', () => {
    const piece = pieceOf(
      [
        [0, 0, 0, 0, none],
        [10, 0, 0, -3, cut],
      ],
      100,
    );
    expect(pickAt([piece], [5, 0, 0])?.line).toBe(97);
  });

  it('finds nothing beyond eight pixels, beside a line’s ends, and where nothing is drawn', () => {
    expect(pickAt([corner], [5, 0, 0], 0, 8.5)).toBeUndefined();
    expect(pickAt([corner], [10, 10, 0], 6, -6)).toBeUndefined();
    expect(pickAt([corner], [5, 10, 0])).toBeUndefined();
  });

  it('takes what lies nearer to the viewer where lines cover each other', () => {
    const deep = pieceOf(
      [
        [0, 2, -9, 0, none],
        [10, 2, -9, 1, cut],
      ],
      0,
      1,
    );
    const high = pieceOf(
      [
        [0, 2, 9, 0, none],
        [10, 2, 9, 1, rapid],
      ],
      50,
      2,
    );
    expect(pickAt([deep, high], [5, 2, 0], 0, 1)?.line).toBe(51);
    expect(pickAt([high, deep], [5, 2, 0], 0, 1)?.line).toBe(51);
  });

  it('takes the nearer line also in a later piece', () => {
    const other = pieceOf(
      [
        [0, 0.5, -30, 0, none],
        [10, 0.5, -30, 1, cut],
      ],
      50,
      2,
    );
    expect(pickAt([corner, other], [5, 0.5, 0])?.line).toBe(51);
  });

  it('works in space', () => {
    const space: Camera = { view: 'space', target: [5, 5, 0], scale: 10, azimuth: 33, elevation: 40 };
    expect(pickAt([corner], [10, 5, 0], 1, 1, space)?.line).toBe(102);
  });

  it('passes over a piece in which nothing is drawn', () => {
    const empty = createPackedPath(1, 0);
    expect(pick([{ ...corner, path: empty }], camera, size, 0, 0)).toBeUndefined();
  });

  it('tells the point of the way, with perspective too, and leaves out what lies behind the eye', () => {
    const rising = pieceOf([
      [0, 0, 0, 0, none],
      [10, 6, 30, 1, cut],
      [40, -900, 900, 2, cut],
    ]);
    for (const lens of ['parallel', 'perspective'] as const) {
      const from: Camera = { ...camera, view: 'space', lens, azimuth: 20, elevation: 30 };
      for (const part of [0.1, 0.5, 0.8]) {
        const picked = pickAt([rising], [10 * part, 6 * part, 30 * part], 0, 0, from);
        expect(picked?.line).toBe(1);
        picked?.at.forEach((value, axis) => {
          expect(value).toBeCloseTo([10, 6, 30][axis] * part, 3);
        });
      }
    }
  });
});
