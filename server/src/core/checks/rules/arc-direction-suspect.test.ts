import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const start = 'G17 G0 X0 Y0 Z0\nG1 X10. F100\n';

testRule('arc-direction-suspect', {
  quiet: [
    { program: `${start}G3 X20. Y10. J10.\nG1 Y20.\nM30` },
    { program: `${start}G3 X20. Y10. R10.\nG1 Y20.\nM30` },
    // Only one neighbour, or a corner that is meant.
    { program: `${start}G2 X20. Y10. R10.\nG0 Y20.\nM30` },
    { program: `${start}G2 X20. Y10. R10.\nG1 X30.\nM30` },
    // Down to and fro along one curved slot.
    {
      program: `${start}G3 X20. Y10. Z-2. J10.\nG2 X10. Y0 Z-4. I-10.\nG3 X20. Y10. Z-6. J10.\nG2 X10. Y0 I-10.\nM30`,
    },
  ],
  reports: [
    {
      program: `
G17 G0 X0 Y0 Z0
G1 X10. F100
G2 X20. Y10. J10.
^^
G1 Y20.
M30`,
      findings: [
        {
          message: 'suspect',
          fixes: [
            {
              title: 'Write G3 (centre X10. Y10., radius 10., 90° counter-clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG1 X10. F100\nG3 X20. Y10. J10.\nG1 Y20.\nM30',
            },
          ],
          says: ['clockwise'],
        },
      ],
    },
    {
      program: `
G17 G0 X0 Y0 Z0
G1 X10. F100
G2 X20. Y10. R10.
^^
G1 Y20.
M30`,
      findings: [
        {
          message: 'suspect',
          fixes: [
            {
              title: 'Write G3 (centre X10. Y10., radius 10., 90° counter-clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG1 X10. F100\nG3 X20. Y10. R10.\nG1 Y20.\nM30',
            },
          ],
        },
      ],
    },
    {
      // A helix by half turns.
      program: `
G17 G0 X0 Y0 Z0
G1 X10. F100
G3 Y20. Z-1. J10.
G2 Y0 Z-2. J-10.
^^
G3 Y20. Z-3. J10.
M30`,
      findings: [
        {
          message: 'suspect',
          fixes: [
            {
              title: 'Write G3 (centre X10. Y10., radius 10., 180° counter-clockwise)',
              output: 'G17 G0 X0 Y0 Z0\nG1 X10. F100\nG3 Y20. Z-1. J10.\nG3 Y0 Z-2. J-10.\nG3 Y20. Z-3. J10.\nM30',
            },
          ],
        },
      ],
    },
    {
      // In a subprogram, told once.
      program: `
M98 P1 L2
M30
O1
G17 G0 X0 Y0 Z0
G1 X10. F100
G2 X20. Y10. J10.
^^
G1 Y20.
M99`,
      findings: [
        {
          message: 'suspect',
          fixes: [
            {
              title: 'Write G3 (centre X10. Y10., radius 10., 90° counter-clockwise)',
              output: 'M98 P1 L2\nM30\nO1\nG17 G0 X0 Y0 Z0\nG1 X10. F100\nG3 X20. Y10. J10.\nG1 Y20.\nM99',
            },
          ],
        },
      ],
    },
    {
      // The move behind the arc stands some chunks of lines further down.
      program: `G17 G0 X0 Y0 Z0\nG1 X10. F100\n${'(REMARK)\n'.repeat(300)}G3 X20. Y-10. J-10.\n^^\n${'(REMARK)\n'.repeat(1400)}G1 Y-20.\nM30`,
      findings: [{ message: 'suspect', says: ['counter-clockwise'] }],
    },
  ],
});
