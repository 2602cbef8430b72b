import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { PROFILES } from '../../machine/profile.ts';

testRule('unknown-code', {
  quiet: [
    { program: 'G0 G54.1 P3 M8' },
    { program: 'M3 S500\nM30' },
    { program: 'G05.1\nM21', configuration: { profile: { ...PROFILES.iso, extraG: [51], extraM: [21] } } },
    { program: 'G00 G01 G02 X1. I.5 (G999 IS IN A REMARK)' },
    { program: 'M00\nM01\nM03 S500\nM09' },
  ],
  reports: [
    {
      program: `
G0 G77 X1.
   ^^^`,
      findings: [{ message: 'unknown-g', says: ['G77'] }],
    },
    {
      program: `
M77
^^^
G0 X1.
M77
M30`,
      findings: [{ message: 'unknown-m', says: ['M77'], severity: 'hint' }],
    },
  ],
});
