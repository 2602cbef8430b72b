import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const head = (more: Partial<TapHolder> = { freeUp: 5 }): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread: 'M6', holder: { kind: 'reversing', ...more } }],
});
const by = (out: string): string => `G54\nT1 M6\nS500 M3\nG0 X0 Y0 Z5.\nG1 Z-12. F500\n${out}G0 Z30.\nM30`;
const cycle = (r: string): string => `T1 M6\nS500 M3\nG0 Z30.\nG85 X0 Y0 Z-12. ${r} F500\nG80\nM30`;

testRule('tap-retract-too-short', {
  quiet: [
    { program: by('G1 Z5. F875\n'), configuration: head() },
    // In two steps.
    { program: by('G1 Z2. F875\nZ6.\n'), configuration: head() },
    { program: by('G1 Z2. F875\n'), configuration: head({ ratio: 1.75 }) },
    { program: by('G1 Z2. F875\n') },
    { program: cycle('R5.'), configuration: head() },
    // In a recess the hole begins where the tap comes from.
    { program: 'T1 M6\nS500 M3\nG0 X0 Y0 Z30.\nZ-10.\nG1 Z-22. F500\nZ-5.\nG0 Z30.\nM30', configuration: head() },
    // Out at rapid is another mistake.
    { program: by(''), configuration: head() },
  ],
  reports: [
    {
      configuration: head(),
      program: `
G54
T1 M6
S500 M3
G0 X0 Y0 Z5.
G1 Z-12. F500
G1 Z3. F875
   ^^^
G0 Z30.
M30`,
      findings: [{ message: 'short', says: ['ends at Z3', '5 above Z0', 'Z5 before'] }],
    },
    {
      configuration: head(),
      program: `
T1 M6
S500 M3
G0 Z30.
G85 X0 Y0 Z-12. R2. F500
                ^^^
G80
M30`,
      findings: [
        {
          message: 'cycle',
          says: ['R at Z2', 'Write R5'],
          fixes: [{ title: 'Write R5.', output: `${cycle('R5.')}` }],
        },
      ],
    },
    {
      // The blank stands 4 mm over the work's zero.
      configuration: { ...head(), stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [50, 50, 4] } },
      program: `
G54
T1 M6
S500 M3
G0 X9. Y9. Z8.
G1 Z-12. F500
Z8. F875
^^^
G0 Z30.
M30`,
      findings: [{ message: 'short', says: ['5 above Z4', 'Z9 before'] }],
    },
  ],
});
