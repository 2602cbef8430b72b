/**
 * One move of the programmed contour with the path of the cutter's centre beside it: a line, or an arc that may rise as a
 * helix. Plane coordinates, mm and radians. Elementary geometry: a line's centre path is parallel to it, an arc's has the
 * same centre and a radius that is greater or smaller by the cutter's.
 */

/** Where a move comes from: nothing here looks inside, it is handed on with what comes of the move. */
export interface MoveSource {
  /** Line of its block. */
  readonly line: number;
  readonly kind: number;
  readonly modes: number;
}

/** A programmed move in the plane. */
export interface ContourMove {
  readonly source: MoveSource;
  readonly isRapid: boolean;
  readonly isArc: boolean;
  readonly startFirst: number;
  readonly startSecond: number;
  readonly startThird: number;
  readonly endFirst: number;
  readonly endSecond: number;
  readonly endThird: number;
  /** Of an arc; 0 for a line. The radius at the end may differ within the control's tolerance. */
  readonly centreFirst: number;
  readonly centreSecond: number;
  readonly radius: number;
  readonly endRadius: number;
  /** Signed, counter-clockwise positive. */
  readonly sweep: number;
  /** Positions of further axes behind the move, kept for who asked; empty for none. */
  readonly others: readonly number[];
}

/** Which side of the path the cutter is on: 1 left (G41), −1 right (G42). */
export type Side = 1 | -1;

/** A contour move, the cutter's radius at its start and end, and the centre path beside it. */
export interface Element {
  readonly move: ContourMove;
  readonly side: Side;
  /** The cutter's radius at the start (that of the move before, so that a new D blends in over the move) and at the end. */
  readonly startRadius: number;
  readonly endRadius: number;
  /** Directions of the programmed move at its ends, unit vectors; NaN where they are not known. */
  readonly outFirst: number;
  readonly outSecond: number;
  readonly inFirst: number;
  readonly inSecond: number;
  /** Centre path square to the programmed start and end. */
  readonly fromFirst: number;
  readonly fromSecond: number;
  readonly toFirst: number;
  readonly toSecond: number;
  /** An inside arc too small for the cutter: there is no centre path, its ends are joined straight. */
  readonly isBroken: boolean;
  /** Length of the centre path: mm of a line, radians of an arc. */
  readonly length: number;
}

/** Length of a vector in the plane. */
export const lengthOf = (first: number, second: number): number => Math.sqrt(first * first + second * second);

/** How much a radius may fall short before it counts as smaller than the cutter, mm: rounding of programmed ends to two places. */
const ROUNDING = 0.005;

const direction = (move: ContourMove, atEnd: boolean): [number, number] => {
  if (!move.isArc) {
    const first = move.endFirst - move.startFirst;
    const second = move.endSecond - move.startSecond;
    const length = lengthOf(first, second);
    return [first / length, second / length];
  }
  const first = (atEnd ? move.endFirst : move.startFirst) - move.centreFirst;
  const second = (atEnd ? move.endSecond : move.startSecond) - move.centreSecond;
  const length = lengthOf(first, second) * Math.sign(move.sweep);
  return [-second / length, first / length];
};

/** How much smaller (positive) the radius gets beside an arc: the cutter is inside it. */
const inward = (move: ContourMove, side: Side): number => side * Math.sign(move.sweep);

/** Sets a contour move with the cutter beside it. */
export const createElement = (move: ContourMove, side: Side, startRadius: number, endRadius: number): Element => {
  const [outFirst, outSecond] = direction(move, false);
  const [inFirst, inSecond] = direction(move, true);
  const fromFirst = move.startFirst - side * startRadius * outSecond;
  const fromSecond = move.startSecond + side * startRadius * outFirst;
  const toFirst = move.endFirst - side * endRadius * inSecond;
  const toSecond = move.endSecond + side * endRadius * inFirst;
  const inside = move.isArc ? inward(move, side) : 0;
  const isBroken =
    move.isArc && Math.min(move.radius - inside * startRadius, move.endRadius - inside * endRadius) < -ROUNDING;
  const length = move.isArc && !isBroken ? Math.abs(move.sweep) : lengthOf(toFirst - fromFirst, toSecond - fromSecond);
  return {
    move,
    side,
    startRadius,
    endRadius,
    outFirst,
    outSecond,
    inFirst,
    inSecond,
    fromFirst,
    fromSecond,
    toFirst,
    toSecond,
    isBroken,
    length,
  };
};

/** True if the centre path of the element is an arc. */
export const isArcPath = (element: Element): boolean => element.move.isArc && !element.isBroken;

/** Radius of the centre path at the element's start or end, mm. */
export const pathRadius = (element: Element, atEnd: boolean): number => {
  const { move } = element;
  const inside = inward(move, element.side);
  return Math.max(0, atEnd ? move.endRadius - inside * element.endRadius : move.radius - inside * element.startRadius);
};
