import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const machine = { axes: {}, workOffsets: {}, topFeed: 5000 };
const configuration = { machine };
const material = { name: 'steel' };

testRule('feed-over-machine', {
  quiet: [
    { program: 'G1 X1. F90000\nM30' },
    { program: 'G1 X1. F5000\nX2.\nM30', configuration },
    { program: 'G20\nG1 X1. F196.85\nM2', profile: 'rs274ngc', configuration },
    { program: 'G95 S2000 M3\nG1 X1. F0.2\nM30', configuration },
    { program: 'G93 G1 X1. F9000.\nM30', configuration },
    // A lead is no feed, and a rapid has none.
    { program: 'G95 S5000 M3\nG33 Z-5. F1.5\nM30', configuration },
    { program: 'G0 X1. F900\nG1 X2. F100\nM30', configuration },
  ],
  reports: [
    {
      configuration,
      program: `
G1 X1. F8000
       ^^^^^
X2.
G0 X0 F7000
      ^^^^^
G1 X1. F4000
S1000 M3 F9000
         ^^^^^
X4.
M30`,
      findings: [
        { message: 'over', says: ['F8000', '5000 mm/min'] },
        { message: 'over', says: ['F7000'] },
        { message: 'over', says: ['F9000'] },
      ],
    },
    {
      profile: 'rs274ngc',
      configuration,
      program: `
G20
G1 X1. F200.
       ^^^^^
M2`,
      findings: [{ message: 'over', says: ['F200', '196.8 in/min. Write F196.8'] }],
    },
    {
      configuration: { machine, material },
      program: `
G95 S8000 M3
G81 X1. Z-5. R2. F1.
                 ^^^
X2. F.6
X3. S9000
^^^^^^^^^
G80
M30`,
      findings: [
        { message: 'over-per-turn', says: ['F1 a turn at S8000 is 8000 mm/min', 'Write F0.625'] },
        { message: 'over-per-turn', says: ['F0.6 a turn at S9000'] },
      ],
    },
  ],
});
