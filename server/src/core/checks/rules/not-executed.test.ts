import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('not-executed', {
  quiet: [{ program: 'G0 X1.\nM30' }],
  reports: [
    {
      program: `
M98 P100
^^^
M98 P200
M30`,
      findings: [{ message: 'subprogram' }],
    },
    {
      program: `
G65 P100 A1.
^^^
M30`,
      findings: [{ message: 'macro-call' }],
    },
    {
      program: `
GOTO 10
^^^^^^^
N10 M30`,
      findings: [{ message: 'flow' }],
    },
    {
      program: `
G1 G41 D1 X1. F100
   ^^^
M30`,
      findings: [{ message: 'radius-compensation' }],
    },
    {
      program: `
G10 L1 P1 R5.
^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'other', says: ['G10'] }],
    },
    {
      program: `
G38.2 Z-5. F50
^^^^^
M30`,
      findings: [{ message: 'probe' }],
    },
  ],
});
