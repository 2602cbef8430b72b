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
  ],
  reports: [
    {
      program: `G20\n${tapping('(1/4-20 UNC TAP)', 'S600', 'F25.', '^^^^')}`,
      findings: [
        {
          message: 'wrong',
          says: ['F25', 'S600', '0.0417 in a turn', 'pitch of 0.05 in (remark 1/4-20 UNC TAP)', 'F30.'],
          fixes: [{ title: 'Write F30.', output: `G20\n${tapping('(1/4-20 UNC TAP)', 'S600', 'F30.')}` }],
        },
      ],
    },
    {
      program: tapping('(TAP M6X1)', 'S500', 'F600', '^^^^'),
      findings: [
        {
          message: 'wrong',
          says: ['F600', 'S500', '1.2 mm', 'M6X1', 'pitch of 1 mm', 'F500.'],
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
      findings: [{ message: 'wrong', fixes: [{ title: 'Write F500.', output: tapping('', 'S500', 'F500.') }] }],
    },
    {
      // (500 − 400) / 500 · 12 = 2.4 mm.
      configuration: tap('M6', { kind: 'float', float: 2 }),
      program: tapping('', 'S500', 'F400', '^^^^'),
      findings: [
        {
          message: 'stroke-used-up',
          says: ['2.4 mm', '2 mm'],
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
          says: ['2.4 mm', '3 mm'],
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
          says: ['2.4 mm', '2 mm'],
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
          message: 'wrong',
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
