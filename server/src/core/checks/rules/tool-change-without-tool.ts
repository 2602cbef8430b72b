import { defineRule } from '../support/gradedRule.ts';

/** M6 before any T. */
export const toolChangeWithoutTool = defineRule({
  code: 'tool-change-without-tool',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'The machine changes to whatever was called last, or alarms.',
  messages: {
    'no-tool': 'M6 changes the tool and no T was called before. Write the tool’s number, such as T1 M6.',
  },
});
