import { defineRule } from '../support/gradedRule.ts';

/** Sums that have no result. */
export const expressionDomain = defineRule({
  code: 'expression-domain',
  severity: 'error',
  reason: 'The control alarms in the middle of the program when it gets there.',
  messages: {
    sqrt: 'SQRT of {value}: a negative number has no square root. Check the values that go in.',
    'zero-division': 'Something is divided by zero here. Check the divisor before it is used.',
    asin: 'ASIN of {value}: it is beyond 1, so no angle has this sine. Check the values that go in.',
    acos: 'ACOS of {value}: it is beyond 1, so no angle has this cosine. Check the values that go in.',
    ln: 'LN of {value}: only numbers above zero have a logarithm. Check the values that go in.',
    power: 'This power has no result. A negative number takes whole exponents only, and zero none below zero.',
  },
});
