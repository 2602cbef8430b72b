import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('loop-unclosed', {
  quiet: [
    { program: '#1=0\nWHILE [#1 LT 3] DO1\n#1=#1+1\nEND1\nM30' },
    { program: '#1=0\nWHILE [#1 LT 3] DO 2\n#1=#1+1\nEND 2\nWHILE [#1 LT 5] DO2\n#1=#1+1\nEND2\nM30' },
    { program: 'M30\nO2\nWHILE [#1 LT 3] DO1\nEND1\nM30' },
    { program: '(WHILE DO1)\nM30' },
  ],
  reports: [
    {
      program: `
#1=0
WHILE [#1 LT 3] DO1
                ^^^
#1=#1+1
M30`,
      findings: [{ message: 'unclosed', says: ['DO1', 'END1'] }],
    },
    {
      program: `
G0 X1.
N20 END2
    ^^^^
M30`,
      findings: [{ message: 'stray', says: ['END2'] }],
    },
    {
      program: `
#1=0
WHILE [#1 LT 3] DO1
#1=#1+1
WHILE [#1 LT 3] DO2
                ^^^
#1=#1+1
END1
END2
M30`,
      findings: [{ message: 'crossed', says: ['DO2', 'line 2', 'line 7'] }],
    },
    {
      program: `
#1=0
WHILE [#1 LT 3] DO1
#2=0
WHILE [#2 LT 3] DO1
                ^^^
#2=#2+1
END1
#1=#1+1
END1
M30`,
      findings: [{ message: 'same-number', says: ['line 2'] }],
    },
    {
      program: `
#1=0
WHILE [#1 LT 3] DO4
                ^^^
#1=#1+1
END4
M30`,
      findings: [{ message: 'number', says: ['DO4'] }],
    },
    {
      // A loop may not reach into the next program.
      program: `
#1=0
WHILE [#1 LT 3] DO1
                ^^^
#1=#1+1
M30
O2
END1
^^^^
M30`,
      findings: [{ message: 'unclosed' }, { message: 'stray' }],
    },
  ],
});
