// Where the tool stands when the lit block has run.
import { PathStyle, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathPlace } from '../../server/src/core/geometry/pathSummary.ts';
import type { Point } from './camera.ts';
import type { ShownPiece } from './picture.ts';
import type { LitLines } from './scene.ts';

/** A vertex and where it is, work coordinates in mm. */
export interface LitPlace extends PathPlace {
  readonly at: Point;
}

/**
 * The end of the last lit line that moves, on the first pass that comes through it; `undefined` where none moves. Looks
 * through the whole path.
 */
export function litPlace(pieces: readonly ShownPiece[], { first, last }: LitLines): LitPlace | undefined {
  let best: { readonly piece: ShownPiece; readonly vertex: number; readonly line: number } | undefined;
  for (const piece of pieces) {
    const { codes } = piece.path;
    for (let vertex = 1; vertex < codes.length; vertex++) {
      const line = piece.firstLine + ((codes[vertex] | 0) >> STYLE_BITS);
      if (line < first || line > last || (codes[vertex] & STYLE_MASK) === PathStyle.none) {
        continue;
      }
      // The same line again: its next chord or move, as long as nothing of another line lies between.
      const goesOn = best?.line === line && best.piece === piece && best.vertex === vertex - 1;
      if (!best || line > best.line || goesOn) {
        best = { piece, vertex, line };
      }
    }
  }
  if (!best) {
    return undefined;
  }
  const { piece, vertex } = best;
  const { origin, positions } = piece.path;
  const at = (axis: number): number => origin[axis] + positions[vertex * 3 + axis];
  return { piece: piece.id, vertex, at: [at(0), at(1), at(2)] };
}
