import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

const M = letterIndex('M');

/** G41 or G42 in force at the program's end, or on the way home. */
export const radiusCompLeftOn = defineRule({
  code: 'radius-comp-left-on',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'Compensation that stays on shifts the next moves aside, and on some controls the next program’s too.',
  messages: {
    end: '{code} is still on at the program’s end. Lead out with G40 and a straight move before it.',
    home: 'The machine goes home with {code} still on. Lead out with G40 and a straight move before it.',
  },
  codes(context) {
    const { modes, block } = context;
    if (modes[Mode.radiusCompensation] === 40) {
      context.takeBack(Given.compensationTold);
      return;
    }
    for (let i = 0; i < block.wordCount; i++) {
      const code = block.values[i];
      if (block.letters[i] === M && (code === 2 || code === 30)) tell(context, 'end', i);
    }
  },
  home(context) {
    if (context.modes[Mode.radiusCompensation] !== 40) tell(context, 'home', -1);
  },
});

const tell = (context: RuleContext, message: string, word: number): void => {
  const { modes, block } = context;
  if ((modes[Mode.given] & Given.compensationTold) !== 0) return;
  context.give(Given.compensationTold);
  const last = block.wordCount - 1;
  const start = word < 0 ? block.starts[0] : block.starts[word];
  const end = word < 0 ? block.ends[last] : block.ends[word];
  context.report(message, start, end, { code: `G${modes[Mode.radiusCompensation]}` });
};
