// The shortest way between two moves, exact along lines, arcs and helices.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import type { Point } from './camera.ts';

/** A point of a move at a part of it, 0 to 1. */
type Curve = (part: number) => Point;

/** Two points, one on each move, and how far they are from each other, mm. */
export interface Nearest {
  readonly distance: number;
  readonly first: Point;
  readonly second: Point;
}

/** Axes of the planes: first, second, normal. */
const PLANES: Readonly<Record<PathMove['plane'], readonly [number, number, number]>> = {
  XY: [0, 1, 2],
  ZX: [2, 0, 1],
  YZ: [1, 2, 0],
};

/** So many degrees of an arc are looked at as a piece before the place is refined. */
const COARSE_STEP = 7.5;
const MOST_PARTS = 400;
/** The pieces on either side of so many of the lowest places are refined. */
const CANDIDATES = 3;
const ROUNDS = 45;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

const isPoint = (point: PathMove['from'] | undefined): point is Point =>
  point?.every((coordinate) => coordinate !== null) ?? false;

/** The way of a move; `undefined` where its ends are not known or it waits. */
function curveOf(move: PathMove): Curve | undefined {
  const { from, to, centre, radius, endRadius, sweep, plane, kind } = move;
  if (kind === 'dwell' || !isPoint(from) || !isPoint(to)) {
    return undefined;
  }
  if (kind !== 'arc') {
    return (part) => [0, 1, 2].map((axis) => from[axis] + part * (to[axis] - from[axis])) as [number, number, number];
  }
  if (!isPoint(centre) || typeof radius !== 'number' || typeof sweep !== 'number') {
    return undefined;
  }
  const [i, j, k] = PLANES[plane];
  const start = Math.atan2(from[j] - centre[j], from[i] - centre[i]);
  const turn = (sweep * Math.PI) / 180;
  return (part) => {
    const point: [number, number, number] = [0, 0, 0];
    const here = radius + part * ((endRadius ?? radius) - radius);
    point[i] = centre[i] + here * Math.cos(start + turn * part);
    point[j] = centre[j] + here * Math.sin(start + turn * part);
    point[k] = from[k] + part * (to[k] - from[k]);
    return point;
  };
}

/** Points along a move, near enough to each other to draw it; none where its place is not known. */
export function pointsAlong(move: PathMove): Point[] {
  const curve = curveOf(move);
  const count = move.kind === 'arc' ? 4 * partsOf(move) : 1;
  return curve ? Array.from({ length: count + 1 }, (_, i) => curve(i / count)) : [];
}

const partsOf = ({ kind, sweep }: PathMove): number =>
  kind === 'arc' ? Math.min(MOST_PARTS, Math.max(4, Math.ceil(Math.abs(sweep ?? 360) / COARSE_STEP))) : 2;

/**
 * The shortest distance between two moves. `seenAlong` is an axis (0 X, 1 Y, 2 Z) that does not count, for the distance
 * in a flat view's plane. `undefined` where a move's place is not known.
 */
export function nearestOf(one: PathMove, other: PathMove, seenAlong?: 0 | 1 | 2): Nearest | undefined {
  const [a, b] = [curveOf(one), curveOf(other)];
  if (!a || !b) {
    return undefined;
  }
  const gap = (first: Point, second: Point): number =>
    Math.hypot(...[0, 1, 2].map((axis) => (axis === seenAlong ? 0 : second[axis] - first[axis])));
  const [m, n] = [partsOf(one), partsOf(other)];
  // For each point of the first the nearest of the second: what is left is a search along the first alone.
  const onOther = (point: Point): { part: number; value: number } => least((part) => gap(point, b(part)), n);
  const { part } = least((s) => onOther(a(s)).value, m);
  const first = a(part);
  const second = b(onOther(first).part);
  return { distance: gap(first, second), first, second };
}

/** Where a function of a part, 0 to 1, is least: looked for among `count` pieces, then refined by golden section. */
function least(value: (part: number) => number, count: number): { part: number; value: number } {
  const values = Array.from({ length: count + 1 }, (_, i) => value(i / count));
  const lowest = values
    .map((_, i) => i)
    .filter((i) => !(values[i - 1] < values[i]) && !(values[i + 1] < values[i]))
    .sort((p, q) => values[p] - values[q])
    .slice(0, CANDIDATES);
  const found = lowest.map((i) => golden(value, Math.max(0, (i - 1) / count), Math.min(1, (i + 1) / count)));
  const ends = [0, 1].map((part) => ({ part, value: values[part * count] }));
  return [...found, ...ends].reduce((best, one) => (one.value < best.value ? one : best));
}

function golden(value: (part: number) => number, from: number, to: number): { part: number; value: number } {
  let [low, high] = [from, to];
  let [p, q] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atP, atQ] = [value(p), value(q)];
  for (let round = 0; round < ROUNDS; round++) {
    if (atP <= atQ) {
      [high, q, atQ] = [q, p, atP];
      p = high - GOLDEN * (high - low);
      atP = value(p);
    } else {
      [low, p, atP] = [p, q, atQ];
      q = low + GOLDEN * (high - low);
      atQ = value(q);
    }
  }
  return atP <= atQ ? { part: p, value: atP } : { part: q, value: atQ };
}
