import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const FIRST = 'T1 M6\nS3000 M3\nG0 X0 Y0 Z5.\nG1 Z-1. F300\nG0 Z50.\n';

testRule('speed-carried-over', {
  quiet: [
    { program: `${FIRST}T2 M6\nS1000 M3\nG1 X5. F100\nM30` },
    { program: `${FIRST}T2 M6 S1000\nM3\nG1 X5. F100\nM30` },
    { program: `${FIRST}T2 S1000\nM6\nM3\nG1 X5. F100\nM30` },
    { program: `${FIRST}M5\nS1000\nT2 M6\nM3\nG1 X5. F100\nM30` },
    { program: 'S2000\nT1 M6\nM3\nG1 X1. F100\nT2 M6\nM3\nG1 X2. F90\nM30' },
    { program: `${FIRST}T1 M6\nM3\nG1 X5. F100\nM30` },
    // The spindle stands: another rule's matter.
    { program: `${FIRST}T2 M6\nG1 X5. F100\nM30` },
    { program: 'S500 M3\nG84 X0 Y0 Z-5. R2. F500\nX5.\nG80\nS2000 M3\nG1 X9. F300\nM30' },
    // A tap in a drilling cycle is an error of its own.
    { program: `${FIRST}T2 M6 (TAP M6)\nM3\nG83 X5. Y0 Z-10. R2. Q2. F100\nG80\nM30` },
  ],
  reports: [
    {
      program: `
T1 M6
S3000 M3
G1 X10. F800
T2 M6
M3
G1 Z-1. F200
^^^^^^^^^^^^
X10.
M30`,
      findings: [{ message: 'other-tool', says: ['T2', 'S3000', 'T1'] }],
    },
    {
      program: `
T1 M6
S3000 M3
G1 X10. F800
T2 M6 (TAP M6)
M3
G84 X5. Y0 Z-10. R2. F100
^^^^^^^^^^^^^^^^^^^^^^^^^
G80
M30`,
      findings: [{ message: 'other-tool', says: ['T2', 'S3000', 'T1'] }],
    },
    {
      program: `
S3000 M3
G1 X10. F800
T2 M6
M3
G1 Z-1. F200
^^^^^^^^^^^^
M30`,
      findings: [{ message: 'before', says: ['S3000'] }],
    },
    {
      program: `
S500 M3
G84 X0 Y0 Z-5. R2. F500
G80
G1 X9. F300
^^^^^^^^^^^
M30`,
      findings: [{ message: 'tapping', says: ['S500'] }],
    },
  ],
});
