import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('comment-unclosed', {
  quiet: [{ program: 'G0 X1. (TO THE EDGE)' }, { program: 'G0 X1. ; (to the edge' }],
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
