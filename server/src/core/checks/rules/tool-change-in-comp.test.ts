import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const START = 'T1 M6 (END MILL D8)\nG0 X-20. Y-20.\nG1 G41 D1 X0. Y-10. F300\nY40.\n';

testRule('tool-change-in-comp', {
  quiet: [
    { program: `${START}G40 X-20.\nG0 Z50.\nT2 M6\nM30` },
    { program: `${START}G0 Z50.\nG40\nT2 M6\nM30` },
    { program: `${START}G0 Z50.\nT2 M6 G40\nM30` },
    { program: 'T1 M6 G41 D1\nG0 X0. Y0.\nG40\nM30' },
    // T alone calls the next tool up.
    { program: `${START}T2\nX30.\nG40 X50.\nM30` },
    // Told on the way home already.
    { program: `${START}G28 Z0.\nT2 M6\nG40\nM30` },
  ],
  reports: [
    {
      program: `${START}G0 Z50.\nT2 M6\n   ^^\nG40\nM30`,
      findings: [{ message: 'change', says: ['G41', 'G40'] }],
    },
    {
      program: `${START.replace('G41', 'G42')}T2\nM6\n^^\nT3 M6\nG40\nM30`,
      findings: [{ message: 'change', says: ['G42'] }],
    },
  ],
});
