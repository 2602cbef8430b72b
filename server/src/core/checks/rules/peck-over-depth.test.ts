import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('peck-over-depth', {
  quiet: [
    { program: 'G83 X1. Z-15. R2. Q5. F100\nX2.\nG80\nM30' },
    // One peck that is the whole way.
    { program: 'G83 X1. Z-3. R2. Q5. F100\nG80\nM30' },
    // A shallower hole of a pattern that keeps its Q.
    { program: 'G83 X1. Z-15. R2. Q5. F100\nX2. Z-1.\nG80\nM30' },
    { program: 'G73 X1. Z-15. R2. Q-2. F100\nG80\nM30' },
    { program: 'G76 X1. Z-.5 R.2 Q1. F100\nG80\nM30' },
    { program: 'G20 G83 X1. Z-.62 R.1 Q.2 F18.\nG80\nM30' },
    { program: 'G83 X1. Z-15. R2. Q5000 F100\nG80\nM30', profile: 'iso-macro' },
    { program: 'G83 X1. Z-15. R2. Q#1 F100\nG80\nM30' },
    { program: 'G83 X1. R2. Q20. F100\nG80\nM30' },
  ],
  reports: [
    {
      program: `
G83 X1. Z-15. R2. Q50. F100
                  ^^^^
X2.
G80
M30`,
      findings: [{ message: 'over', says: ['Q50', 'the 17 mm from R', 'G83'] }],
    },
    {
      profile: 'rs274ngc',
      program: `
G20 G83 X1. Z-.62 R.1 Q2. F18.
                      ^^^
G80
M2`,
      findings: [{ message: 'over', says: ['Q2', 'the 0.72 in from R'] }],
    },
    {
      program: `
G81 X1. Z-1. R2. Q5. F100
G73 X2.
^^^
G80
M30`,
      findings: [{ message: 'over', says: ['G73'] }],
    },
  ],
});
