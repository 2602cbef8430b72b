import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const tap = (holder: TapHolder): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread: 'M6', holder }],
});

testRule('spindle-for-cycle', {
  quiet: [
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG84 X1. Z-12. R5. F500\nG80\nM30' },
    { program: 'T1 M6 (TAP M6X1 LH)\nS500 M4\nG74 X1. Z-12. R5. F500\nG80\nM30' },
    // The cycle starts the spindle of synchronised tapping.
    { program: 'T1 M6 (TAP M6X1)\nM29 S500\nG84 X1. Z-12. R5. F500\nG80\nM30' },
    { program: 'T1 M6\nS500 M4\nG84 X1. Z-12. R5. F500\nG80\nM30', configuration: tap({ kind: 'synchronised' }) },
    { program: 'S500 M4\nG81 X1. Z-12. R5. F500\nG80\nM30' },
    { program: 'T1 M6\nS500 M3\nG84 X1. Z-12. R5. F500\nX2.\nG80\nM2', profile: 'rs274ngc' },
    { program: 'T1 M6\nS500 M3\nG84 X1. Z-12. R5. F500\nG80\nM30', configuration: tap({ kind: 'float', float: 8 }) },
    // Nothing in this file starts a spindle: it may turn already.
    { program: 'G84 X1. Z-12. R5. F500\nG80\nM2', profile: 'rs274ngc' },
    { program: 'G84 X1. Z-12. R5. F500\nM99' },
  ],
  reports: [
    {
      program: `
T1 M6 (TAP M6X1)
S500 M4
G99 G84 X1. Z-12. R5. F500
    ^^^
X2.
G80
M30`,
      findings: [{ message: 'wrong-way', says: ['G84 taps a right-hand thread with M3, and M4 is on', 'G74'] }],
    },
    {
      program: `
G20 T1 M6 (TAP)
S500 M3
G74 X1. Z-.5 R.2 F25.
^^^
G80
M30`,
      findings: [{ message: 'wrong-way', says: ['G74 taps a left-hand thread with M4, and M3 is on'] }],
    },
    {
      profile: 'rs274ngc',
      program: `
T1 M6
S500
G84 X1. Z-12. R5. F500
^^^
G80
M2`,
      findings: [{ message: 'stopped', says: ['G84', 'M3'] }],
    },
    {
      configuration: tap({ kind: 'float', float: 8 }),
      program: `
T1 M6
S500
G84 X1. Z-12. R5. F500
^^^
G80
M30`,
      findings: [{ message: 'stopped' }],
    },
  ],
});
