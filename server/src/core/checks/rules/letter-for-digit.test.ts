import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('letter-for-digit', {
  quiet: [
    { program: 'O1000 (O AND I AND l)\nG2 X10. I5.' },
    { program: 'N10 G0 X10.5 (OIL ON, LEVEL 1O)' },
    { program: '#<oil>=10.\nG0 X#<oil>' },
    { program: 'O0001\nG1 X1. S100' },
  ],
  reports: [
    {
      program: `
G0 X1O.5
     ^`,
      findings: [
        { message: 'letter', says: ['X10.5'], fixes: [{ title: 'Write X10.5', safe: true, output: 'G0 X10.5' }] },
      ],
    },
    {
      program: `
$500 M3
^`,
      findings: [
        { message: 'letter', says: ['S500'], fixes: [{ title: 'Write S500', safe: true, output: 'S500 M3' }] },
      ],
    },
  ],
});
