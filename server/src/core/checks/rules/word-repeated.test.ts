import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('word-repeated', {
  quiet: [
    { program: 'G0 G90 X1. Y1.' },
    { program: 'G65 P9010 I1. J2. I3. J4.' },
    { program: 'G0 G17 G40 M3 M8 X1.' },
    { program: 'G66 P9010 I1. I2. I3.' },
  ],
  reports: [
    {
      program: `
G0 X1. Y2. X3.
           ^^^`,
      findings: [
        {
          message: 'repeated',
          says: ['X1. X3.'],
          fixes: [
            { title: 'Keep X1. only', output: 'G0 X1. Y2.' },
            { title: 'Keep X3. only', output: 'G0 Y2. X3.' },
          ],
        },
      ],
    },
  ],
});
