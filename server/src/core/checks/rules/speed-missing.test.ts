import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('speed-missing', {
  quiet: [
    { program: 'T1 M6\nS1000 M3\nG1 X1. F100\nM30' },
    { program: 'T1 M6\nM3\nG0 X0\nS1000\nG1 X1. F100\nM30' },
    // A spindle that is switched by hand, or a tool that does not turn.
    { program: 'G1 X1. F100\nM30' },
    { program: 'T1 M6 (DRAG KNIFE)\nG1 X1. F100\nM30' },
    { program: 'M3\nG1 X1. F100\nM99' },
    { program: 'M3 S800\nG84 X0 Y0 Z-5. R2. F800\nG80\nM30' },
    { program: 'M3\nG0 X1.\nM30' },
  ],
  reports: [
    {
      program: `
T1 M6
M3
G0 X0
G1 X1. F100
^^^^^^^^^^^
X2.
T2 M6
M3
X3.
M30`,
      findings: [{ message: 'no-speed', says: ['M3'] }],
    },
    {
      program: `
M4 S0
G1 X1. F100
^^^^^^^^^^^
M30`,
      findings: [{ message: 'zero' }],
    },
    {
      program: `
G95 G1 X1. F0.1
^^^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'in-step' }],
    },
    {
      program: `
G84 X0 Y0 Z-5. R2. F800
^^^^^^^^^^^^^^^^^^^^^^^
G80
M30`,
      findings: [{ message: 'in-step' }],
    },
  ],
});
