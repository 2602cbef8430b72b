/**
 * Feed of a tap against its pitch, by the holder. Sources: F = S·P is the definition of a pitch; the holders' limits are
 * common practice, restated in the design's rules page.
 */
import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { placesOf } from './numbers.ts';
import type { Tap } from './tapInSpindle.ts';

/** What a tapping cycle runs at. */
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
}

/** F and S of the active cycle; undefined where one of them is not known or counts otherwise. */
export const tapFeed = (context: RuleContext): TapFeed | undefined => {
  const { modes, unit } = context;
  const feed = modes[Mode.feed];
  const speed = modes[Mode.speed];
  const perMinute = modes[Mode.feedMode] === 94;
  if (!(feed > 0 && speed > 0) || modes[Mode.speedMode] !== 97 || modes[Mode.feedMode] === 93) return undefined;
  const written = feed / unit;
  const rounding = 0.5 * 10 ** -placesOf(written);
  const turns = perMinute ? speed : 1;
  const retract = modes[Mode.cycleRetract];
  const bottom = modes[Mode.cycleDepth];
  // The work is taken to begin at its zero where the hole passes through it.
  const depth = (bottom < 0 && retract > 0 ? 0 : retract) - bottom;
  return { written, rounding, speed, perTurn: feed / turns, roundingPerTurn: (rounding * unit) / turns, depth, turns };
};

/** A judgement: the message's id and the values of its own. */
export interface TapVerdict {
  readonly message: 'wrong' | 'off' | 'stroke-used-up' | 'stroke-nearly-used-up' | 'lets-go-early';
  readonly data: Readonly<Record<string, number>>;
}

/** Judges a feed against the pitch (mm). Undefined where it is right. */
export const judgeTapFeed = (feed: TapFeed, pitch: number, tap: Tap): TapVerdict | undefined => {
  const error = feed.perTurn - pitch;
  if (Math.abs(error) <= feed.roundingPerTurn + pitch * 1e-6) return undefined;
  const holder = tap.holder;
  if (holder?.kind === 'synchronised' && feed.depth > 0) {
    const sum = (Math.abs(error) * feed.depth) / pitch;
    return sum > 0.05 * pitch ? { message: 'wrong', data: {} } : undefined;
  }
  const short = (-error / pitch) * feed.depth;
  if (holder?.kind === 'float' && holder.float !== undefined && error < 0 && feed.depth > 0) {
    return judgeStroke(short, holder.float);
  }
  if (holder?.kind === 'reversing' && holder.selfFeed !== undefined && error < 0 && feed.depth > 0) {
    const data = { short, selfFeed: holder.selfFeed };
    return short >= holder.selfFeed ? { message: 'lets-go-early', data } : undefined;
  }
  return judgeBands(error / pitch);
};

const judgeStroke = (short: number, stroke: number): TapVerdict | undefined => {
  if (short > stroke) return { message: 'stroke-used-up', data: { short, stroke } };
  if (short > (stroke * 2) / 3) return { message: 'stroke-nearly-used-up', data: { short, stroke } };
  return undefined;
};

/** The bands for a holder that is not known: ±1 %, and −15 % to +5 %. */
const judgeBands = (share: number): TapVerdict | undefined => {
  if (share < -0.15 || share > 0.05) return { message: 'wrong', data: {} };
  return Math.abs(share) > 0.01 + 1e-9 ? { message: 'off', data: {} } : undefined;
};
