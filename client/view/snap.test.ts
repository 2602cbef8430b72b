// What the pointer is drawn to, against arcs whose ends and centres are known.
import { describe, expect, it } from 'vitest';
import {
  createPackedPath,
  type PackedPath,
  PathStyle,
  STYLE_BITS,
} from '../../server/src/core/geometry/packedLayout.ts';
import { chordCount } from '../../server/src/core/geometry/pathMoves.ts';
import { type Camera, project, startCamera } from './camera.ts';
import { nextEnd, snap } from './snap.ts';
import { arcsOf } from './snapArcs.ts';

type Triple = [number, number, number];
interface Vertex {
  readonly at: Triple;
  readonly line: number;
  readonly style: number;
}

const size = { width: 800, height: 600 };
const PLANES = { XY: [0, 1, 2], ZX: [2, 0, 1], YZ: [1, 2, 0] } as const;

/** Chords of an arc as the server makes them, degrees. */
function arc(
  plane: keyof typeof PLANES,
  centre: Triple,
  radius: number,
  start: number,
  sweep: number,
  line: number,
  rise = 0,
): Vertex[] {
  const [i, j, k] = PLANES[plane];
  const count = chordCount(radius, (sweep * Math.PI) / 180);
  return Array.from({ length: count + 1 }, (_, n) => {
    const angle = ((start + (sweep * n) / count) * Math.PI) / 180;
    const at: Triple = [...centre];
    at[i] += radius * Math.cos(angle);
    at[j] += radius * Math.sin(angle);
    at[k] += (rise * n) / count;
    return { at, line, style: rise === 0 ? PathStyle.arc : PathStyle.helix };
  });
}

function pack(vertices: readonly Vertex[], origin: Triple): PackedPath {
  const path = createPackedPath(vertices.length, 0);
  path.origin.set(origin);
  vertices.forEach(({ at, line, style }, i) => {
    path.positions.set(
      at.map((value, axis) => value - origin[axis]),
      3 * i,
    );
    path.codes[i] = (line << STYLE_BITS) | (i === 0 ? PathStyle.none : style);
  });
  return path;
}

const pieceOf = (path: PackedPath) => [{ id: 1, firstLine: 10, path, startSeconds: 0, seconds: 0 }];

describe('arcs among the vertices', () => {
  it('have their centres to 0.001 mm, in all planes, far from the origin too', () => {
    for (const plane of ['XY', 'ZX', 'YZ'] as const) {
      for (const [radius, sweep, rise] of [
        [5, 360, 0],
        [25, -90, 0],
        [80, 30, 0],
        [0.5, 180, 0],
        [12, 720, -6],
        [150, -360, 4],
      ]) {
        const centre: Triple = [412.3456, -98.7654, -12.5];
        const vertices = arc(plane, centre, radius, 17, sweep, 3, rise);
        const path = pack(vertices, [380, -120, 0]);
        const { centres, inside, ends } = arcsOf(path);
        expect(ends).toEqual(Uint32Array.of(vertices.length - 1));
        [380, -120, 0].forEach((origin, axis) => {
          expect(Math.abs(centres[axis] + origin - centre[axis])).toBeLessThan(0.001);
        });
        expect(inside.reduce((sum, bit) => sum + bit, 0)).toBe(vertices.length - 2);
      }
    }
  });

  it('are told apart where one follows the other, and from straight moves', () => {
    const vertices = [
      { at: [0, 0, 0] as Triple, line: 0, style: PathStyle.none },
      { at: [50, 0, 0] as Triple, line: 1, style: PathStyle.cut },
      ...arc('XY', [50, 10, 0], 10, -90, 90, 2).slice(1),
      ...arc('XY', [70, 10, 0], 10, 180, -90, 2).slice(1),
      { at: [90, 20, 0] as Triple, line: 3, style: PathStyle.cut },
      { at: [90, 40, 0] as Triple, line: 4, style: PathStyle.cut },
      { at: [70, 40, 0] as Triple, line: 5, style: PathStyle.cut },
    ];
    const { centres } = arcsOf(pack(vertices, [0, 0, 0]));
    expect([...centres].map((value) => Math.round(value * 1000) / 1000)).toEqual([50, 10, 0, 70, 10, 0]);
  });

  it('are not seen in corners of a pocket made on one line', () => {
    const corners: Triple[] = [
      [0, 0, 0],
      [20, 0, 0],
      [20, 20, 0],
      [0, 20, 0],
      [0, 0, 0],
    ];
    const path = pack(
      corners.map((at) => ({ at, line: 1, style: PathStyle.arc })),
      [0, 0, 0],
    );
    expect(arcsOf(path).ends.length).toBe(0);
  });
});

