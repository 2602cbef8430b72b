import { defineRule } from '../support/gradedRule.ts';

/** More characters, G words or M words in a block than the control takes. */
export const blockTooLong = defineRule({
  code: 'block-too-long',
  severity: 'warning',
  reason: 'A control cuts a block that is too long, or alarms in the middle of the program.',
  messages: {
    'too-long':
      'The block has {length} characters; this control takes {limit}. Split it into two blocks, or shorten its remark.',
    'too-many-g': 'The block has {count} G words; this control takes {limit}. Split it into two blocks.',
    'too-many-m': 'The block has {count} M words; this control takes {limit}. Split it into two blocks.',
  },
  block(context) {
    const { block, profile } = context;
    const length = block.end - block.start;
    if (length > profile.lineLength) {
      context.report('too-long', block.start, block.end, { length, limit: profile.lineLength });
    }
  },
});
