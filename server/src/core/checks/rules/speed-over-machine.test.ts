import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const configuration = { machine: { axes: {}, workOffsets: {}, topSpeed: 8000 } };

testRule('speed-over-machine', {
  quiet: [
    { program: 'S12000 M3\nM30' },
    { program: 'S8000 M3\nM30', configuration },
    { program: 'G96 S9000 M3\nM30', configuration },
    { program: 'S#1 M3\nM30', configuration },
    { program: 'G20\nS100 M3\nM2', profile: 'rs274ngc', configuration },
  ],
  reports: [
    {
      configuration,
      program: `
T1 M6
S12000 M3
^^^^^^
S9000
^^^^^
M30`,
      findings: [{ message: 'over', says: ['S12000', '8000 rev/min'] }, { message: 'over' }],
    },
    {
      profile: 'rs274ngc',
      configuration,
      program: `
G20 M3 S8001
       ^^^^^
M2`,
      findings: [{ message: 'over', says: ['S8001'] }],
    },
  ],
});
