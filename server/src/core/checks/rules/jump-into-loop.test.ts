import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const LOOP = '#1=0\nN5 WHILE [#1 LT 3] DO1\nN10 #1=#1+1\nIF [#1 EQ 2] GOTO 20\nN20 G0 X#1\nEND1\n';

testRule('jump-into-loop', {
  quiet: [
    { program: `${LOOP}M30` },
    { program: `IF [#501 EQ 1] GOTO 5\n${LOOP}M30` },
    { program: '#1=0\nWHILE [#1 LT 3] DO1\n#1=#1+1\nIF [#1 EQ 2] GOTO 30\nEND1\nN30 M30' },
    // From an inner loop into the outer one.
    {
      program:
        '#1=0\nWHILE [#1 LT 3] DO1\n#1=#1+1\n#2=0\nWHILE [#2 LT 3] DO2\n#2=#2+1\nIF [#2 EQ 2] GOTO 9\nEND2\nN9 G0 X#1\nEND1\nM30',
    },
  ],
  reports: [
    {
      program: `
IF [#501 EQ 1] GOTO 10
^^^^^^^^^^^^^^^^^^^^^^
${LOOP}M30`,
      findings: [{ message: 'into', says: ['N10', 'line 4', 'lines 3 to 7'] }],
    },
    {
      // From the outer loop into the inner one.
      program: `
#1=0
WHILE [#1 LT 3] DO1
#1=#1+1
#2=0
IF [#1 EQ 2] GOTO 9
^^^^^^^^^^^^^^^^^^^
WHILE [#2 LT 3] DO2
N9 #2=#2+1
END2
END1
M30`,
      findings: [{ message: 'into', says: ['lines 6 to 8'] }],
    },
  ],
});
