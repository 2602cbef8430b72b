import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const held = (kind: TapHolder['kind'], thread = 'M6', more: { hand?: 'left' } = {}): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread, holder: { kind }, ...more }],
});
const cycle = (code: string, spindle: string): string =>
  `T1 M6\nS500 ${spindle}\n${code} X0 Y0 Z-12. R5. F500\nG80\nM30`;

testRule('tap-spindle-direction', {
  quiet: [
    { program: cycle('G84', 'M3'), configuration: held('float') },
    { program: cycle('G74', 'M4'), configuration: held('float', 'M6 LH') },
    { program: cycle('G74', 'M4'), configuration: held('float', 'M6', { hand: 'left' }) },
    { program: cycle('G85', 'M3'), configuration: held('reversing') },
    // Synchronised tapping brings its own direction, and a holder that is not known may be one.
    { program: cycle('G74', 'M3'), configuration: held('synchronised') },
    { program: cycle('G74', 'M3') },
    // The spindle stands: another rule speaks of that.
    { program: cycle('G84', 'M5'), configuration: held('float') },
    // Out of the hole it turns the other way.
    {
      program: 'T1 M6\nS500 M3\nG0 X0 Y0 Z5.\nG1 Z-12. F500\nM4\nG1 Z5.\nM30',
      configuration: held('float'),
    },
    { program: cycle('G84', 'M3').replace('T1 M6', 'T1 M6 (TAP M6X1)'), configuration: { holder: 'float' } },
  ],
  reports: [
    {
      configuration: held('float'),
      program: `
T1 M6
S500 M3
G98 G74 X0 Y0 Z-12. R5. F500
    ^^^
X5.
G80
M30`,
      findings: [
        {
          message: 'cycle',
          says: ['G74 is for a left-hand thread, and this tap is right-hand (M6X1', 'G84', 'M3'],
          fixes: [
            {
              title: 'Write G84',
              output: 'T1 M6\nS500 M3\nG98 G84 X0 Y0 Z-12. R5. F500\nX5.\nG80\nM30',
            },
          ],
        },
      ],
    },
    {
      configuration: held('float', 'M6 LH'),
      program: `
T1 M6
S500 M3
G84 X0 Y0 Z-12. R5. F500
^^^
G80
M30`,
      findings: [{ message: 'cycle', says: ['left-hand (M6X1 LH', 'G74', 'M4'] }],
    },
    {
      configuration: held('float'),
      program: `
T1 M6
S500 M4
G84 X0 Y0 Z-12. R5. F500
^^^
G80
M30`,
      findings: [{ message: 'spindle', says: ['M4', 'right-hand', 'M3'] }],
    },
    {
      configuration: held('reversing'),
      program: `
T1 M6
S500 M4
G0 X0 Y0 Z5.
G1 Z-12. F500
^^^^^^^^^^^^^
Z8. F875
M30`,
      findings: [{ message: 'spindle', says: ['M4', 'M6X1'] }],
    },
    {
      configuration: { holder: 'reversing' },
      program: `
T1 M6 (TAP M8 LH)
S400 M3
G85 X0 Y0 Z-12. R8. F500
^^^
G80
M30`,
      findings: [{ message: 'spindle', says: ['left-hand (M8X1.25 LH, remark TAP M8 LH', 'M4'] }],
    },
  ],
});
