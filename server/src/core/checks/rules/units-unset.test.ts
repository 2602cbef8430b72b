import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('units-unset', {
  quiet: [
    { program: 'G17 G21 G90 G54\nG1 X1. F100\nM30' },
    { program: 'G20 G90 G54\nG1 X1. F10\nM30' },
    { program: 'G90 G54\nG0 X1.\nM30' },
    // More is missing: the start block's hint says it all.
    { program: 'G1 X1. F100\nM30' },
    { program: 'G90\nG1 X1. F100\nM99' },
  ],
  reports: [
    {
      program: `
G17 G90 G54
G0 X0 Y0
G1 X1. F100
^^^^^^^^^^^
G21
G1 X2.
M30`,
      findings: [{ message: 'unset' }],
    },
  ],
});
