import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('program-end-missing', {
  quiet: [
    { program: '' },
    { program: '(ONLY A REMARK)\n%' },
    { program: 'G0 X1.\nM30' },
    { program: 'G0 X1.\nM2\n%' },
    { program: 'G0 X1.\nM99' },
  ],
  reports: [
    {
      program: `
%
G0 X1.
G0 X2. (LAST)
^^^^^^^^^^^^^
%`,
      findings: [
        {
          message: 'missing',
          fixes: [{ title: 'Write M30 as the last block', output: '%\nG0 X1.\nG0 X2. (LAST)\nM30\n%' }],
        },
      ],
    },
  ],
});
