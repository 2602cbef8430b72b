/** Block numbers: added, counted anew, taken away, with all that leads to them. */
import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { type ControlProfile, PROFILES } from '../machine/profile.ts';
import { changedText } from './formatEdits.ts';
import { type Renumbering, renumber } from './renumber.ts';

interface Options {
  readonly how?: Renumbering;
  readonly start?: number;
  readonly step?: number;
  readonly profile?: Partial<ControlProfile>;
  readonly files?: Readonly<Record<number, string>>;
}

const outcome = (
  text: string,
  { how = 'renumber', start = 10, step = 10, profile, files = {} }: Options = {},
): string => {
  const configuration = { ...DEFAULT_CONFIGURATION, profile: { ...PROFILES.iso, ...profile } };
  const host = {
    lookup: (number: number) => (files[number] === undefined ? 'absent' : { text: files[number] }),
  } as const;
  const analysis = new Analysis(text, configuration, host);
  analysis.run();
  const steps = renumber({ analysis, configuration, host }, how, { start, step });
  let result = steps.next();
  while (!result.done) result = steps.next();
  return 'refusal' in result.value ? result.value.refusal.why : changedText(analysis, result.value.changes);
};

const LOOP = `O1 (ROWS)
N1 #1=0
N3 G0 X#1
#1=#1+1.
/N4 G1 Y1. F100
IF [#1 LT 5] GOTO 3
GOTO 7 (ON)
N5 M0
N7 M30
`;

describe('numbers counted anew', () => {
  it('take jumps along, and leave blocks without a number', () => {
    expect(outcome(LOOP)).toBe(`O1 (ROWS)
N10 #1=0
N20 G0 X#1
#1=#1+1.
/N30 G1 Y1. F100
IF [#1 LT 5] GOTO 20
GOTO 50 (ON)
N40 M0
N50 M30
`);
  });

  it('are the same when it is done again', () => {
    const once = outcome(LOOP, { start: 100, step: 5 });
    expect(once).toContain('N100 #1=0');
    expect(outcome(once, { start: 100, step: 5 })).toBe(once);
  });

  it('keep noughts in front and line ends', () => {
    expect(outcome('N0001 G21\r\nN0002 G90\r\nN0003 M30\r\n')).toBe('N0010 G21\r\nN0020 G90\r\nN0030 M30\r\n');
  });

  it('begin again in each program, and take returns to a block of the caller along', () => {
    const text = `O1
N1 M98 P2
N2 G0 X9.
N3 M30
O2
N1 G0 X1.
N2 M99 P3
`;
    expect(outcome(text)).toBe(`O1
N10 M98 P2
N20 G0 X9.
N30 M30
O2
N10 G0 X1.
N20 M99 P30
`);
  });

  it('take calls of a block along where the control has them', () => {
    const text = 'N1 M97 P5\nN2 M30\nN5 G0 X1.\nN6 M99\n';
    expect(outcome(text, { profile: { localCallCode: 97 } })).toBe('N10 M97 P30\nN20 M30\nN30 G0 X1.\nN40 M99\n');
  });

  it('leave alignment blocks behind a colon, and never give their number twice', () => {
    const text = ':10 G0 X1.\nN1 X2.\nN2 M30\n';
    expect(outcome(text, { profile: { colon: 'alignment' } })).toBe(':10 G0 X1.\nN20 X2.\nN30 M30\n');
  });

  it('leave program numbers, remarks and notes behind the end', () => {
    const text = '%\nO7(N1)\nN1 M98 P100\nN2 M30\n%\nN3 of the notes\n';
    expect(outcome(text)).toBe('%\nO7(N1)\nN10 M98 P100\nN20 M30\n%\nN3 of the notes\n');
  });
});

describe('numbers added', () => {
  it('to every block, and to nothing else', () => {
    expect(outcome('%\nO1 (A)\n(SET UP)\n\nG0X1.\n/G1Y2.F100\n#1=2\nm30\n%\n', { how: 'add' })).toBe(
      '%\nO1 (A)\n(SET UP)\n\nN10G0X1.\n/N20G1Y2.F100\nN30#1=2\nn40m30\n%\n',
    );
    expect(outcome('G0 X1.\n/ G0 Y1.\nM30', { how: 'add', start: 1, step: 1 })).toBe('N1 G0 X1.\n/N2 G0 Y1.\nN3 M30');
  });
});

describe('numbers taken away', () => {
  it('but not those that something leads to', () => {
    expect(outcome(LOOP, { how: 'remove' })).toBe(`O1 (ROWS)
#1=0
N3 G0 X#1
#1=#1+1.
/G1 Y1. F100
IF [#1 LT 5] GOTO 3
GOTO 7 (ON)
M0
N7 M30
`);
  });
});

describe('nothing is changed, and it is said why', () => {
  it.each<[string, string, Options?]>([
    [
      'N1 #1=3\nN2 GOTO [#1]\nN3 M30',
      'Line 2 works out the block number that it leads to, and would miss it under another number.',
    ],
    ['N1 #1=3\nN2 GOTO #1\nN3 M30', 'Line 2 works out'],
    ['N1 G0 X1.\nGOTO 1 X2.O\nM30', 'Line 2 has a mistake in it, and leads to a block number'],
    ['N1 GOTO 500\nN2 M30', 'Line 1 leads to N500, which no block has. Put that right first.'],
    [
      'N1 G0 X1.\nN2 X2.\nN3 M30',
      'Line 2 would get N2000, and this control takes numbers up to N1999',
      { step: 1000, start: 1000, profile: { sequenceNumberMax: 1999 } },
    ],
    ['N1 G0 X#4114\nN2 M30', 'Line 1 reads the number of the block that runs.'],
    [
      'N1 M98 P50\nN2 G0 X1.\nN3 M30',
      'O50, called in line 1, comes back to a block number',
      { files: { 50: 'O50\nG0 X5.\nM99 P3\n' } },
    ],
    [
      'O1\nN1 M98 P3\nN5 G0 X1.\nM98 P2\nM30\nO2\nM98 P3\nG0 X3.\nN5 M99\nO3\nM99 P5\n',
      'Line 11 goes back to blocks of several programs',
    ],
  ])('%j', (text, why, options) => {
    expect(outcome(text, options)).toContain(why);
  });

  it('in programs of more than 300,000 lines', () => {
    expect(outcome('N1 G0\n'.repeat(300_000))).toContain('The program has 300,001 lines');
  });
});