describe('the pointer', () => {
  const camera: Camera = { ...startCamera, target: [50, 10, 0], scale: 8 };
  const path = pack(
    [
      { at: [0, 0, 5], line: 0, style: PathStyle.none },
      { at: [50, 0, 5], line: 1, style: PathStyle.rapid },
      { at: [50, 0, -2], line: 2, style: PathStyle.plunge },
      ...arc('XY', [50, 10, -2], 10, -90, 180, 3).slice(1),
    ],
    [0, 0, 0],
  );
  const near = (point: Triple, view = camera) => {
    const { x, y } = project(view, size, point);
    return snap(pieceOf(path), view, size, x + 3, y - 4);
  };

  it('is drawn to ends and centres, and takes the upper one of two', () => {
    expect(near([50, 0, 0])).toMatchObject({ kind: 'end', vertex: 1, at: [50, 0, 5], distance: 5 });
    expect(near([50, 20, 0])).toMatchObject({ kind: 'end', vertex: path.vertexCount - 1 });
    const centre = near([50, 10, 0]);
    expect(centre).toMatchObject({ kind: 'centre', piece: 1 });
    centre?.at.forEach((value, axis) => {
      expect(value).toBeCloseTo([50, 10, -2][axis], 4);
    });
  });

  it('is not drawn to corners inside an arc, nor from far away', () => {
    expect(near([60, 10, 0])).toBeUndefined();
    expect(near([30, 10, 0])).toBeUndefined();
  });

  it('is drawn to the same points with perspective', () => {
    const eye: Camera = { ...camera, view: 'space', lens: 'perspective' };
    expect(near([50, 20, -2], eye)).toMatchObject({ kind: 'end', vertex: path.vertexCount - 1 });
  });

  it('is drawn to the work zero, where no end lies nearer', () => {
    expect(snap(pieceOf(path), { ...camera, target: [-20, 0, 0] }, size, 400 + 160, 300)).toMatchObject({
      kind: 'end',
    });
    const higher = pack(
      [
        { at: [5, 0, 0], line: 0, style: PathStyle.none },
        { at: [50, 0, 5], line: 1, style: PathStyle.rapid },
      ],
      [0, 0, 0],
    );
    expect(near([0, 0, 0])).toMatchObject({ kind: 'end' });
    const { x, y } = project(camera, size, [0, 0, 0]);
    expect(snap(pieceOf(higher), camera, size, x + 2, y)).toMatchObject({ kind: 'zero', at: [0, 0, 0] });
  });

  it('is not drawn to what is left out', () => {
    const seenOf = () => ({ kinds: ~(1 << PathStyle.arc), hidden: 'nothing' as const });
    const at = (point: Triple) => {
      const { x, y } = project(camera, size, point);
      return snap(pieceOf(path), camera, size, x, y, seenOf);
    };
    expect(at([50, 20, 0])).toBeUndefined();
    expect(at([50, 10, 0])).toBeUndefined();
    expect(at([50, 0, 0])).toMatchObject({ kind: 'end' });
    expect(nextEnd(pieceOf(path), { piece: 1, vertex: 2 }, 1, seenOf)).toBeUndefined();
  });

  it('goes from end to end by keys, over the corners of an arc', () => {
    const pieces = pieceOf(path);
    const seen: number[] = [];
    for (let end = nextEnd(pieces, undefined, 1); end; end = nextEnd(pieces, end, 1)) {
      seen.push(end.vertex);
    }
    expect(seen).toEqual([0, 1, 2, path.vertexCount - 1]);
    expect(nextEnd(pieces, undefined, -1)?.vertex).toBe(path.vertexCount - 1);
    expect(nextEnd(pieces, { piece: 1, vertex: path.vertexCount - 1 }, -1)?.vertex).toBe(2);
  });
});
