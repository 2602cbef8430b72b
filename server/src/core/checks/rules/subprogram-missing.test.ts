import { describe, expect, it } from 'vitest';
import { testRule } from '../../../../../tests/harness/ruleTester.ts';

import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';
import type { SubprogramHost } from '../flow/host.ts';

testRule('subprogram-missing', {
  quiet: [
    { program: 'O1\nM98 P100\nM30\nO100\nM99' },
    { program: 'O1\nG65 P100 A1.\nM30\nO100\nG0 X#1\nM99' },
    // Only the machine knows the number.
    { program: 'M98 P#5061\nM30' },
    { program: 'O1\nM98 P0030100\nM30\nO100\nM99', profile: 'iso-macro' },
    { program: '(M98 P100)\nM30' },
  ],
  reports: [
    {
      program: `
M98 P100 L2
^^^^^^^^^^^
M30`,
      findings: [{ message: 'missing', says: ['O100 is called', 'O100.nc'] }],
    },
    {
      program: `
#100=200
N5 M98 P#100
   ^^^^^^^^^
#100=#100+100
IF [#100 LT 400] GOTO 5
M30
O200
M99`,
      findings: [{ message: 'missing', says: ['O300'] }],
    },
    {
      // The machine maker's own, once for all.
      program: `
G65 P9501 Z5. F3000
^^^^^^^^^^^^^^^^^^^
G65 P9502 Z2. F3000
M98 P8999
^^^^^^^^^
M30`,
      findings: [
        { message: 'resident', severity: 'hint', says: ['O9501', 'in the control'] },
        { message: 'missing', says: ['O8999'] },
      ],
    },
    {
      program: `
G65 A1.
^^^^^^^
G66 P300 A1.
^^^^^^^^^^^^
X1.
G67
GOTO 9
M98 P400
^^^^^^^^
N9 M30`,
      findings: [
        { message: 'no-number' },
        { message: 'missing', says: ['O300'] },
        { message: 'missing', says: ['O400'] },
      ],
    },
  ],
  // A file that calls on: see the test below.
  raisedElsewhere: ['missing-inside'],
});

describe('subprogram-missing in another file', () => {
  it('is told at the call, once', () => {
    const host = {
      lookup: (number: number) => (number === 100 ? { text: 'O100\nG0 X1.\n G0 X2. M98 P200\nM99' } : 'absent'),
    };
    const analysis = new Analysis('O1\n M98 P100 L3\nM30', DEFAULT_CONFIGURATION, host as SubprogramHost);
    analysis.run();
    const found = analysis.findings().findings.filter(({ rule }) => rule === 'subprogram-missing');
    expect(found).toMatchObject([{ line: 1, column: 1, endColumn: 12 }]);
    expect(found[0].message).toContain('calls O200');
  });
});
