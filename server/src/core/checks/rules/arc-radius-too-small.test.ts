import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-radius-too-small', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 X10. Y0 R5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. Y0 R4.99 F100' },
    // Rounded to half of the last place.
    { program: 'G20 G17 G0 X0 Y0\nG2 X.707 Y.707 R.5 F10' },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X10. Y0 R4. F100
           ^^^`,
      findings: [
        {
          message: 'too-small',
          fixes: [
            {
              title: 'Write R5. (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. Y0 R5. F100',
            },
          ],
          says: ['R4 ', 'at least 5'],
        },
      ],
    },
    {
      program: `
G20 G17 G0 X0 Y0
G2 X1. Y0 R.4 F10
          ^^^`,
      findings: [
        {
          message: 'too-small',
          fixes: [
            {
              title: 'Write R.5 (centre X.5 Y0., radius .5, 180° clockwise)',
              output: 'G20 G17 G0 X0 Y0\nG2 X1. Y0 R.5 F10',
            },
          ],
          says: ['0.4', '0.5'],
        },
      ],
    },
  ],
});
