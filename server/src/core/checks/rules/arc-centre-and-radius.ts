import { defineRule } from '../support/gradedRule.ts';

/** R and centre words in one block. */
export const arcCentreAndRadius = defineRule({
  code: 'arc-centre-and-radius',
  severity: 'warning',
  strictSeverity: 'error',
  severities: { both: 'warning', 'both-strict': 'error' },
  repairedBySearch: true,
  reason: 'A control alarms or takes one of the two; which one differs.',
  messages: {
    both: 'R{radius} and centre words stand in one block; here R holds and the centre words are dropped. Keep one of the two.',
    'both-strict': 'R{radius} and centre words stand in one block, and this control stops at it. Keep one of the two.',
  },
  fault(context, fault, arc) {
    const message = context.profile.radiusAndCentre === 'error' ? 'both-strict' : 'both';
    const data = arc === undefined ? fault.data : { radius: arc.programmedRadius / context.unit };
    context.report(message, fault.start, fault.end, data);
  },
});
