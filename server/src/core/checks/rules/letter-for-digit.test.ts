import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('letter-for-digit', {
  quiet: [{ program: 'O1000 (O AND I AND l)\nG2 X10. I5.' }],
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
