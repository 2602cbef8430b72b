import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('tape-mark-unpaired', {
  quiet: [
    { program: 'G0 X1.\nM30' },
    { program: '%\nG0 X1.\nM30\n%' },
    { program: '%\nO1\nG0 X1.\nM30\n%\n\n' },
    { program: '%100\nG0 X1. (50 % OFF)\nM30\n%' },
  ],
  reports: [
    {
      program: `
%
^
G0 X1.
M30`,
      findings: [
        {
          message: 'end-missing',
          fixes: [{ title: 'Write % as the last line', safe: true, output: '%\nG0 X1.\nM30\n%' }],
        },
      ],
    },
    {
      program: `
G0 X1.
M30
%
^`,
      findings: [
        {
          message: 'start-missing',
          fixes: [{ title: 'Write % as the first line', safe: true, output: '%\nG0 X1.\nM30\n%' }],
        },
      ],
    },
  ],
});
