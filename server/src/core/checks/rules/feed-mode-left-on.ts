import { LeftOver, Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { reportBlock, toolName } from '../support/carriedValue.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber } from '../support/numbers.ts';

/**
 * Largest feed in mm a turn that is taken as meant: a large facing head with ten teeth at 0.4 mm, or the lead of a coarse
 * tap, stay below. Common practice, no source.
 */
const MOST_A_TURN = 10;

/** G93, G95 or G96 that was left on over a tool change. */
export const feedModeLeftOn = defineRule({
  code: 'feed-mode-left-on',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'A number for feed or speed that is read in the wrong way is wrong by a hundred or a thousand times.',
  messages: {
    'per-turn':
      'G95 was left on before {tool} came in, so F{feed} counts a turn of the spindle. Write G94 before it if F is per minute.',
    'in-time':
      'G93 was left on before {tool} came in, so F{feed} means that this move takes {time} s. Write G94 before it if F is per minute.',
    'cutting-speed':
      'G96 was left on before {tool} came in, so S{speed} is a cutting speed and no number of turns. Write G97 before it if S is turns a minute.',
  },
  firstCut(context) {
    const { modes } = context;
    const left = modes[Mode.leftOver] & (LeftOver.feedMode | LeftOver.speedMode);
    if (left === 0) return;
    context.settle(LeftOver.feedMode | LeftOver.speedMode);
    if ((modes[Mode.leftOver] & LeftOver.plainCut) === 0) return;
    if ((left & LeftOver.feedMode) !== 0) judgeFeed(context);
    if ((left & LeftOver.speedMode) !== 0 && modes[Mode.speedMode] === 96 && modes[Mode.speed] > 0) {
      reportBlock(context, 'cutting-speed', { tool: toolName(modes), speed: shortNumber(modes[Mode.speed]) });
    }
  },
});

const judgeFeed = (context: RuleContext): void => {
  const { modes, unit } = context;
  const feed = modes[Mode.feed];
  if (!(feed > 0)) return;
  const tool = toolName(modes);
  if (modes[Mode.feedMode] === 93) {
    reportBlock(context, 'in-time', { tool, feed: shortNumber(feed), time: shortNumber(60 / feed, 2) });
  } else if (modes[Mode.feedMode] === 95 && feed > MOST_A_TURN) {
    reportBlock(context, 'per-turn', { tool, feed: shortNumber(feed / unit) });
  }
};
