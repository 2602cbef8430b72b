import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('tap-in-drilling-cycle', {
  quiet: [
    { program: 'T1 M6 (DRILL D5)\nS500 M3\nG0 X0 Y0 Z3.\nG1 Z-12. F500\nG0 Z3.\nM30' },
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG0 X0 Y0 Z3.\nG1 Z-12. F500\nM4\nG1 Z3.\nG0 Z50.\nM30' },
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG84 X0 Y0 Z-12. R3. F500\nG80\nM30' },
    { program: 'T1 M6 (DRILL D5 FOR M6 TAP)\nS500 M3\nG81 X0 Y0 Z-12. R3. F500\nG80\nM30' },
    {
      program: 'T1 M6 (TAP M6X1)\nS500 M3\nG81 X0 Y0 Z-12. R3. F500\nG80\nM30',
      configuration: { tools: [{ number: 1, kind: 'drill', diameter: 5 }] },
    },
    // Near at feed, and away again above the blank.
    {
      program: 'T1 M6 (TAP M6X1)\nS500 M3\nG54 G0 X0 Y0 Z30.\nG1 Z3. F500\nG0 Z30.\nM30',
      configuration: { stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [50, 50, 0] } },
    },
    { program: 'T1 M6 (TAP G1/4)\nS200 M3\nG84 X0 Y0 Z-12. R3. F267.4\nG80\nM30' },
  ],
  reports: [
    {
      // Called with L0; the places stand in a subprogram.
      program: `
T1 M6 (TAP M6X1)
S500 M3
G81 Z-12. R3. F500 L0
M98 P7
G80
M30
O7
X10. Y10.
^^^^^^^^^
X20.
M99`,
      findings: [{ message: 'rapid', says: ['G81', 'G84'] }],
    },
    {
      program: `
T1 M6 (TAP M6X1)
S500 M3
G0 X0 Y0 Z3.
G1 Z-12. F500
G0 Z3.
^^^^^^
M30`,
      findings: [{ message: 'by-hand', says: ['TAP M6X1', 'G84'] }],
    },
    {
      configuration: { stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [50, 50, 0] } },
      program: `
G54 T1 M6 (1/8 NPT)
S300 M3
G0 X5. Y5. Z3.
G1 Z-12. F282
G0 Z3.
^^^^^^
M30`,
      findings: [{ message: 'by-hand', says: ['1/8 NPT'] }],
    },
    {
      program: `
T1 M6 (TAP M6X1)
S500 M3
G81 X0 Y0 Z-12. R3. F500
^^^
X10.
G80
M30`,
      findings: [{ message: 'rapid', says: ['TAP M6X1', 'G81', 'G84'] }],
    },
    {
      configuration: { tools: [{ number: 4, kind: 'tap', thread: 'M8 LH' }] },
      program: `
T4 M6
S500 M4
G83 X0 Y0 Z-12. R3. Q2. F500
^^^
G80
M30`,
      findings: [{ message: 'rapid', says: ['tool 4', 'G83', 'G74'] }],
    },
  ],
});
