import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const START = 'G17 G21 G90 G54\nT1 M6\nS2000 M3\n';
const fixed = (title: string, output: string) => [{ title, output }];

testRule('slip-of-sign-or-decade', {
  quiet: [
    { program: `${START}G81 X10. Y0 Z-12. R2. F100\nX20.\nX30.\nX40.\nX50.\nG80\nM30` },
    // Marks first, then the holes; another depth that is no slip.
    { program: `${START}G81 X10. Y0 Z-1.2 R2. F100\nX20.\nX30.\nG80\nG83 X30. Y0 Z-12. R2. Q3.\nX20.\nX10.\nG80\nM30` },
    { program: `${START}G81 X10. Y0 Z-12. R2. F100\nX20.\nX30.\nX40.\nX50. Z-20.\nG80\nM30` },
    // The deep hole is drilled in two.
    { program: `${START}G81 X10. Y0 Z-2. R2. F100\nX20.\nX30.\nX40.\nX40. Z-20.\nG80\nM30` },
    // Three siblings are too few.
    { program: `${START}G81 X10. Y0 Z-12. R2. F100\nX20.\nX30.\nX40. Z-120.\nG80\nM30` },
    // Two rows, a circle, a place far off behind a row.
    { program: `${START}G81 X10. Y10. Z-5. R2. F100\nX20.\nX30.\nX40.\nX40. Y-10.\nX30.\nX20.\nX10.\nG80\nM30` },
    { program: `${START}G81 X32. Y0 Z-5. R2. F100\nX16. Y27.713\nX-16.\nX-32. Y0\nX-16. Y-27.713\nX16.\nG80\nM30` },
    { program: `${START}G81 X10. Y0 Z-5. R2. F100\nX20.\nX30.\nX40.\nX500.\nG80\nM30` },
    { program: `${START}G81 X10. Y10. Z-5. R2. F100\nX20.\nX30. Y-10.\nX40. Y10.\nX50.\nG80\nM30` },
    { program: `${START}G81 X-20. Y0 Z-5. R2. F100\nX-10.\nX0.\nX10.\nX20.\nG80\nM30` },
    // Slots at one depth, and the outline cut through at ten times that.
    {
      program: `${START}${['X10.', 'X20.', 'X30.', 'X40.', 'X50.'].map((x) => `G0 Z1.\n${x} Y0\nG1 Z-0.2 F100\nY5.`).join('\n')}\nG0 Z1.\nX60.\nG1 Z-2.\nM30`,
    },
    { program: `${START}G1 Z-1. F100\nX10.\nZ-2.\nX0.\nZ-3.\nX10.\nZ-4.\nX0.\nZ-5.\nX10.\nG0 Z50.\nM30` },
  ],
  reports: [
    {
      program: `
G17 G21 G90 G54
T1 M6
S2000 M3
G81 X10. Y0 Z-12. R2. F100
X20.
X30. Z-120.
     ^^^^^^
X40. Z-12.
X55.
X60.
G80
M30`,
      findings: [
        {
          message: 'depth',
          says: ['Z-120', '5 others', 'Z-12.'],
          fixes: fixed(
            'Write Z-12.',
            'G17 G21 G90 G54\nT1 M6\nS2000 M3\nG81 X10. Y0 Z-12. R2. F100\nX20.\nX30. Z-12.\nX40. Z-12.\nX55.\nX60.\nG80\nM30',
          ),
        },
      ],
    },
    {
      program: `
G17 G20 G90 G54
T1 M6
S2000 M3
G81 X1. Y0 Z.5 R.6 F10.
           ^^^
X2. Z-.5
X3.2
X4.
X5.
G80
M30`,
      findings: [
        {
          message: 'depth',
          says: ['Z0.5', '4 others', 'Z-0.5'],
          fixes: fixed(
            'Write Z-0.5',
            'G17 G20 G90 G54\nT1 M6\nS2000 M3\nG81 X1. Y0 Z-0.5 R.6 F10.\nX2. Z-.5\nX3.2\nX4.\nX5.\nG80\nM30',
          ),
        },
      ],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
S2000 M3
G81 X10. Y5. Z-5. R2. F100
X20.
X300.
^^^^^
X40.
X50.
G80
M30`,
      findings: [
        {
          message: 'place',
          says: ['X300', '10, 20, 40, 50', 'X30 '],
          fixes: fixed(
            'Write X30.',
            'G17 G21 G90 G54\nT1 M6\nS2000 M3\nG81 X10. Y5. Z-5. R2. F100\nX20.\nX30.\nX40.\nX50.\nG80\nM30',
          ),
        },
      ],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
S2000 M3
G1 Z-1. F100
X10.
Z-2.
X0.
Z-30.
^^^^^
X10.
Z-4.
X0.
Z-5.
M30`,
      findings: [
        {
          message: 'level',
          says: ['Z-30', '-1, -2, -4, -5', 'Z-3 '],
          fixes: fixed(
            'Write Z-3.',
            'G17 G21 G90 G54\nT1 M6\nS2000 M3\nG1 Z-1. F100\nX10.\nZ-2.\nX0.\nZ-3.\nX10.\nZ-4.\nX0.\nZ-5.\nM30',
          ),
        },
      ],
    },
    {
      // Worked out by a variable: no number to repair.
      program: `
G17 G21 G90 G54
T1 M6
S2000 M3
#101=-30.
G81 X10. Y5. Z-5. R2. F100
X20.
X#101
^^^^^
X40.
X50.
G80
M30`,
      findings: [{ message: 'place', says: ['X-30', 'X30 '] }],
    },
  ],
});
