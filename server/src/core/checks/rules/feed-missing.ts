import { defineRule } from '../support/gradedRule.ts';

/** A cut without a feed. */
export const feedMissing = defineRule({
  code: 'feed-missing',
  severity: 'error',
  silentInSubprograms: true,
  reason: 'The control alarms at the first cut, or runs it at a feed of another program.',
  messages: {
    'no-feed': 'This cut has no feed: no F was given so far. Write F in this block or before it.',
    'inverse-time-needs-feed':
      'Under G93 every cut needs its own F, and this one has none. Write F as 1 divided by the minutes that the move takes.',
    'mode-changed': 'The feed mode changed and the old F no longer counts. Write a new F for this cut.',
  },
});
