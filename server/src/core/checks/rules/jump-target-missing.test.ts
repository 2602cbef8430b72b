import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('jump-target-missing', {
  quiet: [
    { program: 'N10 G0 X1.\nIF [#501 EQ 1] GOTO 10\nM30' },
    { program: 'GOTO 20\nG0 X1.\n/ N20 G0 X2.\nM30' },
    { program: 'GOTO 0020\nN20 G0 X2.\nM30' },
    // The number is computed, and right each time.
    {
      program:
        '#100=1\nN1 G0 X1.\n#100=#100+1\nIF [#100 GT 3] GOTO 9\nGOTO #100\nN2 G0 X2.\nGOTO 1\nN3 G0 X3.\nGOTO 1\nN9 M30',
    },
    // Only the machine knows the number.
    { program: 'GOTO #[5061]\nM30' },
    // Back to a block of the caller.
    { program: 'O1\nM98 P100\nG0 X1.\nN50 G0 X2.\nM30\nO100\nM99 P50' },
    { program: 'O1\nN10 G0 X1.\nM99 P10' },
    // A file that is called by others: the caller's numbers are not known.
    { program: 'O100\nG1 X1. F100\nM99 P50' },
    { program: '(GOTO 50)\nM30' },
  ],
  reports: [
    {
      program: `
IF [#501 EQ 1] GOTO 50
^^^^^^^^^^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'missing', says: ['N50'] }],
    },
    {
      program: `
M30
GOTO 50
^^^^^^^
O2
GOTO 60
^^^^^^^
N50 M30`,
      findings: [
        { message: 'other-program', says: ['N50', 'line 5'] },
        { message: 'missing', says: ['N60'] },
      ],
    },
    {
      // The second pass computes a number that is not there.
      program: `
#100=2
N1 GOTO #100
   ^^^^^^^^^
N2 #100=3
GOTO 1
M30`,
      findings: [{ message: 'missing', says: ['N3'] }],
    },
    {
      program: `
O1
M98 P100
M30
O100
G1 X1. F100
M99 P50
^^^^^^^`,
      findings: [{ message: 'return', says: ['N50', 'line 2'] }],
    },
  ],
});
