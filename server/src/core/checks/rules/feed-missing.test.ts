import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('feed-missing', {
  quiet: [{ program: 'G1 X1. F100\nX2.\nM30' }, { program: 'F100\nG2 X1. I0.5\nM30' }, { program: 'G1 X1.\nM99' }],
  reports: [
    {
      program: `
G0 X0 Y0
G1 X1.
^^
X2.
M30`,
      findings: [{ message: 'no-feed' }],
    },
    {
      program: `
G93 G1 X1. F2.
X2.
^^^
M30`,
      findings: [{ message: 'inverse-time-needs-feed' }],
    },
    {
      program: `
G94 G1 X1. F100
G95
X2.
^^^
M30`,
      findings: [{ message: 'mode-changed' }],
    },
  ],
});
