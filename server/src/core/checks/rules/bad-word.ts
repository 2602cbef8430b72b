import { defineRule } from '../support/gradedRule.ts';

/** Words that cannot be read: a letter alone, a malformed number, a stray character. */
export const badWord = defineRule({
  code: 'bad-word',
  severity: 'error',
  reason: 'The control stops with an alarm at a word it cannot read, often in the middle of a cut.',
  messages: {
    'letter-without-number': '{letter} has no number behind it. Write the number, or take the letter out.',
    'number-malformed':
      '"{text}" is not a number. Write digits with one sign and one decimal point at most, such as X-12.5.',
    stray: '"{text}" belongs to no word. Take it out, or put it into a remark.',
    'expression-malformed': '"{text}" cannot be worked out. Check its operators and brackets.',
    'bracket-missing': 'In "{text}" a square bracket is missing. Every [ needs its ].',
    'unknown-function':
      '"{text}" is no function of the control. Known are SIN COS TAN ASIN ACOS ATAN SQRT ABS ROUND FIX FUP LN EXP.',
    'number-range':
      '"{text}" has a number that its letter cannot carry. It must be a whole number, not negative and not too large.',
    'needs-start': '{letter} stands in the middle of the block. Move it to the front.',
  },
});
