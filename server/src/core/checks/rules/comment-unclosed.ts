import { defineRule } from '../support/gradedRule.ts';

/** A remark that is opened and not closed in its block. */
export const commentUnclosed = defineRule({
  code: 'comment-unclosed',
  severity: 'error',
  reason: 'The control takes the rest of the block for a remark, or stops with an alarm.',
  messages: {
    unclosed: 'This remark is opened and never closed: the rest of the block is not executed. Close it with ).',
  },
  fault(context, fault) {
    const end = context.block.end;
    const closed = context.replace('Close the remark at the end of the block', false, { start: end, end, text: ')' });
    context.report('unclosed', fault.start, fault.end, fault.data, [closed]);
  },
});
