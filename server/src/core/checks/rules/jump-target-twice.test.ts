import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('jump-target-twice', {
  quiet: [
    { program: 'N10 G0 X1.\nIF [#501 EQ 1] GOTO 20\nN20 G0 X2.\nM30' },
    // Both behind the jump, or both before it: every search that goes down finds the first.
    { program: 'IF [#501 EQ 1] GOTO 20\nN20 G0 X2.\nN20 G0 X3.\nM30' },
    { program: 'N20 G0 X2.\nN20 G0 X3.\nIF [#501 EQ 1] GOTO 20\nM30' },
    { program: 'O1\nN10 G0 X1.\nIF [#501 EQ 1] GOTO 10\nM30\nO2\nN10 G0 X1.\nM30' },
  ],
  reports: [
    {
      program: `
N10 G0 X1.
IF [#501 EQ 1] GOTO 10
^^^^^^^^^^^^^^^^^^^^^^
N10 G0 X2.
M30`,
      findings: [{ message: 'twice', says: ['N10', 'line 1', 'line 3'] }],
    },
  ],
});
