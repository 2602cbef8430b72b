/** How far a place is from a move, mm. */
import { arcPoint, type PlaneArc } from '../geometry/arcMeasure.ts';
import { chordCount } from '../geometry/pathMoves.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { MoveFlag, MoveKind } from '../machine/moves.ts';
import { planeOf } from '../machine/planes.ts';
import type { PassMove } from './pathMovePasses.ts';

type Place = readonly [number, number, number];

/**
 * Distance of a place from a move, an arc by the chords that are drawn of it. An axis that is not known counts as zero,
 * as it is drawn; an arc without centre is as far as its end.
 */
export function distanceToMove(of: PassMove, at: Place, pool: Pick<ModePool, 'at'>): number {
  const { moves, index, extra } = of;
  const from = drawn(of.from);
  const { ends } = moves;
  const to = drawn([ends[index * 3], ends[index * 3 + 1], ends[index * 3 + 2]]);
  if ((moves.kinds[index] & MoveFlag.kindMask) !== MoveKind.arc || extra < 0) return toStretch(at, from, to);
  const [centreFirst, centreSecond, radius, endRadius, sweep] = moves.extras.subarray(extra, extra + 5);
  if (Number.isNaN(centreFirst + centreSecond + radius + endRadius + sweep)) return toStretch(at, to, to);
  const { first, second, third } = planeOf(pool.at(moves.modes[index], Mode.plane));
  const startAngle = Math.atan2(from[second] - centreSecond, from[first] - centreFirst);
  const arc: PlaneArc = { centreFirst, centreSecond, radius, endRadius, startAngle, sweep };
  const chords = chordCount(Math.max(radius, endRadius), sweep);
  let nearest = Number.POSITIVE_INFINITY;
  let before: Place = from;
  for (let chord = 1; chord <= chords; chord++) {
    const point: [number, number, number] = [0, 0, 0];
    [point[first], point[second]] = arcPoint(arc, chord / chords);
    point[third] = from[third] + ((to[third] - from[third]) * chord) / chords;
    const end: Place = chord === chords ? to : point;
    nearest = Math.min(nearest, toStretch(at, before, end));
    before = end;
  }
  return nearest;
}

const drawn = ([x, y, z]: Place): Place => [Number.isNaN(x) ? 0 : x, Number.isNaN(y) ? 0 : y, Number.isNaN(z) ? 0 : z];

/** Distance from a straight stretch. */
function toStretch(at: Place, from: Place, to: Place): number {
  const [dx, dy, dz] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const [x, y, z] = [at[0] - from[0], at[1] - from[1], at[2] - from[2]];
  const squared = dx * dx + dy * dy + dz * dz;
  const part = squared > 0 ? Math.min(1, Math.max(0, (x * dx + y * dy + z * dz) / squared)) : 0;
  return Math.hypot(x - part * dx, y - part * dy, z - part * dz);
}
