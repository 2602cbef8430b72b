import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const FIRST = 'T1 M6\nS3000 M3\nG0 X0 Y0 Z5.\nG1 Z-1. F300\nX10. F800\nG0 Z50.\n';

testRule('feed-carried-over', {
  quiet: [
    { program: `${FIRST}T2 M6\nS1000 M3\nG0 X0 Y0\nG1 Z-1. F150\nM30` },
    // Given in the tool-change block, before it for the tool that was called, or at once behind it.
    { program: `${FIRST}T2 M6 F150\nS1000 M3\nG1 Z-1.\nM30` },
    { program: `${FIRST}T2 F150 S1000\nM6\nM3\nG1 Z-1.\nM30` },
    { program: `${FIRST}T2\nF150\nM6\nS1000 M3\nG1 Z-1.\nM30` },
    { program: `${FIRST}T2 M6\nF150\nS1000 M3\nG1 Z-1.\nM30` },
    // One feed for the whole program, given at its head.
    { program: 'F200\nT1 M6\nS1000 M3\nG1 X1.\nT2 M6\nS900 M3\nG1 X2.\nM30' },
    // The same tool again.
    { program: `${FIRST}T1 M6\nS3000 M3\nG1 Z-1.\nM30` },
    { program: 'G94 T1 M6\nS500 M3\nG1 X1. F100\nT2 M6\nS1 M3\nG93 G1 X2. F4.\nM30' },
    // A tap's feed is judged by its pitch.
    { program: `${FIRST}T2 M6 (TAP M6X1)\nS800 M3\nG84 X0 Y0 Z-5. R2.\nG80\nM30` },
    { program: 'S500 M3\nG84 X0 Y0 Z-5. R2. F500\nX5.\nG80\nG0 Z5.\nG1 X9. F300\nM30' },
    { program: `${FIRST}T2 M6\nS1000 M3\nG0 X0\nM30` },
  ],
  reports: [
    {
      program: `
T1 M6
S3000 M3
G1 X10. F800
T2 M6
S1000 M3
G0 X0 Y0
G1 Z-1.
^^^^^^^
X10.
G91 G28 Z0.
G90
G1 X20.
M30`,
      findings: [{ message: 'other-tool', says: ['T2', 'F800', 'T1'] }],
    },
    {
      program: `
T1 M6
S3000 M3
G1 X10. F800
T2 M6
T3 M6
S1000 M3
G81 X0 Y0 Z-5. R2.
^^^^^^^^^^^^^^^^^^
G80
M30`,
      findings: [{ message: 'other-tool', says: ['T3', 'F800', 'for T1'] }],
    },
    {
      program: `
S3000 M3
G20 G1 X1. F8.5
T2 M6
S1000 M3
G1 X2.
^^^^^^
M30`,
      findings: [{ message: 'before', says: ['T2', 'F8.5'] }],
    },
    {
      program: `
S500 M3
G84 X0 Y0 Z-5. R2. F500
X5.
G80
G0 Z5.
G1 X9.
^^^^^^
X20.
M30`,
      findings: [{ message: 'tapping', says: ['F500'] }],
    },
  ],
});
