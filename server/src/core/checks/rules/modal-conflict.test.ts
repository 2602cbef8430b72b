import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('modal-conflict', {
  quiet: [{ program: 'G0 G17 G40 G49 G80 G90' }, { program: 'G0 G91 G28 Z0' }, { program: 'M7 M8' }],
  reports: [
    {
      program: `
G0 G1 X1. F100
   ^^`,
      findings: [
        {
          message: 'same-group',
          says: ['G0 and G1'],
          fixes: [
            { title: 'Keep G1 only', output: 'G1 X1. F100' },
            { title: 'Keep G0 only', output: 'G0 X1. F100' },
          ],
        },
      ],
    },
    {
      profile: 'rs274ngc',
      program: `
G90 G91
    ^^^`,
      findings: [
        {
          message: 'same-group-strict',
          severity: 'error',
          fixes: [
            { title: 'Keep G91 only', output: 'G91' },
            { title: 'Keep G90 only', output: 'G90' },
          ],
        },
      ],
    },
  ],
});
