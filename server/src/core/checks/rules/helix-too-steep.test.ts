import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('helix-too-steep', {
  quiet: [
    // 3.6° on the programmed circle of 5, and on the centre's of 8 outside it 2.3°.
    {
      program: 'T1 M6\nG17 G0 X0 Y0 Z0\nG1 G42 D1 X5. F100\nG3 I-5. Z-2.\nG1 G40 X20.\nM30',
      configuration: { tools: [{ number: 1, kind: 'end-mill', diameter: 6, rampLimit: 3 }] },
    },
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
      configuration: { tools: [{ number: 1, kind: 'end-mill', diameter: 6, rampLimit: 6 }] },
      program: `
T1 M6
G17 G0 X0 Y0 Z0
G1 G41 D1 X5. F100
G3 I-5. Z-2.
^^^^^^^^^^^^
G1 G40 X0
M30`,
      // Inside a circle of 5 the centre of a cutter of 3 runs on 2: atan(2 / (2·π·2)) = 9.05°; 2 / (tan 6° · 2·π·2) = 1.52 turns.
      findings: [{ message: 'steep', says: ['goes down 2 at 9.04°', '6°', 'at most 1.32 a turn'] }],
    },
    {
      configuration: { tools: [{ number: 1, kind: 'end-mill', rampLimit: 3 }] },
      program: `
T1 M6
G17 G0 X5. Y0 Z0
G3 I-5. Z-5. F100
^^^^^^^^^^^^^^^^^
M30`,
      // atan(5 / (2·π·5)) = 9.05°; 5 / (tan 3° · 2·π·5) = 3.04 turns.
      findings: [{ message: 'steep', says: ['goes down 5 at 9.04°', '3°', 'at most 1.64 a turn'] }],
    },
  ],
});
