import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const head = (more: Partial<TapHolder>): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread: 'M6', holder: { kind: 'reversing', ...more } }],
});
const IN = 'T1 M6\nS500 M3\nG0 X0 Y0 Z5.\nG1 Z-12. F500\n';
const out = (block: string): string => `${IN}${block}\nM30`;

testRule('tap-retract-too-fast', {
  quiet: [
    { program: out('G1 Z8. F875'), configuration: head({ ratio: 1.75, float: 2 }) },
    // (1050 − 875) / 1050 · 12 = 2 mm: as much as the float.
    { program: out('G1 Z8. F1050'), configuration: head({ ratio: 1.75, float: 2 }) },
    { program: out('G1 Z8. F910'), configuration: head({ ratio: 1.75 }) },
    { program: out('G1 Z8. F3000'), configuration: head({ float: 2 }) },
    { program: out('G1 Z8. F3000') },
    { program: out('G1 Z8. F1200'), configuration: { tools: [{ number: 1, kind: 'drill', diameter: 5 }] } },
  ],
  reports: [
    {
      configuration: head({ ratio: 1.75, float: 2 }),
      program: `${IN}G1 Z8. F1200
       ^^^^^
M30`,
      findings: [
        {
          message: 'fast',
          says: ['pulls the tap 3.25 mm ahead of the head over 12 mm', 'float is 2', 'F875'],
          fixes: [{ title: 'Write F875.', output: out('G1 Z8. F875.') }],
        },
      ],
    },
    {
      configuration: head({ ratio: 1 }),
      program: `${IN}G1 Z8. F600
       ^^^^
M30`,
      findings: [
        {
          message: 'float-not-known',
          severity: 'warning',
          says: ['F500'],
          fixes: [{ title: 'Write F500.', output: out('G1 Z8. F500.') }],
        },
      ],
    },
    {
      // In inches: 24 / 39.4 / 68.9 a minute at S1000, 0.5 deep.
      configuration: head({ ratio: 1, float: 1 }),
      program: `
G20
T1 M6
S1000 M3
G0 X0 Y0 Z.2
G1 Z-.5 F39.3
Z.4 F60.
    ^^^^
M30`,
      findings: [
        {
          message: 'fast',
          says: ['pulls the tap 0.172 in ahead', 'over 0.5 in', 'float is 0.039'],
          fixes: [
            {
              title: 'Write F39.37',
              output: 'G20\nT1 M6\nS1000 M3\nG0 X0 Y0 Z.2\nG1 Z-.5 F39.3\nZ.4 F39.37\nM30',
            },
          ],
        },
      ],
    },
  ],
});
