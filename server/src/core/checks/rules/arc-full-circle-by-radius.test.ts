import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-full-circle-by-radius', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 I5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. R5. F100' },
    // Back to the start in two halves.
    { program: 'G17 G0 X0 Y0\nG2 X10. R5. F100\nG2 X0 R5.' },
  ],
  reports: [
    {
      program: `
G18 G0 X0 Y0 Z0
G2 X0 Z0 R5. F100
         ^^^`,
      findings: [
        {
          message: 'full',
          fixes: [
            {
              title: 'Write I0. K5. (centre X0. Z5., radius 5., full circle clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X0 Z0 I0. K5. F100',
            },
            {
              title: 'Write I5. K0. (centre X5. Z0., radius 5., full circle clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X0 Z0 I5. K0. F100',
            },
            {
              title: 'Write I0. K-5. (centre X0. Z-5., radius 5., full circle clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X0 Z0 I0. K-5. F100',
            },
            {
              title: 'Write I-5. K0. (centre X-5. Z0., radius 5., full circle clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X0 Z0 I-5. K0. F100',
            },
          ],
          says: ['I and K'],
        },
      ],
    },
  ],
});
