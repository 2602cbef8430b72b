/** How the centre paths of two neighbours are joined: tangent, round an outside corner, or where they cross inside. */
import { type Element, isArcPath, lengthOf } from './element.ts';
import { crossPaths } from './intersect.ts';

/** Way round an outside corner. */
export type CornerStyle = 'arc' | 'extended-lines';

/** A step that is too short for the cutter in an inside corner. Lengths mm. */
export interface ShortStep {
  /** True if the move before the corner is the short one. */
  readonly isBefore: boolean;
  /** Programmed length of the short move. */
  readonly length: number;
  readonly radius: number;
}

/** A place on the way round a corner, reached in a straight line. */
type Corner = readonly [number, number];

/** How two centre paths are joined. */
export interface Joint {
  /** Where the first path ends and how much of its end is cut off (mm of a line, radians of an arc; negative: made longer). */
  readonly endFirst: number;
  readonly endSecond: number;
  readonly before: number;
  /** Where the second path starts, and how much of its start is cut off. */
  readonly startFirst: number;
  readonly startSecond: number;
  readonly behind: number;
  /** An arc about the programmed corner leads from the end to the start; its sweep in radians, 0 for none. */
  readonly sweep: number;
  /** Straight ways from the end over these places to the start. */
  readonly corners: readonly Corner[];
  readonly short?: ShortStep;
}

/** Two places closer than this are one, mm. */
const SAME = 1e-6;
/** Most that the straight join of two paths that do not cross may cut into the contour before it is a fault, mm: the rounding of programmed numbers. */
const ROUNDING = 0.002;

const plain = (a: Element, b: Element): Joint => ({
  endFirst: a.toFirst,
  endSecond: a.toSecond,
  before: 0,
  startFirst: b.fromFirst,
  startSecond: b.fromSecond,
  behind: 0,
  sweep: 0,
  corners: [],
});

/** Joins two neighbours; `left` is what is left of the first one's path (mm of a line, radians of an arc). */
export const joinElements = (a: Element, left: number, b: Element, style: CornerStyle): Joint => {
  const gap = lengthOf(b.fromFirst - a.toFirst, b.fromSecond - a.toSecond);
  // A change of the side, and what has no centre path, is joined straight.
  if (gap < SAME || a.side !== b.side || a.isBroken || b.isBroken) return plain(a, b);
  const cross = a.inFirst * b.outSecond - a.inSecond * b.outFirst;
  const dot = a.inFirst * b.outFirst + a.inSecond * b.outSecond;
  if (Number.isNaN(cross)) return plain(a, b);
  const turnsBack = dot < 0 && Math.abs(cross) < 1e-9;
  // Where the path turns straight back, the cutter goes round the end unless the arcs open toward it.
  const isOutside = turnsBack ? a.side * (curvatureOf(a) + curvatureOf(b)) > -1e-12 : a.side * cross < 0;
  if (isOutside) return outside(a, b, turnsBack ? Math.PI : Math.acos(clamp(dot)), style);
  return inside(a, left, b, dot);
};

/** 1 over the radius of the programmed move, positive where it bends to the left; 0 for a line. */
const curvatureOf = ({ move }: Element): number => (move.isArc ? Math.sign(move.sweep) / move.radius : 0);

const clamp = (cosine: number): number => Math.max(-1, Math.min(1, cosine));

/**
 * Round the corner: by an arc about it, or by lengthening both paths. Lengthened paths meet where the corner turns by up
 * to a right angle; at a sharper one each is lengthened by the cutter's radius and their ends are joined straight, so that
 * the way stays short and the cutter still touches nothing (common practice, no source).
 */
const outside = (a: Element, b: Element, turn: number, style: CornerStyle): Joint => {
  if (style === 'arc' && !(a.move.isRapid && b.move.isRapid)) return { ...plain(a, b), sweep: -a.side * turn };
  const reach = a.endRadius * Math.tan(Math.min(turn, Math.PI / 2) / 2);
  const first: Corner = [a.toFirst + reach * a.inFirst, a.toSecond + reach * a.inSecond];
  const second: Corner = [b.fromFirst - reach * b.outFirst, b.fromSecond - reach * b.outSecond];
  const corners = lengthOf(second[0] - first[0], second[1] - first[1]) < SAME ? [first] : [first, second];
  let joint: Joint = { ...plain(a, b), corners };
  // A line is simply longer; an arc goes on straight.
  if (isStraight(b)) {
    const [startFirst, startSecond] = corners[corners.length - 1];
    joint = { ...joint, startFirst, startSecond, behind: -reach, corners: joint.corners.slice(0, -1) };
  }
  if (isStraight(a)) {
    joint = {
      ...joint,
      endFirst: first[0],
      endSecond: first[1],
      before: -reach,
      corners: joint.corners.slice(joint.corners[0] === first ? 1 : 0),
    };
  }
  return joint;
};

/** True if the centre path is a line beside the programmed one. */
const isStraight = (element: Element): boolean => !isArcPath(element) && element.startRadius === element.endRadius;

const inside = (a: Element, left: number, b: Element, dot: number): Joint => {
  const crossing = crossPaths(a, left, b);
  if (crossing !== undefined) {
    const { first, second, before, behind } = crossing;
    return {
      ...plain(a, b),
      endFirst: first,
      endSecond: second,
      before,
      startFirst: first,
      startSecond: second,
      behind,
    };
  }
  if (a.endRadius * (1 - dot) <= ROUNDING) return plain(a, b);
  const lengthA = programmedLength(a);
  const lengthB = programmedLength(b);
  const isBefore = lengthA < lengthB;
  return { ...plain(a, b), short: { isBefore, length: isBefore ? lengthA : lengthB, radius: a.endRadius } };
};

const programmedLength = ({ move }: Element): number =>
  move.isArc
    ? Math.abs(move.sweep) * move.radius
    : lengthOf(move.endFirst - move.startFirst, move.endSecond - move.startSecond);
