import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('tool-change-without-tool', {
  quiet: [{ program: 'T1 M6\nM30' }, { program: 'M6 T1\nM30' }, { program: 'T2\nM6\nM30' }],
  reports: [
    {
      program: `
G0 G54 X0
M6
^^
M30`,
      findings: [{ message: 'no-tool' }],
    },
  ],
});
