import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('text-after-end', {
  quiet: [
    { program: 'G0 X1.\nM30\n%' },
    { program: 'M30\nO2 (THE NEXT PROGRAM)\nG0 X1.\nM30' },
    { program: 'M30\n(A REMARK)' },
  ],
  reports: [
    {
      program: `
G0 X1.
M30
G0 X5.
^^^^^^
G0 X6.`,
      findings: [{ message: 'unused' }],
    },
  ],
});
