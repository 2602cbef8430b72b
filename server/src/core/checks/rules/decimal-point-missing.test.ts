import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('decimal-point-missing', {
  quiet: [
    { program: 'G0 X10. Y5\nM30' },
    { program: 'G0 X10 Y5\nM30', profile: 'iso-macro' },
    { program: 'G0 X10. Y0\nG1 Z-1. F100\nS500 M3\nM30', profile: 'iso-macro' },
    // A point behind 0, or in a wait, tells nothing.
    { program: 'G0 X10000 Y5000\nG4 X0.5\nG91 G28 Z0.\nM30', profile: 'iso-macro' },
  ],
  reports: [
    {
      profile: 'iso-macro',
      program: `
G0 X10. Y5
        ^^
M30`,
      findings: [
        {
          message: 'missing',
          says: ['Y5 has no', 'counts 0.005 mm', 'Y5.', '5 mm are meant'],
          fixes: [{ title: 'Write Y5.', output: 'G0 X10. Y5.\nM30' }],
        },
      ],
    },
    {
      profile: 'iso-macro',
      program: `
G20 G0 X1. Y-5
           ^^^
A90
^^^
M30`,
      findings: [
        {
          message: 'missing',
          says: ['Y-5 has no', 'counts -0.0005 inches', '-5 inches are meant'],
          fixes: [{ title: 'Write Y-5.', output: 'G20 G0 X1. Y-5.\nA90\nM30' }],
        },
        {
          message: 'missing',
          says: ['counts 0.09 degrees', 'Write A90. if 90 degrees'],
          fixes: [{ title: 'Write A90.', output: 'G20 G0 X1. Y-5\nA90.\nM30' }],
        },
      ],
    },
  ],
});
