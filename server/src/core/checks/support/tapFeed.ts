/**
 * Feed of a tap against its pitch, by the holder. Sources: F = S·P is the definition of a pitch; the holders' limits are
 * common practice, restated in the design's rules page.
 */
import type { Configuration, Machine } from '../../machine/configuration.ts';
import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { placesOf } from './numbers.ts';
import { topOfWork } from './stockShape.ts';
import type { Tap } from './tapInSpindle.ts';

/** What a tap is fed at. */
export interface TapFeed {
  /** F in the program's units as written, and half its last place. */
  readonly written: number;
  readonly rounding: number;
  /** S, rev/min. */
  readonly speed: number;
  /** Feed a turn, mm, and how much of it half the last place of F is. */
  readonly perTurn: number;
  readonly roundingPerTurn: number;
  /** Depth in the work, mm; NaN unknown. */
  readonly depth: number;
  /** Turns F into feed a turn: S under G94, 1 under G95. */
  readonly turns: number;
  /** How far the spindle turns on after it is told to stop, in turns; 0 where the machine does not say. */
  readonly runOn: number;
}

/** Where a tap goes in: the level that it feeds from, its tip's lowest level, and the top of the work, mm. */
export interface TapWay {
  readonly from: number;
  readonly bottom: number;
  readonly top: number;
}

/** F and S under a set of modes; undefined where one of them is not known or counts otherwise. */
export const tapFeedUnder = (
  mode: (field: number) => number,
  way: TapWay,
  machine: Machine | undefined,
): TapFeed | undefined => {
  const feed = mode(Mode.feed);
  const speed = mode(Mode.speed);
  const feedMode = mode(Mode.feedMode);
  if (!(feed > 0 && speed > 0) || mode(Mode.speedMode) !== 97 || feedMode === 93) return undefined;
  const unit = mode(Mode.units) === 20 ? 25.4 : 1;
  const written = feed / unit;
  const rounding = 0.5 * 10 ** -placesOf(written);
  const turns = feedMode === 94 ? speed : 1;
  return {
    written,
    rounding,
    speed,
    perTurn: feed / turns,
    roundingPerTurn: (rounding * unit) / turns,
    depth: depthInWork(way),
    turns,
    runOn: spindleRunOn(machine, speed),
  };
};

/** F and S of the active cycle. */
export const tapFeed = (context: RuleContext): TapFeed | undefined => {
  const { modes, configuration } = context;
  return tapFeedUnder((field) => modes[field], wayOfCycle(modes, configuration), configuration.machine);
};

const wayOfCycle = (modes: Float64Array, configuration: Configuration): TapWay => ({
  from: modes[Mode.cycleRetract],
  bottom: modes[Mode.cycleDepth],
  top: topOfWork(configuration, modes[Mode.offset]),
});

/** The work is taken to begin at its top (the blank's, else the work's zero) where the way passes through it, mm. */
export const depthInWork = ({ from, bottom, top }: TapWay): number =>
  (bottom < top && from > top ? top : from) - bottom;

/**
 * Turns that the spindle makes until it stands, slowing down as evenly as it runs up: S/60 · t/2 with t the run-up time
 * in the share that S has of the top speed (mechanics of even deceleration). 0 where the machine's figures are not given.
 */
const spindleRunOn = (machine: Machine | undefined, speed: number): number => {
  if (machine?.spindleRunUp === undefined || machine.topSpeed === undefined) return 0;
  const seconds = machine.spindleRunUp * Math.min(1, speed / machine.topSpeed);
  return ((speed / 60) * seconds) / 2;
};

/** A judgement: the message's id and the values of its own. */
export interface TapVerdict {
  readonly message:
    | 'wrong'
    | 'off'
    | 'held-back'
    | 'pushed-on'
    | 'compressed'
    | 'stroke-used-up'
    | 'stroke-nearly-used-up'
    | 'run-on'
    | 'lets-go-early';
  readonly data: Readonly<Record<string, number | string>>;
}

/** Judges a feed against the pitch (mm). Undefined where it is right. */
export const judgeTapFeed = (feed: TapFeed, pitch: number, tap: Tap): TapVerdict | undefined => {
  const error = feed.perTurn - pitch;
  const isExact = Math.abs(error) <= feed.roundingPerTurn + pitch * 1e-6;
  const { holder } = tap;
  const isDeep = feed.depth > 0;
  if (holder?.kind === 'float' && holder.float !== undefined && error <= feed.roundingPerTurn && isDeep) {
    return judgeStroke(isExact ? 0 : (-error / pitch) * feed.depth, feed.runOn * pitch, holder.float);
  }
  if (isExact) return undefined;
  if (holder?.kind === 'synchronised' && isDeep) return judgeSynchronised((error / pitch) * feed.depth, pitch);
  if (holder?.kind === 'reversing' && holder.selfFeed !== undefined && error < 0 && isDeep) {
    const short = (-error / pitch) * feed.depth;
    const data = { short, selfFeed: holder.selfFeed };
    return short >= holder.selfFeed ? { message: 'lets-go-early', data } : undefined;
  }
  if (holder?.kind === 'float' || holder?.kind === 'reversing') return judgeGiving(error / pitch, feed.depth);
  return judgeBands(error / pitch);
};

/** The error adds up over the depth, mm: 0.05 of the pitch is allowed. */
const judgeSynchronised = (sum: number, pitch: number): TapVerdict | undefined => {
  if (Math.abs(sum) <= 0.05 * pitch) return undefined;
  return { message: sum < 0 ? 'held-back' : 'pushed-on', data: { sum: Math.abs(sum) } };
};

/** How far a float holder is drawn out, by the feed and by the spindle's run-on, against its stroke; mm. */
const judgeStroke = (short: number, runOn: number, stroke: number): TapVerdict | undefined => {
  const all = short + runOn;
  const isByRunOn = short <= (stroke * 2) / 3;
  const data = { short: all, stroke, runOn };
  if (isByRunOn) return all > stroke ? { message: 'run-on', data } : undefined;
  return { message: all > stroke ? 'stroke-used-up' : 'stroke-nearly-used-up', data };
};

/** A holder that gives by nobody knows how much: a little less is usual, more is pushed. `share` of the pitch. */
const judgeGiving = (share: number, depth: number): TapVerdict | undefined => {
  if (share > 0.01 + 1e-9)
    return depth > 0 ? { message: 'compressed', data: { sum: share * depth } } : judgeBands(share);
  return share < -0.05 ? judgeBands(share) : undefined;
};

/** The bands for a holder that is not known: ±1 %, and −15 % to +5 %. */
const judgeBands = (share: number): TapVerdict | undefined => {
  if (share < -0.15 || share > 0.05) return { message: 'wrong', data: {} };
  return Math.abs(share) > 0.01 + 1e-9 ? { message: 'off', data: {} } : undefined;
};
