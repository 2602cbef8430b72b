import { Mode } from '../../machine/modes.ts';
import { foreignOwner, reportBlock, toolName } from '../support/carriedValue.ts';
import { LEAVES_AT_RAPID } from '../support/drillingCycles.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber } from '../support/numbers.ts';
import { tapInSpindle } from '../support/tapInSpindle.ts';

/** A tool's first cut, or the first after tapping, at another's speed. */
export const speedCarriedOver = defineRule({
  code: 'speed-carried-over',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'At the speed of a small tool a large one burns, and at that of a large one a small tool is slow and snaps.',
  messages: {
    'other-tool': 'The first cut of {tool} runs at S{speed}, which was given for {owner}. Write this tool’s own S.',
    before:
      'The first cut of {tool} runs at S{speed}, which was given for the tool before it. Write this tool’s own S.',
    tapping: 'This cut runs at S{speed}, which was given for tapping. Write the S for this cut.',
  },
  firstCut(context) {
    const { modes } = context;
    const isOn = modes[Mode.spindle] === 3 || modes[Mode.spindle] === 4;
    if (!isOn || !(modes[Mode.speed] > 0)) return;
    const owner = foreignOwner(context, modes[Mode.speedFrom]);
    if (owner === undefined) return;
    // Its repair writes another cycle with a speed of its own: `tap-in-drilling-cycle` speaks here.
    if (LEAVES_AT_RAPID.includes(modes[Mode.cycle]) && tapInSpindle(context) !== undefined) return;
    const message = owner === 'tapping' || owner === 'before' ? owner : 'other-tool';
    reportBlock(context, message, { speed: shortNumber(modes[Mode.speed]), owner, tool: toolName(modes) });
  },
});
