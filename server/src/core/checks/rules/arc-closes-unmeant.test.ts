import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-closes-unmeant', {
  quiet: [
    { program: 'G17 G0 X10. Y0\nG2 X10. Y0 I-5. J0 F100' },
    { program: 'G17 G0 X10. Y0\nG2 I-5. F100' },
    { program: 'G17 G0 X0 Y0 Z0\nG1 X10. Y0 F100\nG3 X10.001 Y0 I0 J40.' },
    { program: 'G17 G0 X10. Y0\nG2 X9.5 Y0.5 I-0.5 J0 F100' },
  ],
  reports: [
    {
      program: `
G17 G0 X10. Y0
G1 Z-1. F100
G2 X10. Y0.001 I-5. J0
   ^^^^`,
      findings: [{ message: 'almost-full', says: ['0.001', 'radius 5'] }],
    },
    {
      program: `
G17 G0 X10. Y0
G1 Z-1. F100
G3 X10. Y0.001 I-5. J0
   ^^^^`,
      findings: [{ message: 'almost-nothing', says: ['0.001', 'radius 5'] }],
    },
  ],
});
