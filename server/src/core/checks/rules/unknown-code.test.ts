import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('unknown-code', {
  quiet: [{ program: 'G0 G54.1 P3 M8' }, { program: 'M3 S500\nM30' }],
  reports: [
    {
      program: `
G0 G77 X1.
   ^^^`,
      findings: [{ message: 'unknown-g', says: ['G77'] }],
    },
    {
      program: `
M77
^^^
G0 X1.
M77
M30`,
      findings: [{ message: 'unknown-m', says: ['M77'], severity: 'hint' }],
    },
  ],
});
