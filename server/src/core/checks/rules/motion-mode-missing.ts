import { defineRule } from '../support/gradedRule.ts';

/** Axis words with no motion code in force. */
export const motionModeMissing = defineRule({
  code: 'motion-mode-missing',
  severity: 'error',
  silentInSubprograms: true,
  reason: 'The control alarms, or moves by whatever code it had at power-on.',
  messages: {
    'no-motion': 'Axis words stand here and no motion code is in force. Write G0, G1, G2 or G3 before them.',
  },
});
