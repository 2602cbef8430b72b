// What a camera needs to know of the path: how far before its target lies what is seen, so that another view turns about
// that, and where some lines lie.
import { emptyBounds, PathStyle, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import { basisOf, type Camera, dot, enlargement, eyeDistance, type Point, type Size } from './camera.ts';
import type { ShownPiece } from './picture.ts';

/**
 * How far what is looked at lies before the target, mm: 0 where the target is among the depths of what is in the picture or
 * near them, else their middle. What is cut counts, and rapids only where nothing else is in the picture.
 */
export function depthSeen(pieces: readonly ShownPiece[], camera: Camera, size: Size): number {
  const cut = { least: Number.POSITIVE_INFINITY, greatest: Number.NEGATIVE_INFINITY };
  const rapid = { ...cut };
  for (const piece of pieces) {
    const depthOf = depthsIn(piece, camera, size);
    const { codes, vertexCount } = piece.path;
    for (let i = 0; i < vertexCount; i++) {
      const style = codes[i] & STYLE_MASK;
      const depth = style === PathStyle.none ? Number.NaN : depthOf(i);
      if (!Number.isNaN(depth)) {
        const range = style === PathStyle.rapid ? rapid : cut;
        range.least = Math.min(range.least, depth);
        range.greatest = Math.max(range.greatest, depth);
      }
    }
  }
  const { least, greatest } = cut.least <= cut.greatest ? cut : rapid;
  // Half of a picture beside the target will be seen beside it in the next view too.
  const beside = Math.min(size.width, size.height) / 2 / camera.scale;
  const holdsTarget = least <= beside && greatest >= -beside;
  return holdsTarget || !(least <= greatest) ? 0 : (least + greatest) / 2;
}

/** Gives the depth of a vertex before the target, mm; NaN if it is outside the picture. */
function depthsIn({ path }: ShownPiece, camera: Camera, size: Size): (vertex: number) => number {
  const { right, up, toward } = basisOf(camera);
  const eye = eyeDistance(camera, size);
  const [across, down] = [size.width / 2 / camera.scale, size.height / 2 / camera.scale];
  const { origin, positions } = path;
  const { target } = camera;
  const from: Point = [origin[0] - target[0], origin[1] - target[1], origin[2] - target[2]];
  const [startRight, startUp, startToward] = [dot(right, from), dot(up, from), dot(toward, from)];
  return (vertex) => {
    const [x, y, z] = [positions[3 * vertex], positions[3 * vertex + 1], positions[3 * vertex + 2]];
    const depth = startToward + toward[0] * x + toward[1] * y + toward[2] * z;
    const scale = enlargement(eye, depth);
    const isSeen =
      Math.abs((startRight + right[0] * x + right[1] * y + right[2] * z) * scale) <= across &&
      Math.abs((startUp + up[0] * x + up[1] * y + up[2] * z) * scale) <= down;
    return isSeen ? depth : Number.NaN;
  };
}

/** Least and greatest X Y Z of the moves of these lines (0-based, of the program); least above greatest if they move nothing. */
export function linesBounds(pieces: readonly ShownPiece[], first: number, last: number): Float64Array {
  const bounds = emptyBounds();
  for (const { path, firstLine } of pieces) {
    const { origin, positions, codes } = path;
    for (let i = 1; i < codes.length; i++) {
      const line = firstLine + ((codes[i] | 0) >> STYLE_BITS);
      if (line < first || line > last || (codes[i] & STYLE_MASK) === PathStyle.none) {
        continue;
      }
      for (let at = 3 * i - 3; at < 3 * i + 3; at++) {
        const axis = at % 3;
        const value = origin[axis] + positions[at];
        bounds[axis] = Math.min(bounds[axis], value);
        bounds[axis + 3] = Math.max(bounds[axis + 3], value);
      }
    }
  }
  return bounds;
}
