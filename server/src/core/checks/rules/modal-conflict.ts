import { defineRule } from '../support/gradedRule.ts';
import { removalFix, wordAt } from '../support/words.ts';

/** Two codes of one group in a block. */
export const modalConflict = defineRule({
  code: 'modal-conflict',
  severity: 'warning',
  strictSeverity: 'error',
  reason: 'Only one of two codes of one group can hold; which one depends on the control.',
  messages: {
    'same-group':
      '{first} and {second} exclude each other; {second}, the later one, holds. Keep the one that is meant.',
    'same-group-strict':
      '{first} and {second} exclude each other and this control stops at the block. Keep the one that is meant.',
  },
  fault(context, fault) {
    const { block } = context;
    const second = fault.word >= 0 ? fault.word : wordAt(block, fault.start);
    let first = second - 1;
    while (first >= 0 && block.wordText(first) !== fault.data.first) first--;
    const fixes =
      first >= 0 && second >= 0
        ? [
            removalFix(context, `Keep ${fault.data.second} only`, first),
            removalFix(context, `Keep ${fault.data.first} only`, second),
          ]
        : [];
    const message = context.profile.groupConflict === 'error' ? 'same-group-strict' : 'same-group';
    context.report(message, fault.start, fault.end, fault.data, fixes);
  },
});
