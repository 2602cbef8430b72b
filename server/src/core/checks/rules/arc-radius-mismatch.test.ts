import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('arc-radius-mismatch', {
  quiet: [
    { program: 'G17 G0 X0 Y0\nG2 X10. Y0 I5. J0 F100' },
    { program: 'G17 G0 X0 Y0\nG2 X10.01 Y0 I5. J0 F100' },
    { program: 'G2 X10. Y0 I3. J0 F100' },
  ],
  reports: [
    {
      program: `
G17 G0 X20. Y0
G3 X12. Y8. I8. J0. F100
^^^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'mismatch',
          says: ['8 at the start', '17.8885 at the end'],
          fixes: [
            {
              title: 'Write I-8.: centre X12. Y0., radius 8., 90° counter-clockwise',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I-8. J0. F100',
            },
          ],
        },
      ],
    },
    {
      program: `
G20 G17 G0 X1. Y0
G3 X0 Y1. I1. J0 F10
^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'mismatch',
          says: ['1 at the start', '2.2361 at the end'],
          fixes: [
            {
              title: 'Write I-1.: centre X0. Y0., radius 1., 90° counter-clockwise',
              output: 'G20 G17 G0 X1. Y0\nG3 X0 Y1. I-1. J0 F10',
            },
          ],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0
G2 X10. Y0 I3. J0 F100
^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [{ message: 'mismatch', says: ['3 at the start', '7 at the end', '4 apart', '0.029 is'] }],
    },
    {
      program: `
G17 G0 X3. Y4.
G2 X-3. Y-4. I3. J4. F100
^^^^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'mismatch',
          fixes: [
            {
              title: 'Write I-3. J-4.: centre X0. Y0., radius 5., 180° clockwise',
              output: 'G17 G0 X3. Y4.\nG2 X-3. Y-4. I-3. J-4. F100',
            },
          ],
        },
      ],
    },
    {
      profile: 'iso-macro',
      program: `
G17 G0 X20. Y0
G3 X12. Y8. I8000 J0 F100.
^^^^^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'mismatch',
          fixes: [
            {
              title: 'Write I-8000: centre X12. Y0., radius 8., 90° counter-clockwise',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I-8000 J0 F100.',
            },
          ],
        },
      ],
    },
  ],
});
