import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('comment-unclosed', {
  quiet: [
    { program: 'G0 X1. (TO THE EDGE)' },
    { program: 'G0 X1. ; (to the edge' },
    { program: '(A) G0 X1. (B)\n()\n(TWO ; IN ONE)' },
    { program: '// (not closed, and need not be\nG0 X1.' },
  ],
  reports: [
    {
      program: `
G0 X1. (TO THE EDGE
       ^^^^^^^^^^^^`,
      findings: [
        {
          message: 'unclosed',
          fixes: [{ title: 'Close the remark at the end of the block', output: 'G0 X1. (TO THE EDGE)' }],
        },
      ],
    },
  ],
});
