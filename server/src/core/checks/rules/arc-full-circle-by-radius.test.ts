import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-full-circle-by-radius', {
  quiet: [{ program: 'G17 G0 X0 Y0\nG2 I5. F100' }, { program: 'G17 G0 X0 Y0\nG2 X10. R5. F100' }],
  reports: [
    {
      program: `
G18 G0 X0 Y0 Z0
G2 X0 Z0 R5. F100
         ^^^`,
      findings: [{ message: 'full', says: ['I and K'] }],
    },
  ],
});
