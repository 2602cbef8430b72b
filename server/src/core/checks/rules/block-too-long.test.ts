import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { PROFILES } from '../../machine/profile.ts';

testRule('block-too-long', {
  quiet: [
    { program: 'G0 X1. (AN ORDINARY BLOCK)' },
    { program: 'G0 G17 G21 G40 G49 G80 G90 G54 X120.000 Y-45.500 S12000 M3 M8 (ALL OF THE START IN ONE BLOCK)' },
    // As long as the control takes, to the last character; the remark of its own counts nothing less.
    { program: 'G0 X1. Y2.5', configuration: { profile: { ...PROFILES.iso, lineLength: 11 } } },
    { program: 'G0 G40 G90 X1.', configuration: { profile: { ...PROFILES.iso, maxG: 3 } } },
    { program: 'S500 M3\nM8', configuration: { profile: { ...PROFILES.iso, maxM: 1 } } },
  ],
  reports: [
    {
      configuration: { profile: { ...PROFILES.iso, lineLength: 12 } },
      program: `
G0 X1.000 Y2.000
^^^^^^^^^^^^^^^^`,
      findings: [{ message: 'too-long', says: ['16', '12'] }],
    },
    {
      configuration: { profile: { ...PROFILES.iso, maxG: 3 } },
      program: `
G0 G17 G40 G90
^^^^^^^^^^^^^^`,
      findings: [{ message: 'too-many-g', says: ['4 G words', '3'] }],
    },
    {
      configuration: { profile: { ...PROFILES.iso, maxM: 1 } },
      program: `
S500 M3 M8
^^^^^^^^^^`,
      findings: [{ message: 'too-many-m', says: ['2 M words', '1'] }],
    },
  ],
});
