import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('axis-words-claimed-twice', {
  quiet: [{ program: 'G0 G91 G28 Z0' }, { program: 'G0 G53 Z0' }],
  reports: [
    {
      program: `
G28 G92 X0 Y0
    ^^^`,
      findings: [{ message: 'twice', says: ['G28', 'G92'] }],
    },
  ],
});
