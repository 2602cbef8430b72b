import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('tap-in-drilling-cycle', {
  quiet: [
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG84 X0 Y0 Z-12. R3. F500\nG80\nM30' },
    { program: 'T1 M6 (DRILL D5 FOR M6 TAP)\nS500 M3\nG81 X0 Y0 Z-12. R3. F500\nG80\nM30' },
    {
      program: 'T1 M6 (TAP M6X1)\nS500 M3\nG81 X0 Y0 Z-12. R3. F500\nG80\nM30',
      configuration: { tools: [{ number: 1, kind: 'drill', diameter: 5 }] },
    },
  ],
  reports: [
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
