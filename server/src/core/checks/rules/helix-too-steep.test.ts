import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('helix-too-steep', {
  quiet: [
    { program: 'T1 M6\nG17 G0 X5. Y0 Z0\nG3 I-5. Z-5. F100\nM30' },
    {
      program: 'T1 M6\nG17 G0 X5. Y0 Z0\nG3 I-5. Z-1. F100\nM30',
      configuration: { tools: [{ number: 1, kind: 'end-mill', rampLimit: 3 }] },
    },
    {
      program: 'T1 M6\nG17 G0 X5. Y0 Z-9.\nG3 I-5. Z0. F100\nM30',
      configuration: { tools: [{ number: 1, kind: 'end-mill', rampLimit: 3 }] },
    },
    {
      program: 'T1 M6\nG17 G0 X5. Y0 Z0\nG2 I-5. Z-5. F100\nM30',
      configuration: { tools: [{ number: 1, kind: 'thread-mill', rampLimit: 3 }] },
    },
  ],
  reports: [
    {
      configuration: { tools: [{ number: 1, kind: 'end-mill', rampLimit: 3 }] },
      program: `
T1 M6
G17 G0 X5. Y0 Z0
G3 I-5. Z-5. F100
^^^^^^^^^^^^^^^^^
M30`,
      // atan(5 / (2·π·5)) = 9.04°; 5 / (tan 3° · 2·π·5) = 3.04 turns.
      findings: [{ message: 'steep', says: ['9.0431°', '3°', '3.04 turns'] }],
    },
  ],
});
