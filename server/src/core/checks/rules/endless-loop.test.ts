import { describe, expect, it } from 'vitest';
import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';

const within = (steps: number) => ({ limits: { steps, depth: 32, moves: 5_000_000, seconds: 60 } });

testRule('endless-loop', {
  quiet: [
    { program: '#1=0\nWHILE [#1 LT 3000] DO1\n#1=#1+1\nEND1\nM30' },
    { program: 'N1 G0 X1.\nM99' },
    // Waits for something only the machine knows.
    { program: 'WHILE [#1000 EQ 0] DO1\nG4 P1.\nEND1\nM30' },
    { program: 'N1 G4 P1.\nIF [#1000 EQ 0] GOTO 1\nM30' },
    // Begins again behind a stop in each round.
    { program: 'N1 G0 X1.\nM0 (NEXT PART)\nGOTO 1' },
    // A long job that is cut off is no endless loop.
    { program: '#1=0\nWHILE [#1 LT 9000] DO1\n#1=#1+1\nEND1\nM30', configuration: within(10_000) },
    { program: '#1=0\nWHILE [1 EQ 1] DO1\n#1=#1+1\nIF [#1 GT 5] GOTO 9\nEND1\nN9 M30' },
  ],
  reports: [
    {
      program: `
#1=3
WHILE [#1 GT 2] DO1
^^^^^^^^^^^^^^^^^^^
G0 X1.
END1
M30`,
      findings: [{ message: 'repeats', says: ['in a pass before (#1 = 3)', 'as #1=#1+1 does'] }],
    },
    {
      program: `
WHILE [1 EQ 1] DO1
^^^^^^^^^^^^^^^^^^
G0 X1.
END1
M30`,
      findings: [{ message: 'repeats-always' }],
    },
    {
      // Two values in turn.
      program: `
#1=1
N5 G0 X#1
^^^^^^^^^
#1=-#1
IF [#1 LT 2] GOTO 5
M30`,
      findings: [{ message: 'repeats', says: ['#1 = '] }],
    },
    {
      program: `
#1=3
WHILE [#1 GT 2] DO1
^^^^^^^^^^^^^^^^^^^
#1=#1+1
END1
M30`,
      configuration: within(100_000),
      findings: [{ message: 'running', says: ['#1 = '] }],
    },
    {
      program: `
#1=3
WHILE [1 EQ 1] DO1
^^^^^^^^^^^^^^^^^^
#1=#1+1
END1
M30`,
      configuration: within(100_000),
      findings: [{ message: 'running-always' }],
    },
  ],
  // The loop of a program in another file: see the test below.
  raisedElsewhere: ['called'],
});

describe('endless-loop in another file', () => {
  it('is told at the call', () => {
    const host = { lookup: () => ({ text: 'O100\n#1=1\nWHILE [#1 EQ 1] DO1\nG91 G0 X0\nEND1\nM99' }) };
    const analysis = new Analysis('G0 X1.\nM98 P100\nM30', DEFAULT_CONFIGURATION, host);
    analysis.run();
    const { findings } = analysis.findings();
    expect(findings.map(({ rule, line }) => [rule, line])).toContainEqual(['endless-loop', 1]);
    expect(findings.find(({ rule }) => rule === 'endless-loop')?.message).toContain('called here');
  });
});
