import { defineRule } from '../support/gradedRule.ts';

/** Two codes in one block that both take the axis words for themselves. */
export const axisWordsClaimedTwice = defineRule({
  code: 'axis-words-claimed-twice',
  severity: 'error',
  reason: 'The axis words can only mean one thing: a control alarms, or moves where nobody meant it to.',
  messages: {
    twice: '{first} and {second} both want the axis words of this block. Write them in two blocks.',
  },
});
