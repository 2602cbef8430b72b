import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { PROFILES } from '../../machine/profile.ts';

const run = (remark: string, block: string, speed = 200): string =>
  `T6 M6 ${remark}\nS${speed} M3\nG0 X0 Y0 Z5.\n${block}\nG0 Z30.\nM30`;
const machine = { axes: {}, workOffsets: {}, topFeed: 1000 };

testRule('single-point-lead', {
  quiet: [
    { program: run('(SINGLE POINT THREAD M20X1.5)', 'G33 Z-20. F1.5') },
    { program: run('(THREAD M20X1.5 2 START)', 'G33 Z-20. F3.') },
    { program: run('(THREAD M20X1.5, DOUBLE START)', 'G33 Z-20. F3.') },
    { program: run('', 'G33 Z-20. F2.2') },
    // 8 threads an inch, rounded.
    { program: `G20\n${run('(THREADING TOOL 1-8 UNC)', 'G33 Z-1. F.125')}` },
    { program: `${run('(THREADING TOOL 1-8 UNC)', 'G33 Z-20. F3.175')}` },
    // Five threads of n · P.
    ...['M8:1.25', 'M10:1.5', 'M12:1.75', 'M16:2.', 'M24:3.'].map((pair) => {
      const [thread, lead] = pair.split(':');
      return { program: run(`(SINGLE POINT ${thread})`, `G33 Z-20. F${lead}`) };
    }),
    { program: run('(TAP M6X1)', 'G33 Z-12. F1.\nM4\nG33 Z5.') },
    { program: run('(BORING BAR)', 'G33 Z-20. F1.5', 600), configuration: { machine } },
    {
      program: run('(SINGLE POINT M20X1.5)', 'G33 Z-20. K1.5'),
      configuration: { profile: { ...PROFILES.iso, leadWord: 'K' } },
    },
    // The tap’s own cycle is judged by its feed.
    { program: run('(TAP M6X1)', 'G84 Z-12. R3. F150\nG80') },
  ],
  reports: [
    {
      program: run('(SINGLE POINT THREAD M20X1.5)', 'G33 Z-20. F1.25\n          ^^^^^\nG33 Z5.'),
      findings: [
        {
          message: 'not-the-pitch',
          says: ['1.25 mm', 'M20X1.5 has 1.5 (remark SINGLE POINT', 'Write F1.5, or correct the thread in the remark.'],
        },
      ],
    },
    {
      program: run('(THREAD M20X1.5 2 START)', 'G33 Z-20. F1.5\n          ^^^^'),
      findings: [{ message: 'not-the-pitch', says: ['with 2 starts has 3', 'F3'] }],
    },
    {
      // A tap has one start.
      configuration: { tools: [{ number: 6, kind: 'tap', thread: 'M8' }] },
      program: run('', 'G33 Z-12. F2.5\n          ^^^^\nM4\nG33 Z5.'),
      findings: [
        {
          message: 'not-the-pitch',
          says: [
            '2.5 mm',
            'M8X1.25',
            'tool 6 in the tool table',
            'F1.25, or write 2 START in the remark if it has 2 starts',
          ],
        },
      ],
    },
    {
      configuration: { tools: [{ number: 6, kind: 'boring-bar', thread: 'M30X2' }] },
      program: run('', 'G33 Z-12. F3.5\n          ^^^^'),
      findings: [{ message: 'not-the-pitch', says: ['M30X2', 'tool 6'] }],
    },
    {
      configuration: { machine },
      program: run('(SINGLE POINT THREAD M20X1.5)', 'G33 Z-20. F1.5\n          ^^^^', 800),
      findings: [{ message: 'over-top-feed', says: ['1.5 mm at S800', '1200', '1000', 'S666'] }],
    },
  ],
});
