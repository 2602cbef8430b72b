import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const START = 'G17 G21 G90 G54\nT1 M6\nS900 M3\nG1 X1. F100\n';

testRule('incremental-left-on', {
  quiet: [
    { program: `${START}G91 G28 Z0.\nG90\nT2 M6\nG0 X50. Y50.\nM30` },
    { program: `${START}G91 G28 Z0.\nT2 M6\nG90 G0 X50. Y50.\nM30` },
    // The way home at the end, and homes one after the other.
    { program: `${START}G91 G28 Z0.\nM30` },
    { program: `${START}G91 G28 Z0.\nG28 X0. Y0.\nM30` },
    { program: `${START}G91 G28 Z0.\nG53 G0 X0. Y0.\nM30` },
    // Steps that are meant.
    { program: `${START}G91\nG1 X5.\nG81 X5. Z-5. R-2. L4\nG80\nG90\nM30` },
    { program: `${START}G91 G28 Z0.\nT2 M6\nG91 G0 X50. Y50.\nM30` },
    // A program in steps from its first block to its last.
    { program: 'G21 G91\nT1 M6\nG1 X1. F100\nG28 Z0.\nT2 M6\nG0 X50.\nG1 Z-5.\nM30' },
    { program: 'G91 G28 Z0.\nG90 G54\nT1 M6\nG0 X50.\nM30' },
    { program: 'G90 G28 Z0.\nG0 X50.\nM30' },
    { program: `${START}G91 G30 Z0.\nG90 X50.\nM30` },
  ],
  reports: [
    {
      program: `
G17 G21 G90 G54
T1 M6
G1 X1. F100
G91 G28 Z0.
M5
T2 M6
S900 M3
G0 X50. Y30.
^^^^^^^^^^^^
X60.
M30`,
      findings: [{ message: 'home', says: ['X50.'] }],
    },
    {
      program: `
G91 G28 Z0.
T1 M6
G0 G54 X50. Y30.
^^^^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'home' }],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
G1 X1. F100
G91
X2.
T2 M6
G0 X50. Y30.
^^^^^^^^^^^^
M30`,
      findings: [{ message: 'tool-change', says: ['T2', 'X50.'] }],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
G1 X1. F100
G91 G28 Z0.
G1 Y3. F100
^^^^^^^^^^^
M30`,
      findings: [{ message: 'home', says: ['Y3.'] }],
    },
  ],
});
