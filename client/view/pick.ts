// Which part of the path is under the pointer: the nearest drawn line within a few pixels.
import { PathStyle, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import { basisOf, type Camera, dot, type Point, project, type Size } from './camera.ts';
import type { ShownPiece } from './picture.ts';

/** What was found. */
export interface Picked {
  /** 0-based line of the program. */
  readonly line: number;
  readonly tool: number;
  readonly style: number;
  /** Pixels from the pointer. */
  readonly distance: number;
}

/** Of lines nearer to each other than this, the one nearer to the viewer is taken, pixels. */
const SAME_PLACE = 0.75;
const STYLE_MASK = (1 << STYLE_BITS) - 1;

/** Finds what is nearest to a pixel within `reach` pixels. */
export function pick(
  pieces: readonly ShownPiece[],
  camera: Camera,
  size: Size,
  x: number,
  y: number,
  reach = 8,
): Picked | undefined {
  let best: (Picked & { depth: number }) | undefined;
  for (const piece of pieces) {
    if (!nearBounds(piece.path.bounds, camera, size, x, y, reach)) {
      continue;
    }
    const found = nearestIn(piece, camera, size, x, y, best ? best.distance + SAME_PLACE : reach);
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
    left = Math.min(left, seen.x);
    right = Math.max(right, seen.x);
    top = Math.min(top, seen.y);
    bottom = Math.max(bottom, seen.y);
  }
  return x >= left - reach && x <= right + reach && y >= top - reach && y <= bottom + reach;
}

function nearestIn(
  { path, firstLine }: ShownPiece,
  camera: Camera,
  size: Size,
  x: number,
  y: number,
  reach: number,
): (Picked & { depth: number }) | undefined {
  const { positions, codes, tools, origin } = path;
  const { right, up, toward } = basisOf(camera);
  const start = project(camera, size, origin as unknown as Point);
  // Everything relative to the pointer; without perspective the projection is three sums a point.
  const [startX, startY] = [start.x - x, start.y - y];
  const [rx, ry, rz] = right.map((part) => part * camera.scale);
  const [ux, uy, uz] = up.map((part) => -part * camera.scale);
  let found = -1;
  let distance = reach;
  let depth = -Infinity;
  let [ax, ay] = [0, 0];
  for (let i = 0; i < codes.length; i++) {
    const [px, py, pz] = [positions[i * 3], positions[i * 3 + 1], positions[i * 3 + 2]];
    const bx = startX + rx * px + ry * py + rz * pz;
    const by = startY + ux * px + uy * py + uz * pz;
    if ((codes[i] & STYLE_MASK) !== PathStyle.none) {
      const here = Math.sqrt(squaredDistance(ax, ay, bx, by));
      if (here <= distance + (found < 0 ? 0 : SAME_PLACE)) {
        const depthHere = dot(toward, [px, py, pz]);
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
  const line = firstLine + ((codes[found] | 0) >> STYLE_BITS);
  return { line, tool: tools[found], style: codes[found] & STYLE_MASK, distance, depth: depth + start.depth };
}

/** Square of the distance from (0, 0) to a line between two points, pixels. */
function squaredDistance(ax: number, ay: number, bx: number, by: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const squared = dx * dx + dy * dy;
  const part = squared > 0 ? Math.min(1, Math.max(0, -(ax * dx + ay * dy) / squared)) : 0;
  const [nx, ny] = [ax + part * dx, ay + part * dy];
  return nx * nx + ny * ny;
}
