import { defineRule } from '../support/gradedRule.ts';

/** A canned cycle without a word that it needs. The executor raises it. */
export const cycleWordMissing = defineRule({
  code: 'cycle-word-missing',
  severity: 'error',
  silentInSubprograms: true,
  reason: 'The control alarms at the first hole, or drills with levels that another cycle left.',
  messages: {
    'no-levels':
      '{cycle} has neither R nor a depth. Write R, where feeding begins, and {axis}, the bottom of the hole.',
    'no-retract': '{cycle} has no R. Write R, the level above the work where feeding begins.',
    'no-depth': '{cycle} has no depth. Write {axis}, the bottom of the hole.',
    'no-peck':
      '{cycle} drills in pecks and has no Q, so the control alarms or goes down in one. Write Q, the depth of a peck.',
    'peck-zero': '{cycle} drills in pecks and Q is 0. Write Q, the depth of a peck.',
    'no-dwell': '{cycle} waits at the bottom and has no P. Write P, the wait in seconds.',
  },
});
