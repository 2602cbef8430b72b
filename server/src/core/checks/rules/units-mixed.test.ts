import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('units-mixed', {
  quiet: [
    { program: 'G21\nG1 X1. F100\nM30' },
    // Set twice before anything is cut, or put back at the end.
    { program: 'G20\nG0 X0 Y0\nG21\nG1 X1. F100\nM30' },
    { program: 'G21\nG1 X1. F100\nG0 Z50.\nG20\nM30' },
    { program: 'G21\nG1 X1. F100\nG21\nT2 M6\nG1 X2.\nM30' },
    { program: 'G21\nG1 X1. F100\nM30\nO2\nG20\nG1 X1. F10\nM30' },
  ],
  reports: [
    {
      program: `
G21
G1 X10. F100
T2 M6
G90 G20
    ^^^
G0 X1.
G1 X2. F10
G21
G1 X50. F100
M30`,
      findings: [{ message: 'mixed', says: ['G20', 'inches', 'line 2', 'millimetres'] }],
    },
    {
      program: `
G1 X10. F100
G70
^^^
G1 X2. F10
M30`,
      findings: [{ message: 'mixed' }],
    },
  ],
});
