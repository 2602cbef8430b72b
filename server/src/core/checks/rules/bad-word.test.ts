import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('bad-word', {
  quiet: [
    { program: 'G1 X.5 Y5. Z-0.5 F100' },
    { program: 'G1 X+5 F [10 * 2]' },
    { program: 'G1 X#1 (X is no word in a remark) F100' },
    { program: 'N99999999 G1 X5. F100' },
    { program: 'N99999 G1 X5. F100', profile: 'rs274ngc' },
  ],
  reports: [
    {
      program: `
G1 X Y5. F100
   ^`,
      findings: [{ message: 'letter-without-number', says: ['X has no number'] }],
    },
    {
      program: `
G1 X1.2.3 F100
   ^^^^^^`,
      findings: [{ message: 'number-malformed', says: ['X1.2.3'] }],
    },
    {
      program: `
G1 X5. ? F100
       ^`,
      findings: [{ message: 'stray', says: ['"?"'] }],
    },
    {
      program: `
G1 X5. -Y2. F100
       ^^^^`,
      findings: [
        {
          message: 'sign-before-letter',
          says: ['The - stands before', 'Y2.', 'Write Y-2. instead.'],
          fixes: [{ title: 'Write Y-2.', output: 'G1 X5. Y-2. F100' }],
        },
      ],
    },
    {
      program: `
G1 X5. - Y2. F100
       ^`,
      findings: [{ message: 'stray' }],
    },
    {
      program: `
G1 X5. -Y-2. F100
       ^`,
      findings: [{ message: 'stray' }],
    },
    {
      program: `
G1 X[1+*2] F100
       ^`,
      findings: [{ message: 'expression-malformed' }],
    },
    {
      program: `
G1 F100 X[1+2
         ^^^^`,
      findings: [{ message: 'bracket-missing' }],
    },
    {
      program: `
G1 X[FOO[2]] F100
     ^^^`,
      findings: [{ message: 'unknown-function', says: ['FOO'] }],
    },
    {
      program: `
T-1 M6
^^^`,
      findings: [{ message: 'number-range', says: ['T-1'] }],
    },
    {
      program: `
N100000 G0 X1.
^^^^^^^`,
      profile: 'rs274ngc',
      findings: [{ message: 'sequence-number-range', says: ['N100000', 'N99999'] }],
    },
    {
      program: `
G0 X1. N10
       ^^^`,
      findings: [{ message: 'needs-start', says: ['N stands'] }],
    },
  ],
});
