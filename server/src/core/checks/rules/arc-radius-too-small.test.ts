import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-radius-too-small', {
  quiet: [{ program: 'G17 G0 X0 Y0\nG2 X10. Y0 R5. F100' }, { program: 'G17 G0 X0 Y0\nG2 X10. Y0 R4.99 F100' }],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X10. Y0 R4. F100
           ^^^`,
      findings: [{ message: 'too-small', says: ['R 4 ', 'at least 5'] }],
    },
    {
      program: `
G20 G17 G0 X0 Y0
G2 X1. Y0 R.4 F10
          ^^^`,
      findings: [{ message: 'too-small', says: ['0.4', '0.5'] }],
    },
  ],
});
