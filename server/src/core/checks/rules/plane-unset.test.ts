import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('plane-unset', {
  quiet: [
    { program: 'G17 G21 G90 G54\nG0 X0 Y0\nG2 X10. R10. F100\nM30' },
    { program: 'G21 G90 G54\nG18\nG0 X0 Z0\nG2 X10. R10. F100\nM30' },
    // Nothing in it needs a plane.
    { program: 'G21 G90 G54\nG1 X10. F100\nM30' },
    // More is missing: the start block's hint says it all.
    { program: 'G90\nG0 X0 Y0\nG2 X10. R10. F100\nM30' },
    { program: 'G21 G90\nG0 X0 Y0\nG2 X10. R10. F100\nM99' },
  ],
  reports: [
    {
      program: `
G21 G90 G54
G0 X0 Y0
N30 G2 X10. R10. F100
    ^^^^^^^^^^^^^^^^^
G3 X20. R10.
M30`,
      findings: [
        {
          message: 'unset',
          says: ['arc'],
          fixes: [
            {
              title: 'Write G17 in this block',
              output: 'G21 G90 G54\nG0 X0 Y0\nN30 G17 G2 X10. R10. F100\nG3 X20. R10.\nM30',
            },
          ],
        },
      ],
    },
    {
      program: `
G21 G90 G54
G81 X0 Y0 Z-5. R2. F100
^^^^^^^^^^^^^^^^^^^^^^^
G80
M30`,
      findings: [
        {
          message: 'unset',
          says: ['cycle'],
          fixes: [
            {
              title: 'Write G17 in this block',
              output: 'G21 G90 G54\nG17 G81 X0 Y0 Z-5. R2. F100\nG80\nM30',
            },
          ],
        },
      ],
    },
    {
      program: `
G21 G90 G54
G68 X0 Y0 R30.
^^^^^^^^^^^^^^
G1 X5. F100
G69
M30`,
      findings: [
        {
          message: 'unset',
          says: ['rotation'],
          fixes: [
            {
              title: 'Write G17 in this block',
              output: 'G21 G90 G54\nG17 G68 X0 Y0 R30.\nG1 X5. F100\nG69\nM30',
            },
          ],
        },
      ],
    },
  ],
});
