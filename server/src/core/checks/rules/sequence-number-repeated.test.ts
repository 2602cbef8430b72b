import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('sequence-number-repeated', {
  quiet: [
    { program: 'N10 G0 X1.\nN10 X2.\nM30' },
    { program: 'N10 G0 X1.\nN20 X2.\nIF [#500 EQ 1] GOTO 10\nM30' },
    { program: 'O1\nN10 G0 X1.\nGOTO 10\nM30\nO2\nN10 G0 X1.\nM30' },
  ],
  reports: [
    {
      program: `
N10 G0 X1.
N10 X2.
^^^
IF [#500 EQ 1] GOTO 10
M30`,
      findings: [{ message: 'repeated', says: ['N10', 'line 1'] }],
    },
  ],
});
