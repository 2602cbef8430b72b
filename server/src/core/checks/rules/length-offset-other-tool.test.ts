import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const section = (tool: number, length: string): string =>
  `T${tool} M6\nG0 X0 Y0 S1000 M3\n${length}\nG1 Z-1. F100\nG0 Z50.\nM5\n`;

testRule('length-offset-other-tool', {
  quiet: [
    { program: `${section(1, 'G43 H1 Z5.')}${section(2, 'G43 H02 Z5.')}M30` },
    { program: 'T1 M6 G43 H1\nG1 Z-1. F100\nT2 M6 G43 H2\nG1 Z-1.\nM30' },
    // One subprogram cuts with both tools.
    {
      program:
        'T1 M6\nG43 H1 Z5.\nM98 P100\nT2 M6\nG43 H2 Z5.\nM98 P100\nT3 M6\nG43 H3 Z5.\nG1 Z-1.\nM30\nO100\nG1 Z-1. F100\nG0 Z5.\nM99',
    },
    // The next tool is called early.
    { program: 'T1 M6\nT2\nG43 H1 Z5.\nG1 Z-1. F100\nM6\nG43 H2 Z5.\nG1 Z-1.\nM30' },
    // A shop that keeps lengths in 21 and up.
    { program: `${section(1, 'G43 H21 Z5.')}${section(2, 'G43 H22 Z5.')}${section(5, 'G43 H25 Z5.')}M30` },
    // A second length of the same tool, for its other edge.
    { program: `${section(1, 'G43 H1 Z5.')}${section(2, 'G43 H2 Z5.\nG1 Z-1.\nG43 H32 Z5.')}M30` },
    {
      program: `${section(7, 'G43 H17 Z5.')}M30`,
      configuration: { tools: [{ number: 7, kind: 'drill', lengthOffset: 17 }] },
    },
    { program: `${section(1, 'G43 H0 Z5.')}M30` },
    { program: `${section(1, 'G43 Z5.')}M2`, profile: 'rs274ngc' },
    { program: `${section(1, 'G43 H1 Z5.')}${section(2, 'G43 Z5. H[1+1]')}M30` },
    { program: `${section(1, 'G43 H#5 Z5.')}M30` },
    // Tools by hand: nothing says what is in the spindle.
    { program: 'G43 H3 Z5.\nG1 Z-1. F100\nM30' },
    { program: `${section(1, 'G0 Z5.')}H7\n${section(2, 'G0 Z5.')}M30` },
    { program: `G20\n${section(1, 'G43 H1 Z1.')}G49\nT2 M6\nG0 Z1.\nG1 Z-.1\nM30` },
  ],
  reports: [
    {
      program: `
T1 M6
G43 H1 Z5.
T2 M6
G43 Z5. H01
        ^^^
G1 Z-1. F100
M30`,
      findings: [
        {
          message: 'other',
          says: ['H1 is the length of tool 1, and tool 2 is in the spindle', 'Write H2'],
          fixes: [{ title: 'Write H02', output: 'T1 M6\nG43 H1 Z5.\nT2 M6\nG43 Z5. H02\nG1 Z-1. F100\nM30' }],
        },
      ],
    },
    {
      profile: 'rs274ngc',
      program: `
G20 T4 M6
G0 G43 H14 Z1.
       ^^^
G1 Z-.1 F10.
M2`,
      findings: [
        {
          message: 'unlike',
          says: ['H14', 'tool 4', 'H4'],
          fixes: [{ title: 'Write H4', output: 'G20 T4 M6\nG0 G43 H4 Z1.\nG1 Z-.1 F10.\nM2' }],
        },
      ],
    },
    {
      configuration: { tools: [{ number: 7, kind: 'drill', lengthOffset: 17 }] },
      program: `
T7 M6
G43 H[3+4] Z5.
    ^^^^^^
G1 Z-1. F100
M30`,
      findings: [{ message: 'unlike', says: ['H7', 'H17'] }],
    },
    {
      program: `
T1 M6
G43 H1 Z5.
G1 Z-1. F100
G91 G28 Z0.
T2 M6
G90 G0 X0 Y0
Z5.
G1 Z-1.
^^^^^^^
X5.
M30`,
      findings: [{ message: 'kept', says: ['Tool 2 cuts with H1', 'G43 H2'] }],
    },
  ],
});
