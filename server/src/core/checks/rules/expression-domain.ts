import { defineRule } from '../support/gradedRule.ts';

/** Sums that have no result. */
export const expressionDomain = defineRule({
  code: 'expression-domain',
  severity: 'error',
  reason: 'The control alarms in the middle of the program when it gets there.',
  messages: {
    sqrt: 'SQRT of {value}: a negative number has no square root. Check {inputs}.',
    'zero-division': 'Something is divided by zero here. Check {inputs}.',
    asin: 'ASIN of {value}: it is beyond 1, so no angle has this sine. Check {inputs}.',
    acos: 'ACOS of {value}: it is beyond 1, so no angle has this cosine. Check {inputs}.',
    ln: 'LN of {value}: only numbers above zero have a logarithm. Check {inputs}.',
    power:
      'This power has no result: a negative number takes whole exponents only, and zero none below zero. Check {inputs}.',
  },
  fault(context, fault) {
    const inputs = inputsText(context.block.source.slice(fault.start, fault.end));
    context.report(fault.message, fault.start, fault.end, { ...fault.data, inputs });
  },
});

/** The variables that a sum reads, by name. */
const inputsText = (sum: string): string => {
  const names = [...new Set(sum.match(/#(?:<[^>]*>|\d+)/g) ?? [])];
  if (names.length === 0) return 'the numbers that go in';
  if (names.length === 1) return `the value of ${names[0]}`;
  return `the values of ${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
};
