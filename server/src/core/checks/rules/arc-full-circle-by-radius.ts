import { centreLetters } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';

/** R with the end point on the start point. */
export const arcFullCircleByRadius = defineRule({
  code: 'arc-full-circle-by-radius',
  severity: 'error',
  repairedBySearch: true,
  reason: 'Any number of circles with this radius pass through one point: the control alarms, or does not move at all.',
  messages: {
    full: 'The arc ends where it starts, and R alone does not say where a full circle lies. Give its centre by {first} and {second}, or the end point of a part circle.',
  },
  fault(context, fault, arc) {
    const letters = arc === undefined ? { first: 'I', second: 'J' } : centreLetters(arc);
    context.report('full', fault.start, fault.end, letters);
  },
});
