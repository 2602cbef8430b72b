/** Where the centre paths of two neighbours cross: line and line, line and arc, arc and arc. Elementary geometry. */
import { type Element, isArcPath, lengthOf, pathRadius } from './element.ts';

/** A crossing, and how far it lies before the first path's end and behind the second one's start (mm of a line, radians of an arc). */
export interface Crossing {
  readonly first: number;
  readonly second: number;
  readonly before: number;
  readonly behind: number;
}

/** How far outside a path a crossing may lie, mm. */
const SLACK = 1e-6;
const TURN = 2 * Math.PI;

type Point = readonly [number, number];

/** The endless curve that a path lies on at its end (`atEnd`) or at its start. */
interface Curve {
  readonly isArc: boolean;
  /** A point of the line, or the circle's centre. */
  readonly first: number;
  readonly second: number;
  /** Unit direction of the line. */
  readonly alongFirst: number;
  readonly alongSecond: number;
  readonly radius: number;
}

const curveOf = (element: Element, atEnd: boolean): Curve => {
  const { move } = element;
  if (isArcPath(element)) {
    const radius = pathRadius(element, atEnd);
    return { isArc: true, first: move.centreFirst, second: move.centreSecond, alongFirst: 0, alongSecond: 0, radius };
  }
  const first = element.toFirst - element.fromFirst;
  const second = element.toSecond - element.fromSecond;
  const length = lengthOf(first, second);
  return {
    isArc: false,
    first: atEnd ? element.toFirst : element.fromFirst,
    second: atEnd ? element.toSecond : element.fromSecond,
    alongFirst: first / length,
    alongSecond: second / length,
    radius: 0,
  };
};

const lineLine = (a: Curve, b: Curve): Point[] => {
  const cross = a.alongFirst * b.alongSecond - a.alongSecond * b.alongFirst;
  if (Math.abs(cross) < 1e-12) return [];
  const t = ((b.first - a.first) * b.alongSecond - (b.second - a.second) * b.alongFirst) / cross;
  return [[a.first + t * a.alongFirst, a.second + t * a.alongSecond]];
};

const lineArc = (line: Curve, arc: Curve): Point[] => {
  const toFirst = arc.first - line.first;
  const toSecond = arc.second - line.second;
  const along = toFirst * line.alongFirst + toSecond * line.alongSecond;
  const aside = toFirst * line.alongSecond - toSecond * line.alongFirst;
  const square = arc.radius * arc.radius - aside * aside;
  if (!(square >= 0)) return [];
  const half = Math.sqrt(square);
  return [along - half, along + half].map((t) => [
    line.first + t * line.alongFirst,
    line.second + t * line.alongSecond,
  ]);
};

const arcArc = (a: Curve, b: Curve): Point[] => {
  const first = b.first - a.first;
  const second = b.second - a.second;
  const apart = lengthOf(first, second);
  if (apart < 1e-12) return [];
  const along = (apart * apart + a.radius * a.radius - b.radius * b.radius) / (2 * apart);
  const square = a.radius * a.radius - along * along;
  if (!(square >= 0)) return [];
  const aside = Math.sqrt(square);
  return [aside, -aside].map((height) => [
    a.first + (along * first - height * second) / apart,
    a.second + (along * second + height * first) / apart,
  ]);
};

const crossings = (a: Curve, b: Curve): Point[] => {
  if (a.isArc && b.isArc) return arcArc(a, b);
  if (a.isArc) return lineArc(b, a);
  return b.isArc ? lineArc(a, b) : lineLine(a, b);
};

/** Angle from one direction about the centre to another, in the arc's own sense, from 0 to a turn. */
const angleBetween = (
  element: Element,
  fromFirst: number,
  fromSecond: number,
  first: number,
  second: number,
): number => {
  const { move } = element;
  const from = Math.atan2(fromSecond - move.centreSecond, fromFirst - move.centreFirst);
  const to = Math.atan2(second - move.centreSecond, first - move.centreFirst);
  const angle = (Math.sign(move.sweep) * (to - from)) % TURN;
  const positive = angle < 0 ? angle + TURN : angle;
  return positive > TURN - 1e-9 ? 0 : positive;
};

/** How far a point lies before the path's end. */
const beforeEnd = (element: Element, curve: Curve, [first, second]: Point): number =>
  curve.isArc
    ? angleBetween(element, first, second, element.toFirst, element.toSecond)
    : (element.toFirst - first) * curve.alongFirst + (element.toSecond - second) * curve.alongSecond;

/** How far a point lies behind the path's start. */
const behindStart = (element: Element, curve: Curve, [first, second]: Point): number =>
  curve.isArc
    ? angleBetween(element, element.fromFirst, element.fromSecond, first, second)
    : (first - element.fromFirst) * curve.alongFirst + (second - element.fromSecond) * curve.alongSecond;

/**
 * The crossing of two centre paths that costs the least of both; undefined where they do not cross.
 * @param left what is left of the first path (mm of a line, radians of an arc): its start may have been cut off already
 */
export const crossPaths = (a: Element, left: number, b: Element): Crossing | undefined => {
  const curveA = curveOf(a, true);
  const curveB = curveOf(b, false);
  let best: Crossing | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const point of crossings(curveA, curveB)) {
    const before = beforeEnd(a, curveA, point);
    const behind = behindStart(b, curveB, point);
    const unitA = curveA.isArc ? Math.max(curveA.radius, SLACK) : 1;
    const unitB = curveB.isArc ? Math.max(curveB.radius, SLACK) : 1;
    if (Math.min(before * unitA, behind * unitB) < -SLACK) continue;
    if ((before - left) * unitA > SLACK || (behind - b.length) * unitB > SLACK) continue;
    const cost = before * unitA + behind * unitB;
    if (cost >= least) continue;
    least = cost;
    best = { first: point[0], second: point[1], before: Math.max(0, before), behind: Math.max(0, behind) };
  }
  return best;
};
