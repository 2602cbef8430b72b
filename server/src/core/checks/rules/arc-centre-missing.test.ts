import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-centre-missing', {
  quiet: [{ program: 'G17 G0 X0 Y0\nG2 X10. R5. F100' }, { program: 'G17 G0 X0 Y0\nG2 X10. I5. F100' }],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X10. Y10. F100
^^`,
      findings: [{ message: 'missing', says: ['G17', 'I and J'] }],
    },
    {
      program: `
G19 G0 X0 Y0 Z0
G3 Y10. Z10. F100
^^`,
      findings: [{ message: 'missing', says: ['G19', 'J and K'] }],
    },
    {
      program: `
G18 G0 X0 Y0 Z0
G3 X10. Z10. F100
^^`,
      findings: [{ message: 'missing', says: ['G18', 'I and K'] }],
    },
  ],
});
