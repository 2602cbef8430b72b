import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('feed-zero', {
  quiet: [
    { program: 'G1 X1. F100\nM30' },
    { program: 'F0\nG0 X1.\nG1 X2. F100\nM30' },
    { program: 'G1 X1.\nM30' },
    { program: 'G1 X1. F#1\nM30' },
    { program: 'G1 X1. F0\nM99' },
    { program: 'G33 Z-5. F0\nM30' },
    { program: 'G93 G1 X1. F.5\nM30' },
  ],
  reports: [
    {
      program: `
G0 X0 Y0
G1 X1. F0
       ^^
X2.
X3. F0.
    ^^^
M30`,
      findings: [{ message: 'zero' }, { message: 'zero' }],
    },
    {
      program: `
F0
G1 X1.
^^
G2 X2. R5.
M30`,
      findings: [{ message: 'zero' }],
    },
    {
      program: `
G1 X1. F-150
       ^^^^^
M30`,
      findings: [{ message: 'negative', says: ['F-150'] }],
    },
    {
      program: `
G81 X1. Y1. Z-5. R2. F0
                     ^^
G80
M30`,
      findings: [{ message: 'zero' }],
    },
  ],
});
