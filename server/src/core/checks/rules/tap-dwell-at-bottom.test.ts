import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const held = (kind: TapHolder['kind']): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread: 'M6', holder: { kind } }],
});
const by = (between: string, before = ''): string =>
  `T1 M6\nS500 M3\nG0 X0 Y0 Z5.\n${before}G1 Z-12. F500\n${between}G1 Z8. F875\nG4 P1.\nG0 Z30.\nM30`;

testRule('tap-dwell-at-bottom', {
  quiet: [
    { program: by(''), configuration: held('reversing') },
    { program: by('', 'G4 P2.\n'), configuration: held('reversing') },
    { program: by('G4 P0.5\nM4\n'), configuration: held('float') },
    { program: by('G4 P0.5\n') },
    { program: 'T1 M6\nS500 M3\nG85 X0 Y0 Z-12. R8. F500\nG80\nM30', configuration: held('reversing') },
    { program: 'T1 M6\nS500 M3\nG89 X0 Y0 Z-12. R8. P0 F500\nG80\nM30', configuration: held('reversing') },
    { program: 'T1 M6\nS500 M3\nG84 X0 Y0 Z-12. R8. P500 F500\nG80\nM30', configuration: held('float') },
    { program: 'T1 M6\nS500 M3\nG82 X0 Y0 Z-12. R8. P500 F500\nG80\nM30', configuration: held('reversing') },
  ],
  reports: [
    {
      configuration: held('reversing'),
      program: `
T1 M6
S500 M3
G0 X0 Y0 Z5.
G1 Z-12. F500
N40 G4 P0.5
    ^^
Z8. F875
M30`,
      findings: [{ message: 'by-hand', says: ['0.5 s', 'M6X1'] }],
    },
    {
      configuration: { holder: 'reversing' },
      program: `
T1 M6 (TAP M6X1)
S500 M3
G89 X0 Y0 Z-12. R8. P500 F500
                    ^^^^
G80
M30`,
      findings: [
        {
          message: 'cycle',
          says: ['G89', '0.5 s', 'holder assumed'],
          fixes: [
            {
              title: 'Write G85 without P',
              output: 'T1 M6 (TAP M6X1)\nS500 M3\nG85 X0 Y0 Z-12. R8.  F500\nG80\nM30',
            },
          ],
        },
      ],
    },
  ],
});
