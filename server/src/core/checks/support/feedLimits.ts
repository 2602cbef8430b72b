/** Feeds against the machine and the cutter. */
import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { findWord } from './words.ts';

/** Feed of the cut in mm/min; NaN where it is not known, in inverse time, and of threads (their lead is no feed). */
export const feedPerMinute = ({ modes }: RuleContext): number => {
  const feed = modes[Mode.feed];
  if (!(feed > 0) || modes[Mode.motion] === 330) return Number.NaN;
  if (modes[Mode.feedMode] === 94) return feed;
  const isPerTurn = modes[Mode.feedMode] === 95 && modes[Mode.speedMode] === 97 && modes[Mode.speed] > 0;
  return isPerTurn ? feed * modes[Mode.speed] : Number.NaN;
};

/** True where the cut is faster than the machine's top feed. */
export const isOverMachine = (context: RuleContext): boolean => {
  const top = context.configuration.machine?.topFeed;
  return top !== undefined && feedPerMinute(context) > top * (1 + 1e-9);
};

/** Start and end of F, or of the whole block where F stands before it. */
export const feedPlace = ({ block }: RuleContext): [number, number] => {
  const word = findWord(block, 'F');
  if (word >= 0) return [block.starts[word], block.ends[word]];
  return block.wordCount > 0 ? [block.starts[0], block.ends[block.wordCount - 1]] : [block.start, block.end];
};
