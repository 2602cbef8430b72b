import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const head = (more: Partial<TapHolder> = { ratio: 1.75 }): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread: 'M6', holder: { kind: 'reversing', ...more } }],
});
const IN = 'T1 M6\nS500 M3\nG0 X0 Y0 Z5.\nG1 Z-12. F500\n';
const out = (block: string): string => `${IN}${block}\nM30`;

testRule('tap-retract-too-slow', {
  quiet: [
    { program: out('G1 Z8. F875'), configuration: head() },
    // Rounded down, and 5 % less.
    { program: out('G1 Z8. F832'), configuration: head() },
    { program: out('G1 Z8. F500'), configuration: head({ ratio: 1 }) },
    // The ratio is not given, and none is taken.
    { program: out('G1 Z8. F500'), configuration: head({}) },
    { program: out('G1 Z8. F500') },
    { program: out('G1 Z8. F875').replace('F500', 'F490'), configuration: head() },
    // In inches and by the turn.
    {
      program: 'G20 G95\nT1 M6\nS500 M3\nG0 X0 Y0 Z.2\nG1 Z-.5 F.03937\nZ.4 F.0689\nM30',
      configuration: head(),
    },
    // G84 is another mistake.
    { program: 'T1 M6\nS500 M3\nG84 X0 Y0 Z-12. R5. F500\nG80\nM30', configuration: head() },
    // Out at rapid as well.
    { program: out('G0 Z8.'), configuration: head() },
  ],
  reports: [
    {
      configuration: head(),
      program: `${IN}G1 Z8. F600
       ^^^^
M30`,
      findings: [
        {
          message: 'slow',
          says: ['F600', 'S500 × pitch 1 × its ratio 1.75 is F875'],
          fixes: [{ title: 'Write F875.', output: out('G1 Z8. F875.') }],
        },
      ],
    },
    {
      // As fast out as in: often runs. The block has no F of its own.
      configuration: head(),
      program: `${IN}Z8.
^^^
M30`,
      findings: [
        {
          message: 'equal',
          severity: 'hint',
          says: ['F500', '1.75', 'F875'],
          fixes: [{ title: 'Write F875.', output: out('Z8. F875.') }],
        },
      ],
    },
    {
      configuration: head({ ratio: 2 }),
      program: `
T1 M6
S500 M3
G85 X0 Y0 Z-12. R8. F500
^^^
X10.
G80
M30`,
      findings: [{ message: 'equal', severity: 'hint', says: ['F1000'] }],
    },
  ],
});
