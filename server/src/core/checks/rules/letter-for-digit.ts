import { defineRule } from '../support/gradedRule.ts';

/** A letter typed where a digit belongs, or a sign for its letter. */
export const letterForDigit = defineRule({
  code: 'letter-for-digit',
  severity: 'error',
  reason: 'The control reads two words in place of one, or alarms.',
  messages: {
    letter: '{text} has the letter {letter} where {digit} belongs. {word} is probably meant.',
  },
  fault(context, fault) {
    const change = { start: fault.start, end: fault.end, text: String(fault.data.digit) };
    context.report('letter', fault.start, fault.end, fault.data, [
      context.replace(`Write ${fault.data.word}`, true, change),
    ]);
  },
});
