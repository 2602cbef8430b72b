import { letterIndex } from '../../syntax/block.ts';
import { defineRule } from '../support/gradedRule.ts';
import { removalFix, wordAt } from '../support/words.ts';

/** One letter twice in a block. */
export const wordRepeated = defineRule({
  code: 'word-repeated',
  severity: 'error',
  reason: 'A control alarms, or takes one of the two words and drops the other.',
  messages: {
    repeated: 'This block has {letter} more than once ({words}). Keep the one that is meant.',
  },
  fault(context, fault) {
    const { block } = context;
    const letter = letterIndex(String(fault.data.letter));
    const indexes: number[] = [];
    for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === letter) indexes.push(i);
    const shown = indexes.slice(0, 4).map((index) => block.wordText(index));
    const words = indexes.length > 4 ? `${shown.join(' ')} …` : shown.join(' ');
    const here = wordAt(block, fault.start);
    const fixes =
      indexes.length === 2 && here >= 0
        ? indexes.map((kept, place) => removalFix(context, `Keep ${block.wordText(kept)} only`, indexes[1 - place]))
        : [];
    context.report('repeated', fault.start, fault.end, { ...fault.data, words }, fixes);
  },
});
