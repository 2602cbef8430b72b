/** One way down a helix, inside a hole or round the outside of a boss: written, and how long it takes. Lengths mm. */
import { type BlockWriter, roundLength } from './blockWriter.ts';
import { type TurnForm, writeLevelTurns, writeTurns } from './formsOfTurns.ts';
import type { Place } from './parameter.ts';

/** A way down, level turns at its end, and off the wall. */
export interface HelixWay {
  /** Of the cutter's centre. */
  readonly radius: number;
  readonly clockwise: boolean;
  /** Of the cutter's centre, mm/min. */
  readonly feed: number;
  /** Z where the helix begins and ends. */
  readonly from: number;
  readonly to: number;
  readonly turns: number;
  readonly levelTurns: number;
  /** How far from the axis the tool stands before and after: 0 inside, clear of the stock outside. */
  readonly away: number;
}

/** A length that is written without a rest, so that the arcs of a way close. */
export const onGrid = (place: Place, inch: boolean): Place => [
  roundLength(place[0], inch),
  roundLength(place[1], inch),
];

/** The largest length that is written without a rest and is not over `value`. */
export const roundLengthDown = (value: number, inch: boolean): number => {
  const step = inch ? 0.00254 : 0.001;
  return roundLength(Math.floor(value / step + 1e-6) * step, inch);
};

/** The smallest length that is written without a rest and is not under `value`. */
export const roundLengthUp = (value: number, inch: boolean): number => -roundLengthDown(-value, inch);

/** Where the tool stands before and after a way. */
export const standOf = (centre: Place, { away }: Pick<HelixWay, 'away'>): Place => [centre[0] + away, centre[1]];

/**
 * Writes a way from and back to its stand: a half circle that runs smoothly on to the helix, its turns, the level ones, and a
 * half circle off. Inside, the half circles turn as the helix does, outside the other way round.
 */
export const writeHelixWay = (writer: BlockWriter, form: TurnForm, centre: Place, way: HelixWay): void => {
  const { radius, clockwise, feed, from, to } = way;
  const stand = standOf(centre, way);
  const wall: Place = [centre[0] + radius, centre[1]];
  // Rounded towards the stand, so that a rounded half circle never goes beyond the wall.
  const half = Math.sign(radius - way.away) * roundLengthDown(Math.abs(radius - way.away) / 2, writer.inch);
  const middle: Place = [stand[0] + half, centre[1]];
  const leadsClockwise = way.away > radius ? !clockwise : clockwise;
  writer.arc(leadsClockwise, stand, wall, middle, feed);
  const turns = { centre, start: wall, clockwise, feed };
  writeTurns(writer, form, { ...turns, from, to, count: way.turns });
  writeLevelTurns(writer, form, { ...turns, count: way.levelTurns });
  writer.arc(leadsClockwise, wall, stand, middle, feed);
};

/** Seconds that a way takes at its feed, `helixFeed` of the profile: whether F of a helix runs along it or in the plane. */
export const secondsOfWay = (way: HelixWay, helixFeed: 'space' | 'plane'): number => {
  const circle = 2 * Math.PI * way.radius;
  const lead = helixFeed === 'space' ? (way.from - way.to) / way.turns : 0;
  const leads = Math.PI * Math.abs(way.away - way.radius);
  return ((leads + way.turns * Math.hypot(circle, lead) + way.levelTurns * circle) / way.feed) * 60;
};

/** "2 min 5 s", "1 h 12 min"; whole seconds. */
export const sayTime = (seconds: number): string => {
  const whole = Math.round(seconds);
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  if (hours > 0) return `${hours} h ${minutes} min`;
  return minutes > 0 ? `${minutes} min ${rest} s` : `${rest} s`;
};
