import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-centre-off-plane', {
  quiet: [
    { program: 'G17 G0 X0 Y0 Z0\nG2 X10. Y0 I5. J0 K0 F100' },
    { program: 'G18 G0 X0 Y0 Z0\nG2 X10. Z0 I5. K0 F100' },
    { program: 'G19 G0 X0 Y0 Z0\nG2 Y10. Z0 J5. K0 I0 F100' },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0 Z0
G3 X8. Y8. I0. K8. F100
               ^^^`,
      findings: [
        {
          message: 'off-plane',
          fixes: [
            {
              title: 'Write J8. (centre X0. Y8., radius 8., 90° counter-clockwise)',
              safe: true,
              output: 'G17 G0 X0 Y0 Z0\nG3 X8. Y8. I0. J8. F100',
            },
          ],
          says: ['K8.', 'G17', 'I and J'],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0 Z0
G3 X8. Y8. K8. F100
           ^^^`,
      findings: [
        {
          message: 'off-plane',
          fixes: [
            {
              title: 'Write J8. (centre X0. Y8., radius 8., 90° counter-clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG3 X8. Y8. J8. F100',
            },
            {
              title: 'Write I8. (centre X8. Y0., radius 8., 270° counter-clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG3 X8. Y8. I8. F100',
            },
          ],
        },
      ],
    },
    {
      program: `
G18 G0 X0 Y0 Z0
G2 X10. Z0 I5. J2. F100
               ^^^`,
      findings: [
        {
          message: 'off-plane',
          fixes: [
            {
              title: 'Write K2. (centre X5. Z2., radius 5.385, 136.4° clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X10. Z0 I5. K2. F100',
            },
            {
              title: 'Take J2. out (centre X5. Z0., radius 5., 180° clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X10. Z0 I5. F100',
            },
            {
              title: 'Write G17 in line 1 (centre X5. Y2., radius 5.385, 223.6° clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG2 X10. Z0 I5. J2. F100',
            },
          ],
          says: ['G18', 'I and K'],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0 Z0
G2 X10. Y0 I5. J0 K3. F100
                  ^^^`,
      findings: [
        {
          message: 'off-plane',
          fixes: [
            {
              title: 'Take K3. out (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG2 X10. Y0 I5. J0 F100',
            },
            {
              title: 'Write J3. K0 (centre X5. Y3., radius 5.831, 241.9° clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG2 X10. Y0 I5. J3. K0 F100',
            },
            {
              title: 'Write G18 in line 1 (centre X5. Z3., radius 5.831, 118.1° clockwise)',
              output: 'G18 G0 X0 Y0 Z0\nG2 X10. Y0 I5. J0 K3. F100',
            },
            {
              title: 'Write G18 (centre X5. Z3., radius 5.831, 118.1° clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG18 G2 X10. Y0 I5. J0 K3. F100',
            },
          ],
        },
      ],
    },
  ],
});
