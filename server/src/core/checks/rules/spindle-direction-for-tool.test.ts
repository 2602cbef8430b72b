import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('spindle-direction-for-tool', {
  quiet: [
    { program: 'T1 M6 (END MILL D10)\nS1000 M3\nG1 X1. F100\nM30' },
    // Nothing tells of the tool.
    { program: 'T1 M6\nS1000 M4\nG1 X1. F100\nM30' },
    { program: 'T1 M6 (DRILL D5 LH)\nS1000 M4\nM30' },
    { program: 'T1 M6\nS1000 M4\nM30', configuration: { tools: [{ number: 1, kind: 'drill', hand: 'left' }] } },
    // A tap that is backed out by hand, a bar that bores backwards.
    { program: 'T1 M6 (TAP M6X1)\nS100 M3\nG1 Z-5. F100\nM4\nZ5.\nM30' },
    { program: 'T1 M6 (BORING BAR)\nS1000 M4\nM30' },
    { program: 'T1 M6\nS1000 M4\nM30', configuration: { tools: [{ number: 1, kind: 'other' }] } },
    { program: '(END MILL D10)\nS1000 M4\nM30' },
    { program: 'G20\nT1 M6 (1/2 END MILL)\nS1000 M3\nM2', profile: 'rs274ngc' },
  ],
  reports: [
    {
      program: `
T1 M6 (END MILL D10)
S1000 M4
      ^^
M30`,
      findings: [
        {
          message: 'backwards',
          says: ['M4 turns this right-hand cutter backwards (remark END MILL D10)', '"hand": "left"'],
          fixes: [{ title: 'Write M3', output: 'T1 M6 (END MILL D10)\nS1000 M3\nM30' }],
        },
      ],
    },
    {
      profile: 'rs274ngc',
      configuration: { tools: [{ number: 1, kind: 'end-mill', hand: 'left' }] },
      program: `
G20
T1 M6
M03 S1000
^^^
M2`,
      findings: [
        {
          message: 'backwards',
          says: ['M3 turns this left-hand cutter backwards (tool 1 in the tool table)'],
          fixes: [{ title: 'Write M4', output: 'G20\nT1 M6\nM4 S1000\nM2' }],
        },
      ],
    },
  ],
});
