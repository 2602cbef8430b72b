// Points that the pointer is drawn to: where moves end, the centres of arcs, and the work zero.
import { basisOf, type Camera, dot, enlargement, eyeDistance, type Point, project, type Size } from './camera.ts';
import { EVERYTHING, isWaySeen, type SeenOf, type SeenWays } from './pick.ts';
import type { ShownPiece } from './picture.ts';
import { arcsOf, type PieceArcs } from './snapArcs.ts';

/** A point that was found. */
export interface Snapped {
  readonly kind: 'end' | 'centre' | 'zero';
  /** Work coordinates, mm. */
  readonly at: Point;
  /** Pixels from the pointer. */
  readonly distance: number;
  /** The piece, and its vertex where the move or the arc ends; −1 of the work zero. */
  readonly piece: number;
  readonly vertex: number;
}

/** Of points nearer to each other than this, the one nearer to the viewer is taken, pixels. */
const SAME_PLACE = 0.5;

/** What is known of the arcs of pieces that were asked about. */
const known = new WeakMap<ShownPiece['path'], PieceArcs>();

function arcsIn(path: ShownPiece['path']): PieceArcs {
  const arcs = known.get(path) ?? arcsOf(path);
  known.set(path, arcs);
  return arcs;
}

/** Finds the end or centre nearest to a pixel within `reach` pixels. */
export function snap(
  pieces: readonly ShownPiece[],
  camera: Camera,
  size: Size,
  x: number,
  y: number,
  seenOf: SeenOf = () => EVERYTHING,
  reach = 9,
): Snapped | undefined {
  let best: (Snapped & { readonly depth: number }) | undefined;
  for (const piece of pieces) {
    const { path } = piece;
    const { inside, centres, ends } = arcsIn(path);
    const seen = seenOf(piece);
    const look = nearest(piece, camera, size, x, y);
    const take = (
      kind: Snapped['kind'],
      list: ArrayLike<number>,
      count: number,
      skips: (i: number) => boolean,
    ): void => {
      for (const { index, distance, depth } of look(list, count, best ? best.distance + SAME_PLACE : reach, skips)) {
        if (!best || distance < best.distance - SAME_PLACE || depth > best.depth) {
          const vertex = kind === 'centre' ? ends[index] : index;
          const at = [0, 1, 2].map((axis) => path.origin[axis] + list[3 * index + axis]);
          best = { kind, at: at as unknown as Point, distance, piece: piece.id, vertex, depth };
        }
      }
    };
    take('end', path.positions, path.vertexCount, (i) => inside[i] === 1 || isAlone(path.codes, i, seen));
    take('centre', centres, ends.length, (i) => !isWaySeen(path.codes, ends[i], seen));
  }
  const zero = project(camera, size, [0, 0, 0]);
  const distance = Math.hypot(zero.x - x, zero.y - y);
  // An end at the work zero is found by its own.
  return distance <= (best ? best.distance - SAME_PLACE : reach) ? { ...ZERO, distance } : best;
}

const ZERO = { kind: 'zero', at: [0, 0, 0], piece: -1, vertex: -1 } as const;

/** The end that comes next in the order of the run, or the one before; the first (the last) where none is given. */
export function nextEnd(
  pieces: readonly ShownPiece[],
  from: Pick<Snapped, 'piece' | 'vertex'> | undefined,
  step: 1 | -1,
  seenOf: SeenOf = () => EVERYTHING,
): Snapped | undefined {
  const start = pieces.findIndex(({ id }) => id === from?.piece);
  let p = start < 0 ? (step > 0 ? 0 : pieces.length - 1) : start;
  let vertex = start < 0 || !from ? (step > 0 ? -1 : (pieces[p]?.path.vertexCount ?? 0)) : from.vertex;
  for (; p >= 0 && p < pieces.length; p += step) {
    const { id, path } = pieces[p];
    const seen = seenOf(pieces[p]);
    const { inside } = arcsIn(path);
    for (vertex += step; vertex >= 0 && vertex < path.vertexCount; vertex += step) {
      if (inside[vertex] !== 1 && !isAlone(path.codes, vertex, seen)) {
        const at = [0, 1, 2].map((axis) => path.origin[axis] + path.positions[3 * vertex + axis]);
        return { kind: 'end', at: at as unknown as Point, distance: 0, piece: id, vertex };
      }
    }
    vertex = step > 0 ? -1 : (pieces[p - 1]?.path.vertexCount ?? 0);
  }
  return undefined;
}

/** True for a vertex that no way leads to or away from, as far as ways are seen. */
const isAlone = (codes: Uint32Array, i: number, seen: SeenWays): boolean =>
  !isWaySeen(codes, i, seen) && (i + 1 >= codes.length || !isWaySeen(codes, i + 1, seen));

interface Near {
  readonly index: number;
  readonly distance: number;
  readonly depth: number;
}

/** A look through points of a piece for those within reach of a pixel. */
function nearest(
  { path: { origin } }: ShownPiece,
  camera: Camera,
  size: Size,
  x: number,
  y: number,
): (list: ArrayLike<number>, count: number, reach: number, skips: (index: number) => boolean) => Near[] {
  const { right, up, toward } = basisOf(camera);
  const eye = eyeDistance(camera, size);
  const from: Point = [origin[0] - camera.target[0], origin[1] - camera.target[1], origin[2] - camera.target[2]];
  const [startRight, startUp, startToward] = [dot(right, from), dot(up, from), dot(toward, from)];
  const [px, py] = [x - size.width / 2, size.height / 2 - y];
  return (list, count, reach, skips) => {
    const found: Near[] = [];
    for (let i = 0; i < count; i++) {
      const [a, b, c] = [list[3 * i], list[3 * i + 1], list[3 * i + 2]];
      const depth = startToward + toward[0] * a + toward[1] * b + toward[2] * c;
      const scale = camera.scale * enlargement(eye, depth);
      const dx = scale * (startRight + right[0] * a + right[1] * b + right[2] * c) - px;
      const dy = scale * (startUp + up[0] * a + up[1] * b + up[2] * c) - py;
      const squared = dx * dx + dy * dy;
      if (squared <= reach * reach && !skips(i)) {
        found.push({ index: i, distance: Math.sqrt(squared), depth });
      }
    }
    return found;
  };
}
