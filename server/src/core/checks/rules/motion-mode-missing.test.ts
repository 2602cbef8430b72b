import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('motion-mode-missing', {
  quiet: [{ program: 'G0 X1.\nY2.\nM30' }, { program: 'X1. Y2.\nM99' }, { program: 'G92 X0 Y0\nM30' }],
  reports: [
    {
      program: `
G90 X1. Y2.
    ^^^
X5.
M30`,
      findings: [{ message: 'no-motion' }],
    },
  ],
});
