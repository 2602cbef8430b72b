/**
 * Arcs from their words: centre, radii, sweep. Formulas: elementary geometry; the rule for R (positive up to half a turn,
 * negative the larger arc) and the centre words after ISO 6983-1 and NIST IR 6556.
 */
import type { ArcFacts } from './arcFacts.ts';

const TURN = 2 * Math.PI;
/** Two points closer than this are the same point, mm. */
const SAME = 1e-6;

/** Length of a vector in the plane; several times quicker than Math.hypot, and lengths here are far from its limits. */
export const distance = (first: number, second: number): number => Math.sqrt(first * first + second * second);

/** A new, empty set of facts. */
export const createArcFacts = (): ArcFacts => ({
  clockwise: false,
  plane: 17,
  firstAxis: 0,
  secondAxis: 1,
  thirdAxis: 2,
  firstCentre: 8,
  secondCentre: 9,
  startFirst: Number.NaN,
  startSecond: Number.NaN,
  startThird: Number.NaN,
  endFirst: Number.NaN,
  endSecond: Number.NaN,
  endThird: Number.NaN,
  centreFirst: Number.NaN,
  centreSecond: Number.NaN,
  radius: Number.NaN,
  endRadius: Number.NaN,
  pathRadius: Number.NaN,
  sweep: Number.NaN,
  byRadius: false,
  programmedRadius: Number.NaN,
  radiusWord: -1,
  wordI: -1,
  wordJ: -1,
  wordK: -1,
  endWord: -1,
  motionWord: -1,
  tolerance: 0,
  turns: 0,
  tangentFirst: Number.NaN,
  tangentSecond: Number.NaN,
});

/** True if start and end are one point in the plane. */
export const arcCloses = (arc: ArcFacts): boolean =>
  Math.abs(arc.endFirst - arc.startFirst) < SAME && Math.abs(arc.endSecond - arc.startSecond) < SAME;

/** Angle in radians from start to end about the centre, in the arc's direction; a full turn where they are one point. */
const sweepOf = (arc: ArcFacts): number => {
  const from = Math.atan2(arc.startSecond - arc.centreSecond, arc.startFirst - arc.centreFirst);
  const to = Math.atan2(arc.endSecond - arc.centreSecond, arc.endFirst - arc.centreFirst);
  let sweep = to - from;
  if (arc.clockwise) {
    while (sweep >= -1e-12) sweep -= TURN;
    while (sweep < -TURN - 1e-12) sweep += TURN;
  } else {
    while (sweep <= 1e-12) sweep += TURN;
    while (sweep > TURN + 1e-12) sweep -= TURN;
  }
  return arcCloses(arc) ? (arc.clockwise ? -TURN : TURN) : sweep;
};

/** Fills in radii and sweep from start, end and centre. */
export const solveByCentre = (arc: ArcFacts): void => {
  arc.radius = distance(arc.startFirst - arc.centreFirst, arc.startSecond - arc.centreSecond);
  arc.endRadius = distance(arc.endFirst - arc.centreFirst, arc.endSecond - arc.centreSecond);
  arc.sweep = sweepOf(arc);
};

/**
 * Fills in centre, radii and sweep from start, end and R. Returns the least radius that reaches (half the chord), mm:
 * where R is smaller by more than the tolerance the arc cannot be, and the half circle is filled in.
 */
export const solveByRadius = (arc: ArcFacts): number => {
  const chordFirst = arc.endFirst - arc.startFirst;
  const chordSecond = arc.endSecond - arc.startSecond;
  const chord = distance(chordFirst, chordSecond);
  const half = chord / 2;
  const radius = Math.abs(arc.programmedRadius);
  const height = radius > half ? Math.sqrt(radius * radius - half * half) : 0;
  const large = arc.programmedRadius < 0;
  // The centre is left of the chord for the smaller counter-clockwise and the larger clockwise arc.
  const side = arc.clockwise === large ? height / chord : -height / chord;
  arc.centreFirst = arc.startFirst + chordFirst / 2 - side * chordSecond;
  arc.centreSecond = arc.startSecond + chordSecond / 2 + side * chordFirst;
  solveByCentre(arc);
  return half;
};
