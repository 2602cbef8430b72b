import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const configuration = {
  tools: [
    { number: 1, kind: 'drill' },
    { number: 2, kind: 'end-mill' },
  ],
} as const;

testRule('tool-unknown', {
  quiet: [
    { program: 'T1 M6\nT7 M6\nM30' },
    { program: 'T1 M6\nT02 M6\nT0 M6\nM30', configuration },
    // Called, but never changed to.
    { program: 'T1 M6\nT9\nM30', configuration },
    { program: 'T#1 M6\nM30', configuration },
    { program: 'G20\nT2 M6\nM2', profile: 'rs274ngc', configuration },
  ],
  reports: [
    {
      configuration,
      program: `
T1 M6
M6 T03 (DRILL T3)
   ^^^
T3 M6
M30`,
      findings: [{ message: 'unknown', says: ['T3 is not', 'has T1 and T2.'] }],
    },
    {
      profile: 'rs274ngc',
      configuration,
      program: `
G20
T12
M6
^^
M2`,
      findings: [{ message: 'unknown', says: ['T12 is not'] }],
    },
    {
      configuration: { tools: [{ number: 4, kind: 'drill' }] },
      program: `
T1 M6
^^
M30`,
      findings: [{ message: 'unknown', says: ['which has T4 only.'] }],
    },
    {
      configuration: { tools: [9, 8, 7, 6, 5, 4, 3, 2].map((number) => ({ number, kind: 'drill' })) },
      program: `
T1 M6
^^
M30`,
      findings: [{ message: 'unknown', says: ['which has T2, T3, T4, T5, T6, T7 and 2 more.'] }],
    },
  ],
});
