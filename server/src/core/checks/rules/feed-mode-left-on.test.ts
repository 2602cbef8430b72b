import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const FIRST = 'G90 G94\nT1 M6\nS900 M3\nG1 X1. F100\n';

testRule('feed-mode-left-on', {
  quiet: [
    { program: `${FIRST}G95 G1 X2. F0.1\nG94\nT2 M6\nS800 M3\nG1 X3. F200\nM30` },
    { program: `${FIRST}G95 G1 X2. F0.1\nT2 M6\nS800 M3\nG94 G1 X3. F200\nM30` },
    { program: `${FIRST}G93 G1 X2. F4.\nT2 M6\nS800 M3\nG94 G1 X3. F200\nM30` },
    // Feed by the turn in the next tool too, and throughout.
    { program: `${FIRST}G95 G1 X2. F0.1\nT2 M6\nS800 M3\nG1 X3. F0.2\nM30` },
    { program: 'G90 G95\nT1 M6\nS900 M3\nG1 X1. F0.1\nT2 M6\nS900 M3\nG1 X2. F12.\nM30' },
    { program: 'G90 G93\nT1 M6\nS900 M3\nG1 X1. F4.\nT2 M6\nS900 M3\nG1 X2. F12.\nM30' },
    { program: `${FIRST}G96 S120 M3\nG1 X2.\nG97 S900 M3\nT2 M6\nS800 M3\nG1 X3. F200\nM30` },
    { program: `${FIRST}G95 G1 X2. F0.1\nM30` },
  ],
  reports: [
    {
      program: `
G90 G94
T1 M6
S900 M3
G1 X1. F100
G95 X2. F0.1
T2 M6
S800 M3
G0 X0
G1 X3. F200
^^^^^^^^^^^
X4.
M30`,
      findings: [{ message: 'per-turn', says: ['G95', 'T2', 'F200'] }],
    },
    {
      program: `
G90 G94
T1 M6
S900 M3
G1 X1. F100
G93 X2. F4.
T2 M6
S800 M3
G1 X3. F200
^^^^^^^^^^^
M30`,
      findings: [{ message: 'in-time', says: ['G93', 'F200', '0.3 s'] }],
    },
    {
      program: `
G90 G94
T1 M6
S900 M3
G1 X1. F100
G96 S120
G1 X2.
T2 M6
S3000 M3
G1 X3. F200
^^^^^^^^^^^
M30`,
      findings: [{ message: 'cutting-speed', says: ['G96', 'S3000'] }],
    },
  ],
});
