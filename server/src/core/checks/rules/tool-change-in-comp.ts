import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import { defineRule } from '../support/gradedRule.ts';

const M = letterIndex('M');

/** M6 while G41 or G42 is on. */
export const toolChangeInComp = defineRule({
  code: 'tool-change-in-comp',
  severity: 'warning',
  reason: 'The next tool goes on with the old side and D: its first move is shifted by a radius that is not its own.',
  messages: {
    change: 'The tool is changed while {code} is on. Lead out with G40 and a straight move before it.',
  },
  codes(context) {
    const { modes, block } = context;
    if (modes[Mode.radiusCompensation] === 40 || (modes[Mode.given] & Given.compensationTold) !== 0) return;
    if (context.before[Mode.radiusCompensation] === 40) return;
    for (let i = 0; i < block.wordCount; i++) {
      if (block.letters[i] !== M || block.values[i] !== 6) continue;
      context.give(Given.compensationTold);
      context.report('change', block.starts[i], block.ends[i], { code: `G${modes[Mode.radiusCompensation]}` });
    }
  },
});
