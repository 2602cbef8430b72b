/** A point as somebody types it, and how near a move comes to it as seen from above. Lengths mm. */

import { arcPoint, type PlaneArc } from '../geometry/arcMeasure.ts';
import { chordCount } from '../geometry/pathMoves.ts';
import type { MoveTable } from '../machine/moves.ts';
import { planeOf } from '../machine/planes.ts';

/** A place on the part; without Z at any depth. */
export interface CutPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number | undefined;
}

const NUMBER = '[-+]?\\s*(?:\\d+\\.?\\d*|\\.\\d+)';
const BY_LETTER = new RegExp(`^\\s*X\\s*(${NUMBER})[\\s,;]*Y\\s*(${NUMBER})(?:[\\s,;]*Z\\s*(${NUMBER}))?\\s*$`, 'i');
const BARE = new RegExp(`^\\s*(${NUMBER})(?:\\s+|\\s*[,;]\\s*)(${NUMBER})(?:(?:\\s+|\\s*[,;]\\s*)(${NUMBER}))?\\s*$`);

/** Reads `X10 Y20 Z-3`, `10 20` or `10, 20, -3` in units of so many mm; undefined where it is none of these. */
export function readPoint(text: string, unit: number): CutPoint | undefined {
  const found = BY_LETTER.exec(text) ?? BARE.exec(text);
  if (found === null) return undefined;
  const [x, y, z] = found.slice(1).map((number) => Number(number?.replace(/\s+/g, '')) * unit);
  if (!Number.isFinite(x) || !Number.isFinite(y)) return undefined;
  return { x, y, z: Number.isNaN(z) ? undefined : z };
}

/** What a move comes to at a point: the distance from its way as seen from above, and the lowest Z of the tool's tip there. */
export interface Nearness {
  distance: number;
  z: number;
}

/** Measures straight moves; the outcome stands in `out`. Coordinates that are not known count as zero, as they are drawn. */
export function nearLine(point: CutPoint, from: readonly number[], to: readonly number[], out: Nearness): void {
  const [fromX, fromY, fromZ] = from;
  const dx = to[0] - fromX;
  const dy = to[1] - fromY;
  const squared = dx * dx + dy * dy;
  if (squared < 1e-18) {
    out.distance = Math.hypot(point.x - fromX, point.y - fromY);
    out.z = Math.min(fromZ, to[2]);
    return;
  }
  const part = Math.min(1, Math.max(0, ((point.x - fromX) * dx + (point.y - fromY) * dy) / squared));
  out.distance = Math.hypot(point.x - fromX - part * dx, point.y - fromY - part * dy);
  out.z = fromZ + part * (to[2] - fromZ);
}

/**
 * Measures an arc in its plane (17, 18, 19); `at` is the place of its numbers in `extras`. In the XY plane exactly, the
 * lowest turn of a helix; in the others by the chords that are drawn of it.
 */
export function nearArc(
  point: CutPoint,
  plane: number,
  { extras }: MoveTable,
  at: number,
  from: readonly number[],
  to: readonly number[],
  out: Nearness,
): void {
  const [centreFirst, centreSecond, radius, endRadius, sweep] = extras.subarray(at, at + 5);
  const { first, second, third } = planeOf(plane);
  const startAngle = Math.atan2(from[second] - centreSecond, from[first] - centreFirst);
  const arc: PlaneArc = { centreFirst, centreSecond, radius, endRadius, startAngle, sweep };
  if (Number.isNaN(centreFirst + centreSecond + radius + endRadius + sweep) || sweep === 0) {
    nearLine(point, from, to, out);
    return;
  }
  if (plane === 17) nearPlaneArc(point, arc, from[2], to[2], out);
  else nearChords(point, arc, [first, second, third], from, to, out);
}

/** The ends, and every place where the arc passes the direction in which the point lies. */
function nearPlaneArc(point: CutPoint, arc: PlaneArc, fromZ: number, toZ: number, out: Nearness): void {
  const direction = Math.atan2(point.y - arc.centreSecond, point.x - arc.centreFirst);
  const turn = 2 * Math.PI * Math.sign(arc.sweep);
  let angle = (direction - arc.startAngle) % turn;
  if (angle * turn < 0) angle += turn;
  out.distance = Number.POSITIVE_INFINITY;
  const take = (part: number): void => {
    const [x, y] = arcPoint(arc, part);
    const distance = Math.hypot(point.x - x, point.y - y);
    const z = fromZ + part * (toZ - fromZ);
    const isSame = Math.abs(distance - out.distance) < 1e-6;
    if (distance < out.distance && !isSame) {
      out.distance = distance;
      out.z = z;
    } else if (isSame && z < out.z) out.z = z;
  };
  take(0);
  take(1);
  const turns = (arc.sweep - angle) / turn;
  if (turns < 0) return;
  take(angle / arc.sweep);
  take((angle + Math.floor(turns) * turn) / arc.sweep);
}

function nearChords(
  point: CutPoint,
  arc: PlaneArc,
  [first, second, third]: readonly [number, number, number],
  from: readonly number[],
  to: readonly number[],
  out: Nearness,
): void {
  const chords = chordCount(Math.max(arc.radius, arc.endRadius), arc.sweep);
  const best = { distance: Number.POSITIVE_INFINITY, z: Number.NaN };
  let before = from;
  for (let chord = 1; chord <= chords; chord++) {
    const end = [0, 0, 0];
    [end[first], end[second]] = arcPoint(arc, chord / chords);
    end[third] = from[third] + ((to[third] - from[third]) * chord) / chords;
    nearLine(point, before, end, out);
    if (out.distance < best.distance - 1e-9 || (out.distance < best.distance + 1e-9 && out.z < best.z)) {
      best.distance = out.distance;
      best.z = out.z;
    }
    before = end;
  }
  out.distance = best.distance;
  out.z = best.z;
}
