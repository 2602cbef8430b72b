// Where on the path a picked line is, and whether it was the first time that the run came through that line.
import { RowField, rowValue } from '../../server/src/core/geometry/packedLayout.ts';
import type { Picked } from './pick.ts';
import type { ShownPiece } from './picture.ts';

/** Tells the passes through one line apart; as `PathMoveRequest` wants it. */
export interface PickedPlace {
  readonly pass: 1 | 2;
  /** A point of the move, away from its ends, which it shares with its neighbours. Work coordinates, mm. */
  readonly at: readonly [number, number, number];
}

/** Undefined where the piece has gone meanwhile. */
export function placeOf(
  pieces: readonly ShownPiece[],
  { piece, vertex }: Pick<Picked, 'piece' | 'vertex'>,
): PickedPlace | undefined {
  const path = pieces.find(({ id }) => id === piece)?.path;
  if (!path || vertex < 1 || vertex >= path.vertexCount) {
    return undefined;
  }
  const { origin, positions } = path;
  const halfway = (axis: number): number =>
    origin[axis] + (positions[vertex * 3 + axis] + positions[vertex * 3 - 3 + axis]) / 2;
  return { pass: rowValue(path, vertex, RowField.pass) === 2 ? 2 : 1, at: [halfway(0), halfway(1), halfway(2)] };
}
