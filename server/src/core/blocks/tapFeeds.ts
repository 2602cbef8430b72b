/**
 * F of a tap by its holder. F = n·P is the definition of a pitch; what each holder takes is common practice, restated in the
 * design's rules page.
 */

import { type TapFeed, tapFeedUnder } from '../checks/support/tapFeed.ts';
import { Mode } from '../machine/modes.ts';
import type { BlockContext } from './context.ts';

/** Places that F is written in at most, and the coarsest step that people write: program's units a minute. */
const FINEST = { mm: 0.001, inch: 0.0001 };
const COARSEST = { mm: 1, inch: 0.1 };
/** What may be lost of F by writing it short, as a share. */
const MOST_LOST = 0.002;
/** Share of a float's stroke that is good to use; beyond it little is left for the run-on (rules page). */
export const GOOD_STROKE = 2 / 3;

/** F as exactly as it is written, for a tap that keeps step with the spindle; mm/min in and out. */
export const exactTapFeed = (feed: number, inch: boolean): number => {
  const [factor, finest] = inch ? [25.4, FINEST.inch] : [1, FINEST.mm];
  return Math.round(feed / factor / finest) * finest * factor;
};

/** F rounded down to as few places as keep it within 0.2 %; mm/min in and out. */
export const tapFeedDown = (feed: number, inch: boolean): number => {
  const [factor, finest, coarsest] = inch ? [25.4, FINEST.inch, COARSEST.inch] : [1, FINEST.mm, COARSEST.mm];
  const value = feed / factor;
  for (let step = coarsest; ; step /= 10) {
    // A value that is only a rounding error below its step is on it.
    const rounded = Math.floor(value / step + 1e-6) * step;
    if (rounded >= value * (1 - MOST_LOST) || step <= finest * 1.5) return rounded * factor;
  }
};

/** F of a float holder: the asked share of n·P rounded down, but not below the least share that such a holder takes. */
export const floatTapFeed = (full: number, percent: number, inch: boolean): number => {
  const [factor, finest] = inch ? [25.4, FINEST.inch] : [1, FINEST.mm];
  const least = (full * LEAST_FLOAT_PERCENT) / 100;
  const down = tapFeedDown((full * percent) / 100, inch);
  return down >= least ? down : Math.ceil(least / factor / finest - 1e-6) * finest * factor;
};

/** Least share of n·P that a float holder is fed in at, % (rules page). */
export const LEAST_FLOAT_PERCENT = 95;

/** A feed as the checks read it, over the way in the work from `top` down to `bottom`. Lengths mm, feed mm/min. */
export const readFeed = (
  feed: number,
  speed: number,
  way: { readonly from: number; readonly top: number; readonly bottom: number },
  { entry, configuration }: BlockContext,
): TapFeed | undefined => {
  const modes = new Map<number, number>([
    [Mode.feed, feed],
    [Mode.speed, speed],
    [Mode.speedMode, 97],
    [Mode.feedMode, 94],
    [Mode.units, entry.units === 'inch' ? 20 : 21],
  ]);
  return tapFeedUnder((field) => modes.get(field) ?? 0, way, configuration.machine);
};
