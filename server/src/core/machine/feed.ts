/** What a feed and a wait mean in a block. */
import { type Block, WordFlag } from '../syntax/block.ts';
import type { Executor } from './executor.ts';
import { F, P } from './letters.ts';
import { Given, Mode } from './modes.ts';
import type { ControlProfile } from './profile.ts';

/** Seconds that word `index` waits, by the profile. */
export const dwellSeconds = (
  place: { readonly block: Block; readonly profile: ControlProfile },
  index: number,
): number => {
  const { block, profile } = place;
  const value = block.values[index];
  const written = (block.flags[index] & (WordFlag.point | WordFlag.computed)) !== 0;
  if (profile.dwell === 'seconds') return value;
  if (profile.dwell === 'milliseconds') return written && block.letters[index] !== P ? value : value / 1000;
  return !written && value >= 50 ? value / 1000 : value;
};

/** True if the block can cut at a feed; raises what is missing, once until the cause goes. */
export const checkFeed = (executor: Executor): boolean => {
  const { modes, block } = executor;
  const inTime = modes[Mode.feedMode] === 93;
  if (inTime && !block.has(F)) {
    executor.faultAt('feed-missing', 'inverse-time-needs-feed', executor.motionWord);
    return false;
  }
  if (modes[Mode.feed] > 0 || Number.isNaN(modes[Mode.feed])) return true;
  if (modes[Mode.feed] === 0) return zeroFeed(executor);
  if ((modes[Mode.given] & Given.feedComplained) === 0) {
    const lost = (modes[Mode.given] & Given.feedLost) !== 0;
    executor.faultAt('feed-missing', lost ? 'mode-changed' : 'no-feed', executor.motionWord);
    executor.give(Given.feedComplained);
  }
  return false;
};

/** F0 at a cut (a negative F counts as none too): raised once until the next F. */
const zeroFeed = (executor: Executor): boolean => {
  const { modes, block } = executor;
  if ((modes[Mode.given] & Given.feedComplained) !== 0) return false;
  executor.give(Given.feedComplained);
  const word = block.has(F) ? block.slot[F] : -1;
  if (word >= 0 && block.values[word] < 0) {
    executor.faultAt('feed-zero', 'negative', word, { written: block.wordText(word) });
  } else executor.faultAt('feed-zero', 'zero', word >= 0 ? word : executor.motionWord);
  return false;
};
