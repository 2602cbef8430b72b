import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nG0 X0 Y0\nG43 H1 Z30.\n';
const configuration = {
  stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 10] },
} as const;

testRule('rapid-plunge-diagonal', {
  quiet: [
    { program: `${HEAD}G0 X-20. Y10.\nZ-5.\nM30` },
    { program: `${HEAD}G0 X20. Y10. Z2.\nM30` },
    { program: `${HEAD}G0 X20. Y10. Z0\nM30` },
    // Up and away.
    { program: `${HEAD}G1 Z-5. F100\nG0 X20. Z30.\nM30` },
    // The height before is not known.
    { program: 'G21 G90 G54\nG0 X0 Y0 Z-5.\nM30' },
    { program: `${HEAD}G0 G53 X-100. Y-100. Z-200.\nM30` },
    // Down from the machine's upper end, where the zero is.
    { program: 'G21 G90 G54\nG0 X0 Y0\nZ0\nX50. Y50. Z-150.\nG1 Z-160. F100\nM30' },
    // Clear of the blank with half the cutter's diameter.
    { program: `${HEAD}G0 X-20. Y0\nG0 X-25. Y60. Z-5.\nM30`, configuration },
    { program: `${HEAD}G1 X20. Z-5. F100\nM30` },
  ],
  reports: [
    {
      program: `${HEAD}N10 G0 X30. Y40. Z-5. M8
    ^^^^^^^^^^^^^^^^^^^^
M30`,
      findings: [
        {
          message: 'diagonal',
          says: ['50 sideways', 'Z-5,', 'Z0.'],
          fixes: [
            {
              title: 'Go down in a block of its own',
              output: `${HEAD}N10 G0 X30. Y40. M8\nZ-5.\nM30`,
            },
          ],
        },
      ],
    },
    {
      // One of the two ways round touches the blank.
      configuration,
      program: `${HEAD}G0 X-20. Y-20.
Y60. X20. Z5.
^^^^^^^^^^^^^
M30`,
      findings: [
        {
          message: 'diagonal',
          says: ['Z10'],
          fixes: [{ title: 'Go down in a block of its own', output: `${HEAD}G0 X-20. Y-20.\nY60. X20.\nZ5.\nM30` }],
        },
      ],
    },
    {
      program: `
G20 G90 G54
G0 X0 Y0
G43 H1 Z1.
G91
X3. Y4. Z-1.5 (DOWN)
^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'diagonal', says: ['5 sideways', 'Z-0.5'] }],
    },
  ],
});
