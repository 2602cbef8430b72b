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
          message: 'far',
          fixes: [
            {
              title: 'Write I-8. (centre X12. Y0., radius 8., 90° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I-8. J0. F100',
            },
            {
              title: 'Write I0. J8. (centre X20. Y8., radius 8., 270° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I0. J8. F100',
            },
            {
              title: 'Write X28. (centre X28. Y0., radius 8., 270° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X28. Y8. I8. J0. F100',
            },
            {
              title: 'Write X20.845 Y3.578 (centre X28. Y0., radius 8., 333.4° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X20.845 Y3.578 I8. J0. F100',
            },
            {
              title: 'Write J16. (centre X28. Y16., radius 17.889, 323.1° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I8. J16. F100',
            },
          ],
          says: ['8 at the start', '17.8885 at the end'],
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
          message: 'far',
          fixes: [
            {
              title: 'Write I-1. (centre X0. Y0., radius 1., 90° counter-clockwise)',
              output: 'G20 G17 G0 X1. Y0\nG3 X0 Y1. I-1. J0 F10',
            },
            {
              title: 'Write I0 J1. (centre X1. Y1., radius 1., 270° counter-clockwise)',
              output: 'G20 G17 G0 X1. Y0\nG3 X0 Y1. I0 J1. F10',
            },
            {
              title: 'Write X2. (centre X2. Y0., radius 1., 270° counter-clockwise)',
              output: 'G20 G17 G0 X1. Y0\nG3 X2. Y1. I1. J0 F10',
            },
            {
              title: 'Write X1.1056 Y0.4472 (centre X2. Y0., radius 1., 333.4° counter-clockwise)',
              output: 'G20 G17 G0 X1. Y0\nG3 X1.1056 Y0.4472 I1. J0 F10',
            },
            {
              title: 'Write J2. (centre X2. Y2., radius 2.2361, 323.1° counter-clockwise)',
              output: 'G20 G17 G0 X1. Y0\nG3 X0 Y1. I1. J2. F10',
            },
          ],
          says: ['1 at the start', '2.2361 at the end'],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0
G2 X10. Y0 I3. J0 F100
^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'far',
          fixes: [
            {
              title: 'Write X6. (centre X3. Y0., radius 3., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X6. Y0 I3. J0 F100',
            },
            {
              title: 'Write I5. (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. Y0 I5. J0 F100',
            },
          ],
          says: ['3 at the start', '7 at the end', "so the end is not on the arc's circle"],
        },
      ],
    },
    {
      program: `
G17 G0 X3. Y4.
G2 X-3. Y-4. I3. J4. F100
^^^^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'far',
          fixes: [
            {
              title: 'Write I-3. J-4. (centre X0. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X3. Y4.\nG2 X-3. Y-4. I-3. J-4. F100',
            },
            {
              title: 'Write J-8.5 (centre X6. Y-4.5, radius 9.014, 292.6° clockwise)',
              output: 'G17 G0 X3. Y4.\nG2 X-3. Y-4. I3. J-8.5 F100',
            },
            {
              title: 'Write I-13.667 (centre X-10.667 Y8., radius 14.24, 41.1° clockwise)',
              output: 'G17 G0 X3. Y4.\nG2 X-3. Y-4. I-13.667 J4. F100',
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
          message: 'far',
          fixes: [
            {
              title: 'Write I-8000 (centre X12. Y0., radius 8., 90° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I-8000 J0 F100.',
            },
            {
              title: 'Write I0 J8000 (centre X20. Y8., radius 8., 270° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I0 J8000 F100.',
            },
            {
              title: 'Write X28. (centre X28. Y0., radius 8., 270° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X28. Y8. I8000 J0 F100.',
            },
            {
              title: 'Write X20.845 Y3.578 (centre X28. Y0., radius 8., 333.4° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X20.845 Y3.578 I8000 J0 F100.',
            },
            {
              title: 'Write J16. (centre X28. Y16., radius 17.889, 323.1° counter-clockwise)',
              output: 'G17 G0 X20. Y0\nG3 X12. Y8. I8000 J16. F100.',
            },
          ],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0
G2 X10.28 Y0 I5. J0 F100
^^^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'mismatch',
          fixes: [
            {
              title: 'Write X10. (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. Y0 I5. J0 F100',
            },
            {
              title: 'Write I5.14 (centre X5.14 Y0., radius 5.14, 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10.28 Y0 I5.14 J0 F100',
            },
          ],
          says: ['5 at the start', '5.28 at the end', '0.28 apart', '0.029 is'],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0
G2 X10.3 Y0 I5. J0 F100
^^^^^^^^^^^^^^^^^^^^^^^`,
      findings: [
        {
          message: 'far',
          fixes: [
            {
              title: 'Write X10. (centre X5. Y0., radius 5., 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10. Y0 I5. J0 F100',
            },
            {
              title: 'Write I5.15 (centre X5.15 Y0., radius 5.15, 180° clockwise)',
              output: 'G17 G0 X0 Y0\nG2 X10.3 Y0 I5.15 J0 F100',
            },
          ],
          says: ['5.3 at the end'],
        },
      ],
    },
  ],
});
