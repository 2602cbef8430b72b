import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('offset-missing', {
  quiet: [
    { program: 'G17 G21 G90 G54\nG1 X1. F100\nM30' },
    { program: 'G17 G21 G90\nG0 G55 X1.\nG1 X1. F100\nM30' },
    // The program sets its zero itself.
    { program: 'G17 G21 G90\nG92 X0 Y0 Z50.\nG1 X1. F100\nM30' },
    { program: 'G17 G21 G90\nG10 L2 P1 X-200. Y-100. Z-300.\nG1 X1. F100\nM30' },
    { program: 'G17 G21 G90\nG0 X1.\nM30' },
    { program: 'G1 X1. F100\nM30' },
    { program: 'G17 G21 G90\nG1 X1. F100\nM99' },
  ],
  reports: [
    {
      program: `
G17 G21 G90
G0 X0 Y0
G1 X1. F100
^^^^^^^^^^^
X2.
M30`,
      findings: [{ message: 'unset' }],
    },
  ],
});
