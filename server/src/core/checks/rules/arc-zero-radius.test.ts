import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-zero-radius', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 X10. I5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. I0 J0 R5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 I0.001 J0 F100' },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X10. I0 J0 F100
        ^^`,
      findings: [
        {
          message: 'zero',
          fixes: [
            {
              title: 'Write I5. (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. I5. J0 F100',
            },
          ],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0
G2 X10. R0 F100
        ^^`,
      findings: [
        {
          message: 'radius-zero',
          says: ['by I and J'],
          fixes: [
            {
              title: 'Write R5. (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. R5. F100',
            },
          ],
        },
      ],
    },
  ],
});
