import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const section = (tool: number, length: string, remark = ''): string =>
  `T${tool} M6 ${remark}\nG0 X0 Y0 S1000 M3\n${length}\nG1 Z-1. F100\nX10.\nG0 Z50.\nM5\n`;

testRule('length-offset-missing', {
  quiet: [
    { program: `${section(1, 'G43 H1 Z5.')}${section(2, 'G43 H2 Z5.')}M30` },
    // No tool of the program has one: the control or the setter sees to it.
    { program: `${section(1, 'G0 Z5.')}${section(2, 'G0 Z5.')}M30` },
    { program: `${section(1, 'G0 Z5.')}M30` },
    { program: `${section(1, 'G43 H1 Z5.')}${section(2, 'G0 Z5.', '(PROBE)')}M30` },
    { program: `${section(1, 'G43 H1 Z5.')}${section(2, 'G44 H2 Z5.')}M30` },
    // The second tool only moves at rapid.
    { program: `${section(1, 'G43 H1 Z5.')}T2 M6\nG0 X0 Y0\nM30` },
    { program: `${section(1, 'G43 H1 Z5.')}${section(1, 'G0 Z5.')}M30` },
    { program: 'G0 X0\nG1 Z-1. F100\nG43 H1 Z5.\nG1 X5.\nM30' },
    { program: `G20\n${section(1, 'G43 H1 Z5.')}${section(2, 'G43 Z5. H2')}M2`, profile: 'rs274ngc' },
  ],
  reports: [
    {
      program: `
T1 M6
G43 H1 Z5.
G1 Z-1. F100
G0 Z50.
G49
T2 M6
G0 Z5.
G1 Z-1.
^^^^^^^
X10.
M30`,
      findings: [{ message: 'missing', says: ['Tool 2 cuts here without its length, and tool 1 has G43', 'G43 H2'] }],
    },
    {
      profile: 'rs274ngc',
      configuration: { tools: [{ number: 1, kind: 'drill', lengthOffset: 21 }] },
      program: `
G20
T1 M6
G81 X1. Z-.1 R.1 F10.
^^^^^^^^^^^^^^^^^^^^^
X2.
G80
T2 M6
G0 G43 H2 Z1.
G1 Z-.1
G49
T3 M6
G0 G43 H3 Z1.
G1 Z-.1
M2`,
      findings: [{ message: 'missing', says: ['Tool 1', 'tools 2 and 3 have G43', 'G43 H21'] }],
    },
  ],
});
