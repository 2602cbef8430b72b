import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-centre-missing', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 X10. R5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. I5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 I5. F100\nG3 J-5.' },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X10. Y10. F100
^^`,
      findings: [
        {
          message: 'missing',
          fixes: [
            {
              title: 'Write R7.071 (centre X5. Y5., radius 7.071, 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. Y10. R7.071 F100',
            },
          ],
          says: ['G17', 'I and J'],
        },
      ],
    },
    {
      program: `
G19 G0 X0 Y0 Z0
G3 Y10. Z10. F100
^^`,
      findings: [
        {
          message: 'missing',
          fixes: [
            {
              title: 'Write R7.071 (centre Y5. Z5., radius 7.071, 180° counter-clockwise)',
              output: 'G19 G0 X0 Y0 Z0\nG3 Y10. Z10. R7.071 F100',
            },
          ],
          says: ['G19', 'J and K'],
        },
      ],
    },
    {
      program: `
G18 G0 X0 Y0 Z0
G3 X10. Z10. F100
^^`,
      findings: [
        {
          message: 'missing',
          fixes: [
            {
              title: 'Write R7.071 (centre X5. Z5., radius 7.071, 180° counter-clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG3 X10. Z10. R7.071 F100',
            },
          ],
          says: ['G18', 'I and K'],
        },
      ],
    },
  ],
});
