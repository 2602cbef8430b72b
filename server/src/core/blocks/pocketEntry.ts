/**
 * The way into full material: down a helix, along a ramp to and fro, or straight down. It ends on the level with a floor
 * that is flat where it went.
 */
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import { feedInside, plungeFeed, rampAngle, type ShapeCutter } from './shapeCutter.ts';
import type { ShapePen } from './shapePen.ts';
import { evenSteps } from './stepping.ts';
import type { Values } from './values.ts';

/** Ways in. */
export type EntryKind = 'helix' | 'ramp' | 'plunge';

/** Radius of a helix into full material, as a part of the cutter's diameter: its hole is 1.8 cutters (common practice, no source). */
export const HELIX_RADIUS = 0.4;
/** Below this part of the cutter a helix is a plunge. */
const LEAST_HELIX = 0.05;
/** A cutter that does not cut over its centre needs a helix of this part of its diameter, so that no plug stands (common practice, no source). */
const LEAST_HELIX_OVER_CORE = 0.25;
/** Full turns or strokes of one way down; beyond, it is better made another way. */
const MOST_TURNS = 300;

/** A way in, in the shape's own axes. Lengths mm, feed mm/min of the centre. */
export interface Entry {
  readonly kind: EntryKind;
  readonly clockwise: boolean;
  readonly centre: Place;
  /** Radius of the helix; half the length of the ramp; 0 straight down. */
  readonly reach: number;
  /** Most that it goes down in a turn, or in a stroke. */
  readonly most: number;
  readonly feed: number;
  /** Feed on the level, and of the helix's level turn. */
  readonly levelFeed: number;
  readonly turnFeed: number;
}

/** Room for a way in, in the shape's own axes; mm. */
export interface EntryRoom {
  readonly kind: EntryKind;
  readonly clockwise: boolean;
  readonly centre: Place;
  /** Largest radius of a helix that the shape has room for. */
  readonly helix: number;
  /** Half the length of a ramp along X. */
  readonly ramp: number;
  /** Largest drop of one way in. */
  readonly drop: number;
}

/** Computes the way in; problems, facts and the plunge feed go to the plan. Undefined where it cannot be had. */
export const planEntry = (values: Values, plan: BlockPlan, cutter: ShapeCutter, room: EntryRoom): Entry | undefined => {
  const { kind, clockwise, centre } = room;
  const angle = rampAngle(values, plan);
  // A helix has the wall of its own hole around it.
  const turnFeed = kind === 'helix' ? feedInside(cutter.feed, room.helix, cutter.radius, plan.inch) : cutter.feed;
  const feed = plungeFeed(
    values,
    plan,
    cutter.feed,
    kind === 'plunge',
    kind === 'helix' ? turnFeed : Number.POSITIVE_INFINITY,
  );
  const cutsOverCentre = values.isYes('centre-cutting');
  const level = { kind, clockwise, centre, feed, levelFeed: cutter.feed, turnFeed };
  if (kind === 'plunge') {
    if (cutsOverCentre) return { ...level, reach: 0, most: Number.POSITIVE_INFINITY };
    plan.problem(
      'entry',
      'The cutter does not cut over its centre and cannot go straight down. Take the helix or the ramp as the way in.',
    );
    return undefined;
  }
  const reach = kind === 'helix' ? room.helix : room.ramp;
  const length = kind === 'helix' ? 2 * Math.PI * reach : 2 * reach;
  const least = leastReach(kind, cutsOverCentre) * cutter.diameter;
  if (reach < least - 1e-9) {
    plan.problem('entry', noRoom(plan, kind, reach, least, cutsOverCentre));
    return undefined;
  }
  // Heights are written to a last digit: half of it at both ends must not make a turn steeper than asked.
  const steepest = length * Math.tan((angle * Math.PI) / 180);
  const { count, size } = evenSteps(room.drop, Math.max(steepest - (plan.inch ? 0.00254 : 0.001), steepest / 2));
  if (count > MOST_TURNS) {
    plan.problem(
      'ramp-angle',
      `The way down would take ${count} ${kind === 'helix' ? 'turns' : 'strokes'} a level at ${plan.say(angle, '°', 2)}; the most is ${MOST_TURNS}. Give a steeper ramp angle, a smaller depth of cut, or another way in.`,
    );
    return undefined;
  }
  const actual = (Math.atan2(size, length) * 180) / Math.PI;
  plan.fact('entry-turns', kind === 'helix' ? 'Turns of the helix a level' : 'Strokes of the ramp a level', count);
  plan.fact('ramp-angle', 'Ramp angle', actual, '°', 2);
  return { ...level, reach, most: size };
};

const leastReach = (kind: EntryKind, cutsOverCentre: boolean): number =>
  kind === 'helix' ? (cutsOverCentre ? LEAST_HELIX : LEAST_HELIX_OVER_CORE) : cutsOverCentre ? LEAST_HELIX : 0.5;

const noRoom = (plan: BlockPlan, kind: EntryKind, reach: number, least: number, cutsOverCentre: boolean): string => {
  const what =
    kind === 'helix'
      ? `a helix of ${plan.say(2 * reach)} across on the cutter’s centre`
      : `a ramp of ${plan.say(2 * reach)}`;
  const why = cutsOverCentre ? '' : ', or a plug would stand under a cutter that does not cut over its centre';
  const other = cutsOverCentre
    ? 'a smaller cutter, or another way in'
    : 'a smaller cutter, or one that cuts over its centre';
  return `There is only room for ${what}, and it takes ${plan.say(2 * least)}${why}. Take ${other}.`;
};

/** Where the way in begins. */
export const entryStart = ({ kind, centre, reach }: Entry): Place =>
  kind === 'helix' ? [centre[0] + reach, centre[1]] : [centre[0] - reach, centre[1]];

/** Goes from `from` down to `level`, Z in mm, and once level along the way. Begins at `entryStart`; answers where it ends. */
export const drawEntry = (pen: ShapePen, entry: Entry, from: number, level: number): Place => {
  const { kind, clockwise, centre, reach, most, feed, levelFeed, turnFeed } = entry;
  const start = entryStart(entry);
  if (kind === 'plunge') {
    pen.down(level, feed);
    return start;
  }
  const { count, size } = evenSteps(from - level, most);
  const heights = Array.from({ length: count }, (_, i) => (i === count - 1 ? level : from - size * (i + 1)));
  if (kind === 'helix') {
    for (const height of heights) pen.arc(clockwise, start, centre, feed, height);
    pen.arc(clockwise, start, centre, turnFeed);
    return start;
  }
  const other: Place = [centre[0] + reach, centre[1]];
  const ends = [other, start];
  heights.forEach((height, i) => {
    pen.line(ends[i % 2], feed, height);
  });
  const end = ends[heights.length % 2];
  pen.line(end, levelFeed);
  return end;
};
