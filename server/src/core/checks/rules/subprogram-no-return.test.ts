import { describe, expect, it } from 'vitest';
import { testRule } from '../../../../../tests/harness/ruleTester.ts';

import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';

testRule('subprogram-no-return', {
  quiet: [
    { program: 'O1\nM98 P100\nM30\nO100\nG0 X1.\nM99' },
    { program: 'O1\nM98 P100\nM30\nO100\nG0 X1.\nM17' },
    { program: 'O1\nM98 P100\nM30\nO100\nN10 IF [#501 EQ 1] GOTO 20\nG0 X1.\nN20 M99' },
    // Not called: a program of its own.
    { program: 'O1\nG0 X1.\nM30\nO100\nG0 X1.\nM30' },
    // Everything is over with the called program anyway.
    { program: 'O1\nM98 P100\nM30\nO100\nM5\nM30' },
  ],
  reports: [
    {
      program: `
O1
M98 P100
G0 X5.
M30
O100 (SLOT)
^^^^^^^^^^^
G0 X1.
%`,
      findings: [
        {
          message: 'no-return',
          says: ['O100', 'line 2'],
          fixes: [
            {
              title: 'Write M99 as the last block of O100',
              output: 'O1\nM98 P100\nG0 X5.\nM30\nO100 (SLOT)\nG0 X1.\nM99\n%',
            },
          ],
        },
      ],
    },
    {
      program: `
O1
M98 P100
G0 X5.
M30
O100
G0 X1.
 M30
 ^^^`,
      findings: [{ message: 'ends-all', says: ['O100', 'line 2', 'M30'] }],
    },
    {
      // M99 is there, and jumped over.
      program: `
O1
M98 P100
^^^^^^^^
G0 X5.
M30
O100
GOTO 20
M99
N20 G0 X1.`,
      findings: [{ message: 'runs-out' }],
    },
  ],
});

describe('subprogram-no-return in another file', () => {
  it('is told at the call', () => {
    const analysis = new Analysis('O1\nM98 P100\nM30', DEFAULT_CONFIGURATION, { lookup: () => ({ text: 'G0 X1.' }) });
    analysis.run();
    const found = analysis.findings().findings.filter(({ rule }) => rule === 'subprogram-no-return');
    expect(found.map(({ line }) => line)).toEqual([1]);
  });
});
