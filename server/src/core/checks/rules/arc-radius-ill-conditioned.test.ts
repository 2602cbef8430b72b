import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-radius-ill-conditioned', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 X8. Y8. R8. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. I5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. R5.06 F100' },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X10. R5.02 F100
        ^^^^^`,
      findings: [
        {
          message: 'half-turn',
          fixes: [{ title: 'Write I5. J-0.448', output: 'G17 G0 X0 Y0\nG2 X10. I5. J-0.448 F100' }],
          says: ['R5.02 is within 1 % of 5,', '0.001 more', '0.0111', 'Write I5. J-0.448 instead of R'],
        },
      ],
    },
    {
      program: `
G18 G0 X0 Y0 Z0
G2 X0 Z10. R5. F100
           ^^^`,
      findings: [
        {
          message: 'half-turn',
          fixes: [{ title: 'Write I0. K5.', output: 'G18 G0 X0 Y0 Z0\nG2 X0 Z10. I0. K5. F100' }],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0
G2 X0.1 R-5. F100
        ^^^^`,
      findings: [
        {
          message: 'full-turn',
          fixes: [{ title: 'Write I0.05 J5.', output: 'G17 G0 X0 Y0\nG2 X0.1 I0.05 J5. F100' }],
          says: ['R-5', '0.1 from start'],
        },
      ],
    },
  ],
});
