import { defineRule } from '../support/gradedRule.ts';

/** An arc about the point it starts from. */
export const arcZeroRadius = defineRule({
  code: 'arc-zero-radius',
  severity: 'error',
  repairedBySearch: true,
  reason: 'An arc without a radius is an alarm on most controls.',
  messages: {
    zero: 'The arc has radius 0: its centre is its start point, or R is 0. Write the centre words or R with their sizes.',
  },
});
