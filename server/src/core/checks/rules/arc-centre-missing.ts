import { centreLetters } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';

/** G2 or G3 with neither centre words nor R. */
export const arcCentreMissing = defineRule({
  code: 'arc-centre-missing',
  severity: 'error',
  repairedBySearch: true,
  reason: 'An arc without a centre is an alarm, or a straight cut through the corner.',
  messages: {
    missing:
      'This arc in {plane} has no centre: neither {first} and {second} nor R is written. Give its centre or its radius, or write G1 for a straight cut.',
  },
  fault(context, fault, arc) {
    const letters = arc === undefined ? {} : centreLetters(arc);
    context.report('missing', fault.start, fault.end, { ...fault.data, ...letters });
  },
});
