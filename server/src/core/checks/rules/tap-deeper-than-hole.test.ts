import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const stock = { offset: 'G54', shape: 'box', min: [-50, -50, -24], max: [50, 50, 0] } as const;
const blind: Partial<Configuration> = { stock };
const HEAD = 'G21 G90 G54\n';
const drill = (way: string, remark = 'DRILL D5'): string =>
  `T1 M6 (${remark})\nS2000 M3\nG43 H1 Z30.\n${way}G80\nG0 Z30.\n`;
const tap = (z: string, more = '', remark = 'TAP M6X1'): string =>
  `T2 M6 (${remark})\nS500 M3\nG43 H2 Z30.\nG84 X1. Y1. ${z} R3. F500\n${more}G80\nG0 Z30.\nM30`;
const tapped = (z: string, mark: string): string => tap(z).replace('F500\n', `F500\n${' '.repeat(12)}${mark}\n`);
const D18 = drill('G83 X1. Y1. Z-18. R2. Q5. F200\n');

const held = (holder: TapHolder, more: Partial<Configuration> = blind): Partial<Configuration> => ({
  ...more,
  tools: [{ number: 2, kind: 'tap', thread: 'M6', holder }],
});

testRule('tap-deeper-than-hole', {
  quiet: [
    // The example of the rules page: tip at −18, full diameter to −16.5.
    { program: HEAD + D18 + tap('Z-15.'), configuration: blind },
    { program: HEAD + D18 + tap('Z-16.49'), configuration: blind },
    { program: HEAD + D18 + tap('Z-16.49') },
    // A flat-bottomed hole has its diameter down to the tip.
    { program: HEAD + drill('G81 X1. Y1. Z-16. R2. F100\n', 'END MILL D5') + tap('Z-16.'), configuration: blind },
    // A point of 140° is shorter.
    {
      program: HEAD + D18 + tap('Z-17.'),
      configuration: { ...blind, tools: [{ number: 1, kind: 'drill', diameter: 5, pointAngle: 140 }] },
    },
    // A drill of unknown diameter counts to its tip.
    { program: HEAD + drill('G81 X1. Y1. Z-18. R2. F200\n', 'DRILL') + tap('Z-17.5'), configuration: blind },
    // Through the blank.
    { program: HEAD + drill('G83 X1. Y1. Z-26. R2. Q5. F200\n') + tap('Z-28.'), configuration: blind },
    { program: HEAD + D18 + tap('Z-20.', '', 'TAP M6X1 THROUGH') },
    { program: HEAD + drill('G81 X1. Y1. Z-18. R2. F200\n', 'DRILL D5 THRU') + tap('Z-20.') },
    // Drilled on by hand, in two goes.
    {
      program: `${HEAD}${drill('G0 X1. Y1.\nZ2.\nG1 Z-10. F200\nG0 Z2.\nZ-9.\nG1 Z-22. F200\nG0 Z2.\n')}${tap('Z-18.')}`,
      configuration: blind,
    },
    // In a loop, and the tap in another.
    {
      program: `${HEAD}${drill('#1=0\nWHILE [#1 LT 3] DO1\nG81 X[1.+10.*#1] Y1. Z-20. R2. F200\n#1=#1+1\nEND1\n')}${tap('Z-16.', 'X11.\nX21.\n')}`,
      configuration: blind,
    },
    // A pilot hole above the core hole, and a counterbore, make it no less deep.
    {
      program: `${HEAD}${drill('G81 X1. Y1. Z-25. R2. F200\n', 'DRILL D3')}${D18}${drill('G81 X1. Y1. Z-6. R2. F90\n', 'END MILL D11')}${tap('Z-15.')}`,
      configuration: blind,
    },
    // A bore milled along a circle, 10.2 wide.
    {
      program: `${HEAD}${drill('G0 X3.1 Y1.\nZ2.\nG1 Z-20. F200\nG3 I-2.1\nG0 Z2.\n', 'END MILL D6')}${tap('Z-18.', '', 'TAP M12').replace('F500', 'F875')}`,
      configuration: blind,
    },
    // The other side of a part on a rotary table is another hole.
    { program: `${HEAD}G0 A0\n${D18}G0 A90.\n${tap('Z-22.')}`, configuration: blind },
    // So is another vice.
    { program: HEAD + D18 + tap('Z-22.').replace('G43', 'G55\nG43'), configuration: blind },
    // Nothing was drilled: another rule speaks of that.
    { program: HEAD + tap('Z-22.'), configuration: blind },
    // The head runs on by 2 mm: −14 − 2 is still above −16.5.
    {
      program: HEAD + D18 + tap('Z-14.').replaceAll('G84', 'G85'),
      configuration: held({ kind: 'reversing', selfFeed: 2 }),
    },
    { program: HEAD + D18 + tap('Z-16.'), configuration: held({ kind: 'synchronised', selfFeed: 3 }) },
  ],
  reports: [
    {
      configuration: blind,
      program: HEAD + D18 + tapped('Z-18.', '^^^^^'),
      findings: [
        {
          message: 'strikes',
          severity: 'error',
          // Whole: it is to fit a line of the list of problems.
          says: [
            'Tapped to Z-18, but tool 1 is full size only down to Z-16.498. Tap to Z-16.49 at most, or drill 1.51 mm deeper.',
          ],
        },
      ],
    },
    {
      // Past the drill's tip: a through hole, most likely.
      program: HEAD + D18 + tapped('Z-20.', '^^^^^'),
      findings: [
        { message: 'past', severity: 'hint', says: ['past the tip of tool 1 at Z-18', 'through hole', 'Z-16.49'] },
      ],
    },
    {
      // Neither blank nor remark: it may go through.
      program: HEAD + D18 + tapped('Z-17.', '^^^^^'),
      findings: [{ message: 'perhaps', severity: 'warning', says: ['THROUGH', 'Tap to Z-16.49'] }],
    },
    {
      program: HEAD + drill('G81 X1. Y1. Z-18. R2. F200\n', 'DRILL D5 BLIND') + tapped('Z-17.', '^^^^^'),
      findings: [{ message: 'strikes' }],
    },
    {
      // The tip breaks out, and its cone is still in the blank.
      configuration: blind,
      program: HEAD + drill('G81 X1. Y1. Z-24.5 R2. F200\n') + tapped('Z-25.', '^^^^^'),
      findings: [{ message: 'strikes' }],
    },
    {
      // The pilot is deep, the core hole is not.
      configuration: blind,
      program: HEAD + drill('G81 X1. Y1. Z-23. R2. F200\n', 'DRILL D3') + D18 + tapped('Z-20.', '^^^^^'),
      findings: [{ message: 'strikes', says: ['Z-16.498'] }],
    },
    {
      // Holes of one cycle: told once. Places that differ by a rounding are one.
      configuration: blind,
      program: `${HEAD}${drill('G81 X1.004 Y1. Z-18. R2. F200\nX11. Y.998\n')}${tapped('Z-18.', '^^^^^').replace('G80\nG0 Z30.\nM30', 'X11.\nG80\nG0 Z30.\nM30')}`,
      findings: [{ message: 'strikes' }],
    },
    {
      configuration: held({ kind: 'reversing', selfFeed: 3 }),
      program: HEAD + D18 + tapped('Z-14.', '^^^^^').replace('G84', 'G85'),
      findings: [{ message: 'strikes', says: ['Z-14 and 3 deeper by its holder', 'Tap to Z-13.49'] }],
    },
    {
      // 5 % of 16 mm are 0.8 mm that the tap is ahead.
      configuration: held({ kind: 'float', float: 8 }),
      program: HEAD + D18 + tapped('Z-16.', '^^^^^').replace('F500', 'F475'),
      findings: [{ message: 'strikes', says: ['deeper by its holder'] }],
    },
    {
      // By hand, and in a tapping cycle of a tool that nobody named.
      configuration: blind,
      program: `${HEAD}${D18}T2 M6 (TAP M6X1)
S500 M3
G43 H2 Z30.
X1. Y1.
Z3.
G1 Z-17. F500
   ^^^^^
M4
G1 Z3.
G0 Z30.
T5 M6
S500 M3
G43 H5 Z30.
G84 X1. Y1. Z-18. R3. F500
            ^^^^^
G80
M30`,
      findings: [{ message: 'strikes' }, { message: 'strikes' }],
    },
    {
      // In inches: 0.201 to −0.6, full to −0.54.
      configuration: blind,
      program: `
G20 G90 G54
T1 M6 (#7 DRILL)
S3000 M3
G43 H1 Z1.
G81 X0 Y0 Z-.6 R.1 F15.
G80
T2 M6 (1/4-20 UNC TAP)
S500 M3
G43 H2 Z1.
G84 X0 Y0 Z-.56 R.2 F25.
          ^^^^^
G80
M30`,
      findings: [{ message: 'strikes', says: ['Z-0.5396', 'Tap to Z-0.539 at most, or drill 0.021 in deeper'] }],
    },
  ],
});
