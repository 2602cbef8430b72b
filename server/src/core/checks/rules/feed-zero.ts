import { defineRule } from '../support/gradedRule.ts';

/** A cut at feed 0. */
export const feedZero = defineRule({
  code: 'feed-zero',
  severity: 'error',
  silentInSubprograms: true,
  reason: 'The control alarms, or stands still in the cut with the spindle turning.',
  messages: {
    zero: 'The feed at this cut is 0, so the tool does not move. Write the feed that is meant in F.',
    negative: '{written} is a negative feed, and no tool moves at that. Write the feed that is meant without a sign.',
  },
});
