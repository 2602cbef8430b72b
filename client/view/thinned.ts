// A path with as many vertices as can be told apart on the screen.
import { type PackedPath, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';

/**
 * The vertices of a path that are left, in order, where those are left out that lie nearer than `tolerance` mm to the last
 * one left before them. So nothing is drawn farther from its place than that. Where the kind of line changes a vertex stays.
 */
export function thinned({ positions, codes, vertexCount }: PackedPath, tolerance: number): Uint32Array {
  const left = new Uint32Array(vertexCount);
  const squared = tolerance * tolerance;
  let count = 0;
  let [x, y, z] = [Number.NaN, Number.NaN, Number.NaN];
  for (let vertex = 0, at = 0; vertex < vertexCount; vertex++, at += 3) {
    const [dx, dy, dz] = [positions[at] - x, positions[at + 1] - y, positions[at + 2] - z];
    const isLast = vertex + 1 === vertexCount || (codes[vertex] & STYLE_MASK) !== (codes[vertex + 1] & STYLE_MASK);
    // Of the first one the distance is not a number.
    if (isLast || !(dx * dx + dy * dy + dz * dz < squared)) {
      left[count++] = vertex;
      x = positions[at];
      y = positions[at + 1];
      z = positions[at + 2];
    }
  }
  return left.slice(0, count);
}

/** The power of two at or below a number above nought: few tolerances are in use, and what was made for one stays good. */
export const roundedDown = (amount: number): number => 2 ** Math.floor(Math.log2(amount));
