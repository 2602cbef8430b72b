// Which part of the path is under the pointer: the nearest drawn line within a few pixels.
import { PathStyle, RowField, rowValue, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import { basisOf, type Camera, dot, enlargement, eyeDistance, type Point, project, type Size } from './camera.ts';
import type { ShownPiece } from './picture.ts';
import type { Hidden } from './toolSections.ts';

/** What was found. */
export interface Picked {
  /** 0-based line of the program. */
  readonly line: number;
  readonly tool: number;
  readonly style: number;
  /** The vertex of the piece that the way leads to. */
  readonly piece: number;
  readonly vertex: number;
  /** The point of the way that is nearest to the pointer as seen, work coordinates in mm. */
  readonly at: Point;
  /** Pixels from the pointer. */
  readonly distance: number;
}

/** What of a piece can be seen and therefore be picked: kinds of line (bit n for `PathStyle` n), and what is left out. */
export interface SeenWays {
  readonly kinds: number;
  readonly hidden: Hidden;
}

/** Says what of a piece can be seen. */
export type SeenOf = (piece: ShownPiece) => SeenWays;

/** Nothing is left out. */
export const EVERYTHING: SeenWays = { kinds: -1, hidden: 'nothing' };

/** True if the way to a vertex is drawn and not left out. */
export const isWaySeen = (codes: Uint32Array, vertex: number, { kinds, hidden }: SeenWays): boolean => {
  const style = codes[vertex] & STYLE_MASK;
  const isOut = hidden === 'all' || (hidden !== 'nothing' && hidden[vertex] === 1);
  return style !== PathStyle.none && ((kinds >> style) & 1) === 1 && !isOut;
};

/** Of lines nearer to each other than this, the one nearer to the viewer is taken, pixels. */
const SAME_PLACE = 0.75;

/** Finds what is nearest to a pixel within `reach` pixels. */
export function pick(
  pieces: readonly ShownPiece[],
  camera: Camera,
  size: Size,
  x: number,
  y: number,
  reach = 8,
  seenOf: SeenOf = () => EVERYTHING,
): Picked | undefined {
  let best: (Picked & { depth: number }) | undefined;
  for (const piece of pieces) {
    const seen = seenOf(piece);
    if (seen.hidden === 'all' || !nearBounds(piece.path.bounds, camera, size, x, y, reach)) {
      continue;
    }
    const found = nearestIn(piece, seen, camera, size, x, y, best ? best.distance + SAME_PLACE : reach);
    if (found && (!best || found.distance < best.distance - SAME_PLACE || found.depth > best.depth)) {
      best = found;
    }
  }
  return best;
}

/** True if the pixel is within reach of the box as it is seen. */
function nearBounds(bounds: Float64Array, camera: Camera, size: Size, x: number, y: number, reach: number): boolean {
  if (!(bounds[0] <= bounds[3])) {
    return false;
  }
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let corner = 0; corner < 8; corner++) {
    const at = (axis: 0 | 1 | 2): number => bounds[corner & (1 << axis) ? axis + 3 : axis];
    const seen = project(camera, size, [at(0), at(1), at(2)]);
    if (Number.isNaN(seen.x)) {
      // Partly behind the eye: it may be seen anywhere.
      return true;
    }
    left = Math.min(left, seen.x);
    right = Math.max(right, seen.x);
    top = Math.min(top, seen.y);
    bottom = Math.max(bottom, seen.y);
  }
  return x >= left - reach && x <= right + reach && y >= top - reach && y <= bottom + reach;
}

