import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-centre-and-radius', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 X10. R5. F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10. I5. F100' },
    // R of a cycle and I J of an arc in blocks of their own.
    { program: 'G17 G0 X0 Y0 Z9.\nG81 X1. Z-2. R2. F100\nG80\nG2 X11. I5.' },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0
G2 X8. Y8. I8. R8. F100
               ^^^`,
      findings: [
        {
          message: 'both',
          fixes: [
            {
              title: 'Keep R, take the centre words out (centre X8. Y0., radius 8., 90° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X8. Y8. R8. F100',
            },
            {
              title: 'Keep the centre, take R out (centre X8. Y0., radius 8., 90° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X8. Y8. I8. F100',
            },
          ],
          says: ['R8'],
        },
      ],
    },
    {
      profile: 'rs274ngc',
      program: `
G17 G0 X0 Y0
G2 X8. Y8. I3. R8. F100
               ^^^`,
      findings: [
        {
          message: 'both-strict',
          fixes: [
            {
              title: 'Keep R, take the centre words out (centre X8. Y0., radius 8., 90° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X8. Y8. R8. F100',
            },
          ],
          severity: 'error',
        },
      ],
    },
  ],
});
