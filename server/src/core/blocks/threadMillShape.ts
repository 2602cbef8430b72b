/** What a milled thread is: its diameters, the cutter's way round it, turns and stages. Lengths mm. */
import { basicDiameters, isoThreadSizes } from '../reference/isoThreads.ts';
import type { Thread } from '../reference/threadName.ts';
import { roundLengthDown, roundLengthUp } from './helixWay.ts';

/** A thread with the sides that are cut. */
export interface MilledThread {
  readonly thread: Thread;
  readonly side: 'internal' | 'external';
  readonly hand: 'right' | 'left';
  /** Diameter at the bottom of the groove: the wall that the cutter's teeth reach last. */
  readonly wall: number;
  /** Diameter that the groove begins at: the bored hole, or the turned blank. */
  readonly blank: number;
}

/**
 * Height of a Whitworth thread as a share of the pitch, both sides: ISO 228-1, 2 · 0.640327 (from memory). Of 60° threads
 * outside 2 · 0.613434, to the rounded root of ISO 68-1 (d3 = d − 1.22687·P, from memory); inside the basic profile, ISO 724.
 */
const PIPE_HEIGHT = 2 * 0.640327;
const ROOT_HEIGHT = 2 * 0.613434;

/** Diameters of a thread: the groove of an internal one ends at its major diameter, that of an external one at its root. */
export const milledThread = (thread: Thread, side: MilledThread['side'], hand: MilledThread['hand']): MilledThread => {
  const { diameter, pitch, series } = thread;
  const isPipe = series === 'pipe-g';
  const minor = isPipe ? diameter - PIPE_HEIGHT * pitch : basicDiameters(diameter, pitch).minor;
  const root = diameter - (isPipe ? PIPE_HEIGHT : ROOT_HEIGHT) * pitch;
  const [wall, blank] = side === 'internal' ? [diameter, minor] : [root, diameter];
  return { thread, side, hand, wall, blank };
};

/** True where a thread is finer than the coarse one of its diameter; a size of no standard goes by the nearest one. Pipe threads are fine. */
export const isFineThread = ({ series, diameter, pitch, fine }: Thread): boolean => {
  if (series === 'pipe-g') return true;
  if (series === 'unified') return fine === true;
  const coarse = isoThreadSizes.filter((size) => size.coarse !== undefined);
  const nearest = coarse.reduce((best, size) =>
    Math.abs(size.diameter - diameter) < Math.abs(best.diameter - diameter) ? size : best,
  );
  return pitch < (nearest.coarse ?? 0) - 1e-9;
};

/** Which way the cutter goes: counter-clockwise or not, up or down. */
export interface Turning {
  readonly clockwise: boolean;
  readonly isUp: boolean;
}

/**
 * A cutter that turns clockwise (M3) climbs inside where it goes round counter-clockwise, outside where it goes clockwise.
 * A right-hand thread rises counter-clockwise, a left-hand one clockwise (design page; geometry).
 */
export const turningOf = ({ side, hand }: MilledThread, direction: string): Turning => {
  const counterClockwise = (side === 'internal') === (direction === 'climb');
  return { clockwise: !counterClockwise, isUp: counterClockwise === (hand === 'right') };
};

/** A way in from the side and its end on the circle that the helix begins on, seen counter-clockwise about the axis. */
export interface Lead {
  /** Radius of the arc. */
  readonly radius: number;
  /** Where the arc begins, from the axis, in X and across; the way out is its mirror image. */
  readonly along: number;
  readonly across: number;
  /** Part of a turn about the thread's axis, so of the pitch, that belongs to the arc. */
  readonly share: number;
}

/** Half a circle from the axis to the wall: it spans 90° about the axis, so a quarter of the pitch. */
export const leadFromAxis = (radius: number): Lead => ({ radius: radius / 2, along: 0, across: 0, share: 0.25 });

/** A quarter of a circle from outside, `clear` from the axis, that runs smoothly on to a circle of `radius`. */
export const leadFromOutside = (radius: number, clear: number, inch: boolean): Lead => {
  // (radius + arc)² + arc² = clear², solved for the arc, and up to what is written without a rest.
  const exact = (Math.sqrt(2 * clear * clear - radius * radius) - radius) / 2;
  const arc = roundLengthUp(exact, inch);
  return { radius: arc, along: radius + arc, across: -arc, share: Math.atan2(arc, radius + arc) / (2 * Math.PI) };
};

/** Radii of the cutter's centre, pass by pass: each takes as much of the groove's section, which grows with the square of its depth. */
export const passRadii = (
  { side, wall, blank }: MilledThread,
  tool: number,
  passes: number,
  inch: boolean,
): { readonly radius: number; readonly wall: number }[] =>
  Array.from({ length: passes }, (_, i) => {
    const reached = blank + (wall - blank) * Math.sqrt((i + 1) / passes);
    const exact = side === 'internal' ? (reached - tool) / 2 : (reached + tool) / 2;
    // What is written is never deeper in the wall than what is meant.
    return { radius: side === 'internal' ? roundLengthDown(exact, inch) : roundLengthUp(exact, inch), wall: reached };
  });
