/** One arc or helix of a path: its chords, and how far it reaches. */
import { arcExtents } from './arcMeasure.ts';
import type { PackedPath } from './packedLayout.ts';

/** An arc between two points. `extras` holds at `at`: centre (first and second axis of the plane), radii, sweep in radians. */
export interface ChordPlace {
  /** X Y Z, mm. */
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** 17, 18 or 19. */
  plane: number;
  chords: number;
  extras: Float64Array;
  at: number;
}

/** An arc to be filled in: who goes through many keeps one. */
export const chordPlace = (): ChordPlace => {
  const [from, to, extras] = [3, 3, 5].map((length) => new Float64Array(length));
  return { from, to, plane: 17, chords: 1, extras, at: 0 };
};

/** A radius that changes by less turns an arc so near its axes that the bounds are right to 0.0001 mm, mm. */
const SPIRAL = 0.01;
const QUARTER = Math.PI / 2;
const QUARTER_COSINES = [1, 0, -1, 0];

/** Axis that a plane's angles count from: X, Z (G18) or Y (G19). The second and third follow in turn. */
const firstAxis = (plane: number): number => (plane === 17 ? 0 : plane === 18 ? 2 : 1);

/** Fills the vertices between an arc's ends, from vertex `begin` on: the cosines come by turning on, chord by chord. */
export function fillChords(
  { positions, codes, origin }: PackedPath,
  begin: number,
  code: number,
  arc: ChordPlace,
): void {
  const { extras, at, from, to, chords } = arc;
  const first = firstAxis(arc.plane);
  const second = (first + 1) % 3;
  const third = (first + 2) % 3;
  const centreFirst = extras[at];
  const centreSecond = extras[at + 1];
  const middleFirst = centreFirst - origin[first];
  const middleSecond = centreSecond - origin[second];
  const step = extras[at + 4] / chords;
  const turnCos = Math.cos(step);
  const turnSin = Math.sin(step);
  const startFirst = from[first] - centreFirst;
  const startSecond = from[second] - centreSecond;
  const reach = Math.sqrt(startFirst * startFirst + startSecond * startSecond);
  let cos = reach > 0 ? startFirst / reach : 1;
  let sin = reach > 0 ? startSecond / reach : 0;
  let radius = extras[at + 2];
  const growth = (extras[at + 3] - radius) / chords;
  let level = from[third] - origin[third];
  const rise = (to[third] - from[third]) / chords;
  const end = begin + chords - 1;
  for (let vertex = begin, place = begin * 3; vertex < end; vertex++, place += 3) {
    const turned = cos * turnCos - sin * turnSin;
    sin = cos * turnSin + sin * turnCos;
    cos = turned;
    radius += growth;
    level += rise;
    positions[place + first] = middleFirst + radius * cos;
    positions[place + second] = middleSecond + radius * sin;
    positions[place + third] = level;
    codes[vertex] = code;
  }
}

/** Puts the outermost points of an arc into a box, which its chords alone miss by their height. */
export function includeOutermost(box: Float64Array, { extras, at, from, plane }: ChordPlace): void {
  const first = firstAxis(plane);
  const second = (first + 1) % 3;
  const centreFirst = extras[at];
  const centreSecond = extras[at + 1];
  const radius = extras[at + 2];
  const endRadius = extras[at + 3];
  const sweep = extras[at + 4];
  const reach = Math.max(radius, endRadius);
  // Most arcs lie inside what is there already.
  if (
    centreFirst - reach >= box[first] &&
    centreFirst + reach <= box[first + 3] &&
    centreSecond - reach >= box[second] &&
    centreSecond + reach <= box[second + 3]
  )
    return;
  const startAngle = Math.atan2(from[second] - centreSecond, from[first] - centreFirst);
  if (Math.abs(endRadius - radius) > SPIRAL) {
    const extents = arcExtents({ centreFirst, centreSecond, radius, endRadius, startAngle, sweep });
    widen(box, first, extents.minFirst, extents.maxFirst);
    widen(box, second, extents.minSecond, extents.maxSecond);
    return;
  }
  const least = Math.ceil(Math.min(startAngle, startAngle + sweep) / QUARTER);
  const greatest = Math.floor(Math.max(startAngle, startAngle + sweep) / QUARTER);
  for (let k = least; k <= greatest; k++) {
    const here = radius + ((endRadius - radius) * (k * QUARTER - startAngle)) / sweep;
    // Exact cosines of quarter turns: an arc of radius 20 about zero reaches 20.
    const onFirst = centreFirst + here * QUARTER_COSINES[k & 3];
    const onSecond = centreSecond + here * QUARTER_COSINES[(k + 3) & 3];
    widen(box, first, onFirst, onFirst);
    widen(box, second, onSecond, onSecond);
  }
}

const widen = (box: Float64Array, axis: number, least: number, greatest: number): void => {
  if (least < box[axis]) box[axis] = least;
  if (greatest > box[axis + 3]) box[axis + 3] = greatest;
};
