import { centreLetters } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';

/** An arc about the point it starts from. */
export const arcZeroRadius = defineRule({
  code: 'arc-zero-radius',
  severity: 'error',
  repairedBySearch: true,
  reason: 'An arc without a radius is an alarm on most controls.',
  messages: {
    zero: 'The centre words put the centre on the start of the arc, so it has no radius. Write by {first} and {second} where the centre is.',
    'radius-zero':
      'R is 0, so the arc has no radius. Write its radius, or where its centre is by {first} and {second}.',
  },
  fault(context, fault, arc) {
    const letters = arc === undefined ? { first: 'I', second: 'J' } : centreLetters(arc);
    context.report(arc?.byRadius ? 'radius-zero' : 'zero', fault.start, fault.end, { ...letters });
  },
});
