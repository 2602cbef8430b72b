import { defineRule } from '../support/gradedRule.ts';

/** An arc that doubles back at both ends, where the other direction would run smoothly through. */
export const arcDirectionSuspect = defineRule({
  code: 'arc-direction-suspect',
  severity: 'hint',
  reason: 'G2 for G3 bulges the cut into the part, or the cutter out of it.',
  messages: {
    suspect:
      'The arc doubles back on the cuts before and behind it, and {other} would join both smoothly. Check its direction.',
  },
});
