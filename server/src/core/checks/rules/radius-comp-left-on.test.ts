import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const START = 'G0 X-20. Y-20.\nG1 G41 D1 X0. Y-10. F300\nY40.\n';

testRule('radius-comp-left-on', {
  quiet: [
    { program: `${START}G40 X-20.\nM30` },
    { program: `${START}G40 M30` },
    { program: `${START}G40 X-20.\nG28 Z0.\nM30` },
    // Up first, then off: usual.
    { program: `${START}G0 Z50.\nG40 X-20. Y0.\nM30` },
    { program: `${START}G0 Z50.\nG40 G28 Z0.\nM30` },
    // A subprogram: the caller switches it off.
    { program: `O100\n${START}M99` },
    // Told at the tool change already.
    { program: `${START}G0 Z50.\nT2 M6\nM30` },
  ],
  reports: [
    {
      program: `${START}G0 Z50.\nM30\n^^^`,
      findings: [{ message: 'end', says: ['G41', 'G40'] }],
    },
    {
      program: `${START}G0 Z50. M2\n        ^^`,
      findings: [{ message: 'end' }],
    },
    {
      program: `${START.replace('G41', 'G42')}G28 Z0.\n^^^^^^^\nM30`,
      findings: [{ message: 'home', says: ['G42'] }],
    },
    {
      program: `${START}G0 Z50.\nG30 Z0.\n^^^^^^^\nG40\n${START}G0 Z50.\nM30\n^^^`,
      findings: [{ message: 'home' }, { message: 'end' }],
    },
  ],
});
