import { WordFlag } from '../../syntax/block.ts';
import type { Fault, RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { isPlain } from '../support/words.ts';

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
    'sign-before-letter': 'The {text} stands before its letter, and {word} counts without it. Write {right} instead.',
    'expression-malformed': '"{text}" cannot be worked out. Check its operators and brackets.',
    'bracket-missing': 'In "{text}" a square bracket is missing. Every [ needs its ].',
    'unknown-function':
      '"{text}" is no function of the control. Known are SIN COS TAN ASIN ACOS ATAN SQRT ABS ROUND FIX FUP LN EXP.',
    'number-range':
      '"{text}" has a number that its letter cannot carry. It must be a whole number, not negative and not too large.',
    'sequence-number-range':
      '"{text}" is beyond N{limit}, the largest sequence number of this control. Number the program in smaller steps.',
    'needs-start': '{letter} stands in the middle of the block. Move it to the front.',
  },
  fault(context, fault) {
    const word = fault.message === 'stray' ? wordBehindSign(context, fault) : -1;
    if (word < 0) {
      context.report(fault.message, fault.start, fault.end, fault.data);
      return;
    }
    const { block } = context;
    const [start, end] = [block.starts[word], block.ends[word]];
    const sign = block.source[fault.start];
    const right = block.source[start] + sign + block.source.slice(start + 1, end).trim();
    const fix = context.replace(`Write ${right}`, false, { start: fault.start, end, text: right });
    context.report('sign-before-letter', fault.start, end, { text: sign, word: block.wordText(word), right }, [fix]);
  },
});

/** Index of a word without a sign of its own that a lone sign stands right before, −1 without. */
const wordBehindSign = ({ block }: RuleContext, fault: Fault): number => {
  if (fault.end - fault.start !== 1 || !'+-'.includes(block.source[fault.start])) return -1;
  for (let i = 0; i < block.wordCount; i++) {
    if (block.starts[i] !== fault.end) continue;
    return isPlain(block, i) && (block.flags[i] & WordFlag.signed) === 0 ? i : -1;
  }
  return -1;
};
