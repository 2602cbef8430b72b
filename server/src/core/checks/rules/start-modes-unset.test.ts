import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('start-modes-unset', {
  quiet: [
    { program: '%\nO1\nG17 G21 G40 G49 G80 G90 G54\nT1 M6\nG1 X1. F100\nM30\n%' },
    { program: 'G20 G90\nG0 G54 X1.\nG1 X2. F10\nM30' },
    // One thing alone has its own hint.
    { program: 'G17 G90 G54\nG1 X1. F100\nM30' },
    { program: 'G17 G21 G90\nG1 X1. F100\nM30' },
    // Nothing is cut, or the file is a subprogram.
    { program: 'G0 X1.\nM30' },
    { program: 'G1 X1. F100\nM99' },
    { program: 'G21 G91\nG92 X0 Y0 Z0\nG1 X5. F100\nM30' },
  ],
  reports: [
    {
      program: `
%
O1 (PLATE)
(A REMARK)
G0 X0 Y0
^^^^^^^^
G2 X10. R10. F100
M30
%`,
      findings: [
        {
          message: 'unset',
          says: ['line 5', 'The unit (G21 or G20), G90 or G91, the plane (G17) and the work offset (G54) are not'],
          fixes: [
            {
              title: 'Write G17 G21 G40 G49 G54 G80 G90 before it',
              output: '%\nO1 (PLATE)\n(A REMARK)\nG17 G21 G40 G49 G54 G80 G90\nG0 X0 Y0\nG2 X10. R10. F100\nM30\n%',
            },
          ],
        },
      ],
    },
    {
      program: `
N10 T1 M6
^^^^^^^^^
G0 G54 X0 Y0
G1 X10. F100
G90
M30`,
      findings: [
        {
          message: 'unset',
          says: ['The unit (G21 or G20) and G90 or G91 are not'],
          fixes: [
            {
              title: 'Write G17 G21 G40 G49 G80 G90 before it',
              output: 'G17 G21 G40 G49 G80 G90\nN10 T1 M6\nG0 G54 X0 Y0\nG1 X10. F100\nG90\nM30',
            },
          ],
        },
      ],
    },
    {
      // The cut stands in a subprogram behind the end: the start block belongs to the head.
      program: `
O1
T1 M6
^^^^^
G54
M98 P100
M30
O100
G1 X1. F100
M99`,
      findings: [
        {
          message: 'unset',
          says: ['line 7'],
          fixes: [
            {
              title: 'Write G17 G21 G40 G49 G80 G90 before it',
              output: 'O1\nG17 G21 G40 G49 G80 G90\nT1 M6\nG54\nM98 P100\nM30\nO100\nG1 X1. F100\nM99',
            },
          ],
        },
      ],
    },
    {
      program: `
G17 G20 G54
^^^^^^^^^^^
G1 X1. F10
M30
O2
G1 X1. F10
^^^^^^^^^^
M30`,
      findings: [
        {
          message: 'unset',
          says: ['line 2', 'G90 or G91 is not'],
          fixes: [
            {
              title: 'Write G40 G49 G80 G90 before it',
              output: 'G40 G49 G80 G90\nG17 G20 G54\nG1 X1. F10\nM30\nO2\nG1 X1. F10\nM30',
            },
          ],
        },
        {
          message: 'unset',
          says: ['line 5'],
          fixes: [
            {
              title: 'Write G17 G21 G40 G49 G54 G80 G90 before it',
              output: 'G17 G20 G54\nG1 X1. F10\nM30\nO2\nG17 G21 G40 G49 G54 G80 G90\nG1 X1. F10\nM30',
            },
          ],
        },
      ],
    },
  ],
});
