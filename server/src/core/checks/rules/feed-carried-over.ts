import { Mode } from '../../machine/modes.ts';
import { foreignOwner, isTapping, reportBlock, toolName } from '../support/carriedValue.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber } from '../support/numbers.ts';

/** A tool's first cut, or the first after tapping, at another's feed. */
export const feedCarriedOver = defineRule({
  code: 'feed-carried-over',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'A feed that suits one tool breaks another, or lets it rub.',
  messages: {
    'other-tool': 'The first cut of {tool} runs at F{feed}, which was given for {owner}. Write this tool’s own F.',
    before: 'The first cut of {tool} runs at F{feed}, which was given for the tool before it. Write this tool’s own F.',
    tapping: 'This cut runs at F{feed}, which was given for tapping. Write the F for this cut.',
  },
  firstCut(context) {
    const { modes } = context;
    if (!(modes[Mode.feed] > 0) || modes[Mode.feedMode] === 93) return;
    if (isTapping(modes) || modes[Mode.motion] === 330) return;
    const owner = foreignOwner(context, modes[Mode.feedFrom]);
    if (owner === undefined) return;
    const feed = shortNumber(modes[Mode.feed] / context.unit);
    const message = owner === 'tapping' || owner === 'before' ? owner : 'other-tool';
    reportBlock(context, message, { feed, owner, tool: toolName(modes) });
  },
});
