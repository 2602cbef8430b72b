/** The direction in which a path arrives at a place: what the arc rules compare with. */
import { Mode, type ModePool } from './modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from './moves.ts';
import { planeOf } from './planes.ts';

/** Direction at the end of an arc: square to the radius. */
const arcTangent = (moves: MoveTable, move: number, plane: number, out: Float64Array): void => {
  const at = moves.firstExtra(move) * EXTRA_WIDTH;
  const { first, second } = planeOf(plane);
  const radius = moves.extras[at + 3];
  const sign = Math.sign(moves.extras[at + 4]);
  out.fill(0);
  out[first] = (-sign * (moves.ends[move * 3 + second] - moves.extras[at + 1])) / radius;
  out[second] = (sign * (moves.ends[move * 3 + first] - moves.extras[at])) / radius;
};

/**
 * Unit vector in X Y Z in which the path arrives behind the first `count` moves; NaN after a rapid or where it is not
 * known. `entryPosition` is where the table begins, `entryTangent` the direction it is entered in.
 */
export const lastTangent = (
  moves: MoveTable,
  count: number,
  entryPosition: Float64Array,
  entryTangent: Float64Array,
  pool: ModePool,
  out: Float64Array,
): void => {
  let move = count - 1;
  while (move >= 0 && (moves.kinds[move] & MoveFlag.kindMask) === MoveKind.dwell) move--;
  if (move < 0) {
    out.set(entryTangent);
    return;
  }
  const kind = moves.kinds[move] & MoveFlag.kindMask;
  if (kind === MoveKind.arc) arcTangent(moves, move, pool.at(moves.modes[move], Mode.plane), out);
  else if (kind !== MoveKind.line) out.fill(Number.NaN);
  else lineTangent(moves, move, entryPosition, out);
};

const lineTangent = (moves: MoveTable, move: number, entryPosition: Float64Array, out: Float64Array): void => {
  let square = 0;
  for (let axis = 0; axis < 3; axis++) {
    const from = move === 0 ? entryPosition[axis] : moves.ends[(move - 1) * 3 + axis];
    out[axis] = moves.ends[move * 3 + axis] - from;
    square += out[axis] * out[axis];
  }
  const length = Math.sqrt(square);
  for (let axis = 0; axis < 3; axis++) out[axis] /= length;
};
