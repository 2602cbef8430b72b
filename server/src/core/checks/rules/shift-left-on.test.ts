import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const fixed = (title: string, output: string) => [{ title, output }];

testRule('shift-left-on', {
  quiet: [
    { program: 'G54 G90\nG52 X50.\nG1 X1. F100\nG52 X0\nT2 M6\nM30' },
    { program: 'G54 G90\nG68 X0 Y0 R30.\nG1 X1. F100\nG69\nT2 M6\nM30' },
    { program: 'G54 G90\nG51 X0 Y0 P2.\nG1 X1. F100\nG50\nM30' },
    { program: 'G54 G90\nG16\nG1 X1. Y30. F100\nG15\nM30' },
    { program: 'G54 G90\nT1 M6\nG92 X5.\nG1 X1. F100\nG92.1\nM30' },
    // G92 is how this program finds its zero.
    { program: 'G90\nG1 X1. F100\nG92 X0 Y0\nT2 M6\nG1 X1.\nM30' },
    { program: 'G54 G90\nG52 X50.\nG1 X1. F100\nM99' },
    // The report takes it back at the end.
    { program: 'G54 G90\nG1 X1. F100\nG92 X0\nM2', profile: 'rs274ngc' },
  ],
  reports: [
    {
      program: `
G54 G90
G68 X0 Y0 R30.
T2 M6
   ^^
T3 M6
G69
M30`,
      findings: [
        {
          message: 'tool-change',
          says: ['G68 is still on', 'G69'],
          fixes: fixed('Write G69 before it', 'G54 G90\nG68 X0 Y0 R30.\nG69\nT2 M6\nT3 M6\nG69\nM30'),
        },
      ],
    },
    {
      program: `
G54 G90
G52 X50. Y20.
G1 X1. F100
M30
^^^`,
      findings: [
        {
          message: 'end',
          says: ['G52', 'G52 X0 Y0'],
          fixes: fixed('Write G52 X0 Y0 before it', 'G54 G90\nG52 X50. Y20.\nG1 X1. F100\nG52 X0 Y0\nM30'),
        },
      ],
    },
    {
      program: `
G54 G90
G0 X0 Y0
G92 X5.
G16
G1 X1. Y30. F100
T2 M6
   ^^
M30
^^^`,
      findings: [
        {
          message: 'tool-change',
          says: ['G16 and G92 are still on', 'G15, G92.1'],
          fixes: fixed(
            'Write G15, G92.1 before it',
            'G54 G90\nG0 X0 Y0\nG92 X5.\nG16\nG1 X1. Y30. F100\nG15\nG92.1\nT2 M6\nM30',
          ),
        },
        {
          message: 'end',
          fixes: fixed(
            'Write G15, G92.1 before it',
            'G54 G90\nG0 X0 Y0\nG92 X5.\nG16\nG1 X1. Y30. F100\nT2 M6\nG15\nG92.1\nM30',
          ),
        },
      ],
    },
    {
      program: `
G54 G90
G51.1 X0
G1 X1. F100
M30
^^^`,
      findings: [
        {
          message: 'end',
          says: ['mirror', 'G50.1'],
          fixes: fixed('Write G50.1 before it', 'G54 G90\nG51.1 X0\nG1 X1. F100\nG50.1\nM30'),
        },
      ],
    },
    {
      program: `
G54 G90
G51 X0 Y0 P2.
G1 X1. F100
M30
^^^`,
      findings: [
        {
          message: 'end',
          says: ['G51', 'G50'],
          fixes: fixed('Write G50 before it', 'G54 G90\nG51 X0 Y0 P2.\nG1 X1. F100\nG50\nM30'),
        },
      ],
    },
  ],
});
