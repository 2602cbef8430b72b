import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('cycle-depth-above-retract', {
  quiet: [
    { program: 'G81 X1. Z-5. R2. F100\nX2.\nG80\nM30' },
    // Down on a lower step: R below the zero, the depth below R.
    { program: 'G0 Z50.\nG81 X1. Z-25. R-18. F100\nX2.\nG80\nM30' },
    // On a boss: both above the zero.
    { program: 'G0 Z50.\nG81 X1. Z12. R22. F100\nG80\nM30' },
    { program: 'G0 Z5.\nG91 G81 X1. Z-7. R-3. F100\nG80\nM30' },
    { program: 'G81 X1. Z#1 R2. F100\nG80\nM30' },
    { program: 'G87 X1. Z5. R-20. F100\nG80\nM30' },
    { program: 'G87 X1. Z-20. R5. K-10. I1. F100\nG80\nM2', profile: 'rs274ngc' },
    // An angle head that points to +Y.
    { program: 'G18 G0 Y-50.\nG81 X1. Y10. R-5. F100\nG80\nM30' },
    { program: 'G18 G0 Y50.\nG81 X1. Y-10. R5. F100\nG80\nM30' },
    // Another rule's: a way out with the cycle still on.
    { program: 'G81 X1. Z-5. R2. F100\nZ50.\nM30' },
    { program: 'G20 G81 X1. Z-.2 R.1 F10.\nX2. Z-.4\nG80\nM30' },
  ],
  reports: [
    {
      program: `
G81 X1. Z5. R2. F100
        ^^^
X2.
X3.
G80
M30`,
      findings: [
        {
          message: 'above',
          says: ['R at Z2 to a bottom at Z5'],
          fixes: [{ title: 'Write Z-5.', output: 'G81 X1. Z-5. R2. F100\nX2.\nX3.\nG80\nM30' }],
        },
      ],
    },
    {
      // R and depth the other way round.
      program: `
G81 X1. Z2. R-15. F100
        ^^^
G80
M30`,
      findings: [
        {
          message: 'above',
          fixes: [{ title: 'Write Z-15. R2.', output: 'G81 X1. Z-15. R2. F100\nG80\nM30' }],
        },
      ],
    },
    {
      program: `
G0 Z5.
G91 G81 X1. Z7. R-3. F100
            ^^^
G80
M30`,
      findings: [
        {
          message: 'above',
          says: ['R at Z2 to a bottom at Z9'],
          fixes: [{ title: 'Write Z-7.', output: 'G0 Z5.\nG91 G81 X1. Z-7. R-3. F100\nG80\nM30' }],
        },
      ],
    },
    {
      program: `
G81 X1. Z-5. R-5. F100
        ^^^^
X2.
X3. Z-5. R2.
X4. Y1. Z5.
        ^^^
G80
M30`,
      findings: [
        { message: 'equal' },
        {
          message: 'above',
          fixes: [{ title: 'Write Z-5.', output: 'G81 X1. Z-5. R-5. F100\nX2.\nX3. Z-5. R2.\nX4. Y1. Z-5.\nG80\nM30' }],
        },
      ],
    },
    {
      program: `
G20 G81 X1. R-.5 Z-.1 F10.
                 ^^^^
G80
M30`,
      findings: [{ message: 'above', says: ['R at Z-0.5 to a bottom at Z-0.1'] }],
    },
    {
      profile: 'rs274ngc',
      program: `
G81 X1. Z-5. R-10. L0 F100
X1.
^^^
X2.
G80
M2`,
      findings: [{ message: 'above' }],
    },
  ],
});