function nearestIn(
  piece: ShownPiece,
  { kinds, hidden }: SeenWays,
  camera: Camera,
  size: Size,
  x: number,
  y: number,
  reach: number,
): (Picked & { depth: number }) | undefined {
  const { positions, codes } = piece.path;
  const seen = seenFrom(piece, camera, size, x, y);
  const point: [number, number, number] = [0, 0, 0];
  const wanted = kinds & ~(1 << PathStyle.none);
  const ways = hidden instanceof Uint8Array ? hidden : undefined;
  let found = -1;
  let distance = reach;
  let depth = -Infinity;
  let [ax, ay] = [0, 0];
  for (let i = 0; i < codes.length; i++) {
    seen(positions[i * 3], positions[i * 3 + 1], positions[i * 3 + 2], point);
    const [bx, by, depthHere] = point;
    // What lies behind the eye has no place in the picture, and its distance is not a number.
    if ((wanted >> (codes[i] & STYLE_MASK)) & 1 && ways?.[i] !== 1) {
      const here = Math.sqrt(squaredDistance(ax, ay, bx, by));
      if (here <= distance + (found < 0 ? 0 : SAME_PLACE)) {
        if (found < 0 || here < distance - SAME_PLACE || depthHere > depth) {
          found = i;
          distance = here;
          depth = depthHere;
        }
      }
    }
    ax = bx;
    ay = by;
  }
  if (found < 0) {
    return undefined;
  }
  // A move that began before the piece has a line below nought.
  const line = piece.firstLine + ((codes[found] | 0) >> STYLE_BITS);
  const tool = rowValue(piece.path, found, RowField.tool);
  const style = codes[found] & STYLE_MASK;
  const at = placeOn(piece, found, seen, eyeDistance(camera, size));
  return { line, tool, style, piece: piece.id, vertex: found, at, distance, depth };
}

/** Gives a point of the piece as seen: pixels from the pointer to the right and down, and mm before the target. */
type Seen = (px: number, py: number, pz: number, into: [number, number, number]) => void;

function seenFrom({ path }: ShownPiece, camera: Camera, size: Size, x: number, y: number): Seen {
  const { right, up, toward } = basisOf(camera);
  const [originX, originY, originZ] = path.origin;
  const from: Point = [originX - camera.target[0], originY - camera.target[1], originZ - camera.target[2]];
  const eye = eyeDistance(camera, size);
  const [pointerX, pointerY] = [size.width / 2 - x, size.height / 2 - y];
  const [startX, startY, startDepth] = [
    camera.scale * dot(right, from),
    -camera.scale * dot(up, from),
    dot(toward, from),
  ];
  const [rx, ry, rz] = right.map((part) => part * camera.scale);
  const [ux, uy, uz] = up.map((part) => -part * camera.scale);
  const [tx, ty, tz] = toward;
  return (px, py, pz, into) => {
    const depth = startDepth + tx * px + ty * py + tz * pz;
    const larger = enlargement(eye, depth);
    into[0] = pointerX + (startX + rx * px + ry * py + rz * pz) * larger;
    into[1] = pointerY + (startY + ux * px + uy * py + uz * pz) * larger;
    into[2] = depth;
  };
}

/** The point of the way to a vertex that is seen nearest to the pointer, work coordinates in mm. */
function placeOn({ path: { positions, origin } }: ShownPiece, vertex: number, seen: Seen, eye: number): Point {
  const [a, b]: [number, number, number][] = [
    [0, 0, 0],
    [0, 0, 0],
  ];
  const end = 3 * vertex;
  const start = Math.max(0, end - 3);
  seen(positions[start], positions[start + 1], positions[start + 2], a);
  seen(positions[end], positions[end + 1], positions[end + 2], b);
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const squared = dx * dx + dy * dy;
  const onScreen = squared > 0 ? Math.min(1, Math.max(0, -(a[0] * dx + a[1] * dy) / squared)) : 1;
  // What lies farther away is seen shorter.
  const [nearA, nearB] = [enlargement(eye, a[2]), enlargement(eye, b[2])];
  const part = (onScreen * nearB) / (onScreen * nearB + (1 - onScreen) * nearA);
  const at = (axis: number): number =>
    origin[axis] + positions[start + axis] + part * (positions[end + axis] - positions[start + axis]);
  return [at(0), at(1), at(2)];
}

/** Square of the distance from (0, 0) to a line between two points, pixels. */
function squaredDistance(ax: number, ay: number, bx: number, by: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const squared = dx * dx + dy * dy;
  const part = squared > 0 ? Math.min(1, Math.max(0, -(ax * dx + ay * dy) / squared)) : 0;
  const [nx, ny] = [ax + part * dx, ay + part * dy];
  return nx * nx + ny * ny;
}
