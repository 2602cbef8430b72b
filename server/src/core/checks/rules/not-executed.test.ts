import { describe, expect, it } from 'vitest';
import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { type Configuration, DEFAULT_CONFIGURATION, type RunLimits } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';
import type { SubprogramHost } from '../flow/host.ts';

const toldOf = (program: string, configuration: Partial<Configuration>, host?: SubprogramHost) => {
  const analysis = new Analysis(program, { ...DEFAULT_CONFIGURATION, ...configuration }, host);
  analysis.run();
  return analysis.findings().findings.filter(({ rule }) => rule === 'not-executed');
};

/** More moves than allowed; the marker stands under the first line of the chunk that is no longer executed. */
const tooLong = [
  'G0 X0.',
  ...Array.from({ length: 600 }, (_, i) => (i === 511 ? 'X2.\n^^^' : `X${1 + (i % 2)}.`)),
  'M30',
].join('\n');

const limited = (limits: Partial<RunLimits>) => ({ limits: { ...DEFAULT_CONFIGURATION.limits, ...limits } });

testRule('not-executed', {
  quiet: [
    { program: 'G0 X1.\nM30' },
    { program: 'O1\nM98 P100\nG65 P100 A1.\nGOTO 10\nN10 M30\nO100\n#3=#1\nM99' },
    { program: '#1=0\nWHILE [#1 LT 3] DO1\n#1=#1+1\nEND1\nM30' },
    // A value that a mistake left unknown is told as that mistake.
    { program: 'IF [SQRT[-1] GT 2] GOTO 10\nN10 M30' },
    // A macro alone, without the values of its caller.
    { program: 'O9014\nIF [#26 EQ #0] GOTO 900\nG0 X#24\nM99\nN900 #3000=1 (Z MISSING)\nM99' },
    // A stop with a message, and an alarm that is not raised.
    { program: '#3006=1 (TURN THE PART)\nM30' },
    { program: '#1=1\nIF [#1 EQ #0] THEN #3000=1 (NO DEPTH)\nM30' },
    { program: '#3000=1\nM2', profile: 'rs274ngc' },
  ],
  reports: [
    {
      configuration: { limits: { ...DEFAULT_CONFIGURATION.limits, moves: 100 } },
      program: tooLong,
      findings: [{ message: 'limit', says: ['100'], severity: 'warning' }],
    },
    {
      configuration: limited({ steps: 2000 }),
      program: `
#1=0
WHILE [#1 LT 6000] DO1
#1=#1+1
^^^^^^^
END1
M30`,
      findings: [
        { message: 'cut-off-in-loop', says: ['2000 blocks', 'line 2', '#1 = ', 'limits.steps'], severity: 'warning' },
      ],
    },
    {
      program: `
#1=0
IF [#1 EQ 0] THEN #3000=12 (NO DEPTH GIVEN)
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
G0 X5.
M30`,
      findings: [{ message: 'alarm-text', says: ['12', 'NO DEPTH GIVEN'], severity: 'warning' }],
    },
    {
      program: `
 #3000=7
 ^^^^^^^
M30`,
      findings: [{ message: 'alarm', says: ['7'], severity: 'warning' }],
    },
    {
      program: `
IF [#1000 EQ 1] GOTO 10
^^^^^^^^^^^^^^^^^^^^^^^
N10 WHILE [#1000 EQ 1] DO1
    ^^^^^^^^^^^^^^^^^^^^^^
END1
GOTO #1000
^^^^^^^^^^
M98 P#1000
^^^^^^^^^^
IF [#1000 EQ 2] THEN #1=5.
^^^^^^^^^^^^^^^^^^^^^^^^^^
M30`,
      findings: [
        { message: 'condition' },
        { message: 'loop-condition' },
        { message: 'jump-number' },
        { message: 'call-number' },
        { message: 'then-condition' },
      ],
    },
    {
      // What the operator set decides which part is run.
      program: `
IF [#500 EQ 1] GOTO 10
^^^^^^^^^^^^^^^^^^^^^^
 #3000=1 (WHICH PART)
^^^^^^^^^^^^^^^^^^^^^
IF [#2001 LT 50.] THEN #3000=2 (SHORT)
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
N10 G0 X1.
M30`,
      findings: [{ message: 'condition' }, { message: 'alarm-passed' }, { message: 'alarm-condition' }],
    },
    {
      program: `
N1 G0 X1.
^^^^^^^^^
M0
GOTO 1`,
      findings: [{ message: 'rounds' }],
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
  // A run that is cut off outside any loop, and a file that is still to come: see the tests below.
  raisedElsewhere: ['cut-off', 'loading'],
});

describe('not-executed', () => {
  it('tells where a run without loops is cut off', () => {
    const calls = Array.from({ length: 40 }, () => 'M98 P100').join('\n');
    const found = toldOf(`O1\n${calls}\nM30\nO100\nG0 X1.\nM99`, limited({ steps: 50 }));
    expect(found).toHaveLength(1);
    expect(found[0].message).toContain('after 50 blocks');
    expect(found[0].severity).toBe('warning');
  });

  it('tells that a subprogram’s file is still being read', () => {
    const found = toldOf('O1\nM98 P100\nM30', {}, { lookup: () => 'loading' });
    expect(found.map(({ line, message }) => [line, message.slice(0, 26)])).toEqual([[1, 'O100 is still being read: ']]);
  });
});
