import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';

/** More moves than allowed; the marker stands under the first line of the chunk that is no longer executed. */
const tooLong = [
  'G0 X0.',
  ...Array.from({ length: 600 }, (_, i) => (i === 511 ? 'X2.\n^^^' : `X${1 + (i % 2)}.`)),
  'M30',
].join('\n');

testRule('not-executed', {
  quiet: [{ program: 'G0 X1.\nM30' }],
  reports: [
    {
      configuration: { limits: { ...DEFAULT_CONFIGURATION.limits, moves: 100 } },
      program: tooLong,
      findings: [{ message: 'limit', says: ['100'], severity: 'warning' }],
    },
    {
      program: `
M98 P100
^^^
M98 P200
M30`,
      findings: [{ message: 'subprogram' }],
    },
    {
      program: `
G65 P100 A1.
^^^
M30`,
      findings: [{ message: 'macro-call' }],
    },
    {
      program: `
GOTO 10
^^^^^^^
N10 M30`,
      findings: [{ message: 'flow' }],
    },
    {
      program: `
G1 G41 D1 X1. F100
   ^^^
M30`,
      findings: [{ message: 'radius-unknown' }],
    },
    {
      program: `
G10 L1 P1 R5.
^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'other', says: ['G10'] }],
    },
    {
      program: `
G38.2 Z-5. F50
^^^^^
M30`,
      findings: [{ message: 'probe' }],
    },
  ],
});
