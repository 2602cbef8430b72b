import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

/** A tapped hole 12 mm deep, with a mark under F where one is given. */
const tapping = (remark: string, speed: string, feed: string, mark = ''): string => {
  const cycle = 'G84 X0 Y0 Z-12. R3. ';
  const marked = mark === '' ? '' : `\n${' '.repeat(cycle.length)}${mark}`;
  return `T1 M6 ${remark}\n${speed} M3\n${cycle}${feed}${marked}\nG80\nM30`;
};

const tap = (thread: string, holder: TapHolder): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread, holder }],
});

/** Takes 0.5 s to stand from S1000, 4.17 turns. */
const slowSpindle = { axes: {}, workOffsets: {}, topSpeed: 8000, spindleRunUp: 4 } as const;

const byHand = (feed: string, remark: string, mark = ''): string =>
  `T1 M6 ${remark}\nS500 M3\nG0 X0 Y0 Z5.\nG1 Z-12. ${feed}${mark === '' ? '' : `\n${' '.repeat(9)}${mark}`}\nM4\nG1 Z5.\nM30`;

testRule('tap-feed-mismatch', {
  quiet: [
    { program: tapping('(TAP M6X1)', 'S500', 'F500') },
    { program: tapping('(TAP M6X1)', 'S500', 'F496') },
    { program: tapping('(TAP)', 'S500', 'F500') },
    { program: tapping('(1/4-20 UNC TAP)', 'S500', 'F635') },
    { program: `G20\n${tapping('(1/4-20 UNC TAP)', 'S500', 'F25.')}` },
    { program: `G95\n${tapping('(TAP M10X1.25)', 'S500', 'F1.25')}` },
    // 700 × 1.411111 = 987.7777: rounded in its last digit.
    {
      program: tapping('(TAP 5/16-18 UNC)', 'S700', 'F987.8'),
      configuration: tap('5/16-18 UNC', { kind: 'synchronised' }),
    },
    // Short by 5 % over 12 mm: 0.6 mm of a stroke of 8 mm.
    { program: tapping('', 'S500', 'F475'), configuration: tap('M6', { kind: 'float', float: 8 }) },
    { program: tapping('', 'S500', 'F400'), configuration: tap('M6', { kind: 'reversing', selfFeed: 3 }) },
    // A giving holder with a stroke that nobody measured: a little less is usual, and 1 % more still goes.
    { program: tapping('', 'S500', 'F480'), configuration: tap('M6', { kind: 'float' }) },
    { program: tapping('', 'S500', 'F505'), configuration: tap('M6', { kind: 'float', float: 8 }) },
    // 0.3 mm by the feed and 4.17 turns of run-on: 4.47 of 8 mm.
    {
      program: tapping('', 'S1000', 'F975'),
      configuration: { ...tap('M6', { kind: 'float', float: 8 }), machine: slowSpindle },
    },
    // Run-up without the top speed says nothing of the run-on.
    {
      program: tapping('', 'S2000', 'F2000'),
      configuration: {
        ...tap('M6', { kind: 'float', float: 5 }),
        machine: { axes: {}, workOffsets: {}, spindleRunUp: 2 },
      },
    },
    // By hand, with a turn of the spindle between in and out; and a way near at feed above the work.
    { program: byHand('F500', '(TAP M6X1)') },
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG0 X0 Y0 Z30.\nG1 Z5. F2000\nG84 Z-12. R5. F500\nG80\nM30' },
    // A drill is fed as it likes.
    { program: byHand('F300', '(DRILL D5)') },
    // G33 has a lead of its own.
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG0 X0 Y0 Z5.\nG33 Z-12. F1.\nM4\nG33 Z5.\nM30' },
  ],
  reports: [
    {
      // S stands alone between two holes; the third hole has the same words as the second.
      program: `
T1 M6 (TAP M6X1)
S500 M3
G84 X0 Y0 Z-12. R3. F500
S800
X10.
^^^^
X20.
G80
M30`,
      findings: [{ message: 'wrong', says: ['F500 at S800 with pitch 1 needs F800'] }],
    },
    {
      // The cycle is called with L0, and the places stand in a subprogram.
      program: `
T1 M6 (TAP M6X1)
S500 M3
G84 Z-12. R3. F600 L0
M98 P7
G80
M30
O7
X10. Y10.
^^^^^^^^^
X20.
M99`,
      findings: [{ message: 'wrong', says: ['F600 at S500'] }],
    },
    {
      program: `G20\n${tapping('(1/4-20 UNC TAP)', 'S600', 'F25.', '^^^^')}`,
      findings: [
        {
          message: 'wrong',
          says: ['F25 at S600 with pitch 0.05 needs F30 (1/4-20 UNC, remark 1/4-20 UNC TAP)', '0.0417 in a turn'],
          fixes: [{ title: 'Write F30.', output: `G20\n${tapping('(1/4-20 UNC TAP)', 'S600', 'F30.')}` }],
        },
      ],
    },
    {
      program: tapping('(TAP M6X1)', 'S500', 'F600', '^^^^'),
      findings: [
        {
          message: 'wrong',
          says: ['F600 at S500 with pitch 1 needs F500 (M6X1, remark TAP M6X1)', '1.2 mm a turn'],
          fixes: [{ title: 'Write F500.', output: tapping('(TAP M6X1)', 'S500', 'F500.') }],
        },
      ],
    },
    {
      program: tapping('(TAP M6X1)', 'S500', 'F480', '^^^^'),
      findings: [
        {
          message: 'off',
          severity: 'warning',
          fixes: [{ title: 'Write F500.', output: tapping('(TAP M6X1)', 'S500', 'F500.') }],
        },
      ],
    },
    {
      // 0.5 % over 12 mm adds up to 0.06 mm, more than 0.05 of the pitch.
      configuration: tap('M6', { kind: 'synchronised' }),
      program: tapping('', 'S500', 'F497.5', '^^^^^^'),
      findings: [
        {
          message: 'held-back',
          says: ['held back 0.06 mm over 12 mm'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      configuration: tap('M6', { kind: 'synchronised' }),
      program: tapping('', 'S500', 'F420', '^^^^'),
      findings: [
        {
          message: 'held-back',
          says: [
            'F420 at S500 with pitch 1 needs F500 (M6X1, tool 1 in the tool table): in a synchronised holder the tap would be held back 1.92 mm over 12 mm. Write F500.',
          ],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      configuration: tap('M6', { kind: 'synchronised' }),
      program: tapping('', 'S500', 'F520', '^^^^'),
      findings: [
        {
          message: 'pushed-on',
          says: ['pushed on by 0.48 mm over 12 mm. Write F500.'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      configuration: tap('M6', { kind: 'float', float: 8 }),
      program: tapping('', 'S500', 'F510', '^^^^'),
      findings: [
        {
          message: 'compressed',
          says: ['over 12 mm', 'pressed together by 0.24 mm'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      // 4.17 turns of run-on for 4 mm of float, at the right feed.
      configuration: { ...tap('M6', { kind: 'float', float: 4 }), machine: slowSpindle },
      program: tapping('', 'S1000', 'F1000', '^^^^^'),
      findings: [{ message: 'run-on', severity: 'warning', says: ['At S1000', '4.17 mm', 'the float has 4'] }],
    },
    {
      // 2.4 mm by the feed and 1.04 by the run-on.
      configuration: { ...tap('M6', { kind: 'float', float: 3 }), machine: slowSpindle },
      program: tapping('', 'S500', 'F400', '^^^^'),
      findings: [
        {
          message: 'stroke-used-up',
          says: ['drawn out 3.44 mm (1.04 of it by spindle run-on), and it has 3'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      program: byHand('F400', '(TAP M6X1)', '^^^^'),
      findings: [
        { message: 'wrong', says: ['F500'], fixes: [{ title: 'Write F500.', output: byHand('F500.', '(TAP M6X1)') }] },
      ],
    },
    {
      // A self-reversing head by hand: 12 mm at 0.7 of the pitch.
      configuration: tap('M6', { kind: 'reversing', selfFeed: 3 }),
      program: `
T1 M6
S500 M3
G0 X0 Y0 Z5.
G1 Z-12. F350
         ^^^^
Z5. F600
M30`,
      findings: [
        {
          message: 'lets-go-early',
          says: ['3.6 mm ahead', 'lets go after 3'],
          fixes: [{ title: 'Write F500.', output: 'T1 M6\nS500 M3\nG0 X0 Y0 Z5.\nG1 Z-12. F500.\nZ5. F600\nM30' }],
        },
      ],
    },
    {
      // (500 − 400) / 500 · 12 = 2.4 mm.
      configuration: tap('M6', { kind: 'float', float: 2 }),
      program: tapping('', 'S500', 'F400', '^^^^'),
      findings: [
        {
          message: 'stroke-used-up',
          says: ['over 12 mm the float is drawn out 2.4 mm, and it has 2'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      configuration: tap('M6', { kind: 'float', float: 3 }),
      program: tapping('', 'S500', 'F400', '^^^^'),
      findings: [
        {
          message: 'stroke-nearly-used-up',
          severity: 'warning',
          says: ['drawn out 2.4 mm, more than two thirds of its 3'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }],
        },
      ],
    },
    {
      configuration: tap('M6', { kind: 'reversing', selfFeed: 2 }),
      program: tapping('', 'S500', 'F400', '^^^^').replace('G84', 'G85'),
      findings: [
        {
          message: 'lets-go-early',
          says: ['2.4 mm ahead', 'after 2'],
          fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.').replace('G84', 'G85') }],
        },
      ],
    },
    {
      // The shop's assumed holder makes exact what is a warning where the holder is not known.
      configuration: { holder: 'synchronised' },
      program: tapping('(TAP M6X1)', 'S500', 'F490', '^^^^'),
      findings: [
        {
          message: 'held-back',
          says: ['holder assumed in blockwright.json'],
          severity: 'error',
          fixes: [{ title: 'Write F500.', output: tapping('(TAP M6X1)', 'S500', 'F500.') }],
        },
      ],
    },
    {
      program: tapping('(TAP)', 'S500', 'F550', '^^^^'),
      findings: [{ message: 'no-standard', severity: 'warning', says: ['1.1 mm a turn', 'M6', 'F500'] }],
    },
  ],
});
