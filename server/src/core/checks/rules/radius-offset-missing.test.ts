import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const contour = (words: string): string => `G0 X-20. Y-20.\nG1 ${words} X0. Y-10. F300\nY40.\nG40 X-20.\nG0 Z50.\n`;

testRule('radius-offset-missing', {
  quiet: [
    { program: `T1 M6\n${contour('G41 D1')}T2 M6\n${contour('G42 D2')}M30` },
    // A program that never writes D is for a control that takes the tool's own.
    { program: `T1 M6\n${contour('G41')}T2 M6\n${contour('G42')}M30` },
    // D is given at the tool change, or stays in force for the same tool.
    { program: `T1 M6 D1\n${contour('G41')}T2 M6 D2\n${contour('G42')}M30` },
    { program: `T1 M6\n${contour('G41 D1')}${contour('G42')}M30` },
    // One register for all tools, or registers of a numbering of their own.
    { program: `T1 M6\n${contour('G41 D21')}T2 M6\n${contour('G42')}M30` },
    { program: `T1 M6\n${contour('G41')}T2 M6\n${contour('G42 D2')}M30`, profile: 'rs274ngc' },
    { program: `O100\n${contour('G41')}${contour('G41 D1')}M99` },
  ],
  reports: [
    {
      program: `T1 M6\n${contour('G41').replace('F300\n', 'F300\n   ^^^\n')}T2 M6\n${contour('G42 D2')}M30`,
      findings: [
        {
          message: 'missing',
          says: ['G41', 'G42 D2'],
          fixes: [{ title: 'Add D1', output: `T1 M6\n${contour('G41 D1')}T2 M6\n${contour('G42 D2')}M30` }],
        },
      ],
    },
    {
      program: `T1 M6\n${contour('G41').replace('F300\n', 'F300\n   ^^^\n')}T2 M6\n${contour('G42 D22')}M30`,
      findings: [{ message: 'missing', says: ['D22'] }],
    },
    {
      program: `T1 M6\n${contour('G41 D1')}T2 M6\n${contour('G42').replace('F300\n', 'F300\n   ^^^\n')}M30`,
      findings: [
        {
          message: 'carried',
          severity: 'warning',
          says: ['D1 of tool 1', 'tool 2'],
          fixes: [{ title: 'Add D2', output: `T1 M6\n${contour('G41 D1')}T2 M6\n${contour('G42 D2')}M30` }],
        },
      ],
    },
  ],
});
