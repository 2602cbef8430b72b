import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('spindle-stopped-in-cut', {
  quiet: [
    { program: 'T1 M6\nS1000 M3\nG1 X1. F100\nM5\nM30' },
    { program: 'T1 M6 (DRAG KNIFE)\nG1 X1. F100\nM30' },
    { program: 'T1 M6\nS1000 M3\nG1 X1. F100\nM5\nG1 Z50. F2000\nM30' },
    { program: 'T1 M6\nS1000 M3\nG1 X1. F100\nM5\nT2 M6 (PROBE)\nG1 X2.\nM30' },
  ],
  reports: [
    {
      program: `
T1 M6
S1000 M3
G1 X1. F100
M5
G1 X2.
^^^^^^
X3.
M30`,
      findings: [{ message: 'stopped' }],
    },
    {
      program: `
T1 M6
S1000 M3
G1 X1. F100
G0 Z50.
T2 M6
G1 Z-1.
^^^^^^^
M30`,
      findings: [{ message: 'changed' }],
    },
  ],
});
