/** Lines whose numbers are in the other unit. */
import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { conversionOf, conversionTitle, convertUnits } from './convertUnits.ts';
import { changedText } from './formatEdits.ts';
import { tracedMoves } from './trace.ts';

const HEAD = 'G17 G21 G40 G80 G90 G94\nT1 M6 (DRILL D5)\nG54 S1000 M3\nG0 G43 H1 X0. Y0. Z50.\n';
const FIRST = HEAD.split('\n').length - 1;
const TAIL = '\nG0 Z50.\nM30\n';

const run = (text: string, profile = 'iso') => {
  const configuration = { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] };
  const analysis = new Analysis(text, configuration);
  analysis.run();
  return { analysis, configuration };
};

/** The converted lines, or why nothing is; `first` and `last` count from 0. */
const converted = (text: string, first: number, last: number, profile = 'iso'): string => {
  const source = run(text, profile);
  const conversion = conversionOf(source, { firstLine: first, lastLine: last });
  if (conversion === undefined) return 'nothing';
  if ('why' in conversion) return conversion.why;
  const steps = convertUnits(source, conversion);
  let step = steps.next();
  while (!step.done) step = steps.next();
  return 'refusal' in step.value ? step.value.refusal.why : changedText(source.analysis, step.value.changes);
};

/** The lines between a metric head and tail, pasted there in inch. */
const pasted = (lines: string, profile = 'iso'): string => {
  const text = converted(HEAD + lines + TAIL, FIRST, FIRST + lines.split('\n').length - 1, profile);
  return text.startsWith(HEAD) ? text.slice(HEAD.length, -TAIL.length) : text;
};

describe('lines from an inch program in a metric one', () => {
  it.each([
    ['G0 X1. Y-.5 Z.1', 'G0 X25.4 Y-12.7 Z2.54'],
    ['G1 X1.0000 F10.', 'G1 X25.4 F254.'],
    ['G1 X1 F10', 'G1 X25.4 F254'],
    ['G1 X2. F10.\nG2 X3. Y1. I0. J1.', 'G1 X50.8 F254.\nG2 X76.2 Y25.4 I0. J25.4'],
    ['G1 X2. F10.\nG2 X3. Y1. R1. S900', 'G1 X50.8 F254.\nG2 X76.2 Y25.4 R25.4 S900'],
    ['G98 G83 X1. Y1. Z-.5 R.1 Q.1 F5. K1', 'G98 G83 X25.4 Y25.4 Z-12.7 R2.54 Q2.54 F127. K1'],
    ['G98 G82 X1. Z-.5 R.1 P500 F5.\nG80', 'G98 G82 X25.4 Z-12.7 R2.54 P500 F127.\nG80'],
    ['G4 P1.5\nG4 X2.', 'G4 P1.5\nG4 X2.'],
    ['G95 G1 X1. F.004', 'G95 G1 X25.4 F.1016'],
    ['G93 G1 X1. F10.\nG94', 'G93 G1 X25.4 F10.\nG94'],
    ['G0 A90. X1.', 'G0 A90. X25.4'],
    ['G52 X1. Y0.\nG52 X0. Y0.', 'G52 X25.4 Y0.\nG52 X0. Y0.'],
    ['G68 X0. Y0. R30.\nG0 X1.\nG69', 'G68 X0. Y0. R30.\nG0 X25.4\nG69'],
    ['T2 M6 (.5 END MILL)\nG0 X1.', 'T2 M6 (.5IN END MILL)\nG0 X25.4'],
    ['T2 M6 (DRILL 5MM)\nG0 X1.', 'T2 M6 (DRILL 5MM)\nG0 X25.4'],
    ['G98 G83 X1. Z-.999 R.1 Q.333 F5.', 'G98 G83 X25.4 Z-25.375 R2.54 Q8.459 F127.'],
    ['(A 1/2 SLOT)\nG0 X.5 (IN)', '(A 1/2 SLOT)\nG0 X12.7 (IN)'],
  ])('%j becomes %j', (lines, wanted) => {
    expect(pasted(lines)).toBe(wanted);
  });

  it('that say their unit lose it', () => {
    expect(pasted('G20\nG1 X1. F10.')).toBe('G21\nG1 X25.4 F254.');
    expect(pasted('G70 G0 X1.')).toBe('G71 G0 X25.4');
  });

  it('by steps do not drift: what rounding takes is given to the next', () => {
    const steps = Array.from({ length: 40 }, () => 'X.0333').join('\n');
    const text = pasted(`G91\n${steps}\nG90`);
    const sum = [...text.matchAll(/X([\d.]+)/g)].reduce((total, [, value]) => total + Number(value), 0);
    expect(Math.abs(sum - 40 * 0.0333 * 25.4)).toBeLessThanOrEqual(0.0005);
  });

  it('that count increments stay whole', () => {
    const head = 'G21 G90\nG0 X0. Y0. Z50.\n';
    expect(converted(`${head}G0 X10000 Y-5000\nM30\n`, 2, 2, 'iso-macro')).toBe(`${head}G0 X25400 Y-12700\nM30\n`);
  });
});

describe('a whole program', () => {
  const metric =
    'O1\nG21 G90 G17\nT1 M6 (DRILL D5)\nG54 S800 M3\nG0 G43 H1 X10. Y20. Z5.\nG1 Z-1.5 F200.\nX25.4\nG0 Z50.\nM30\n';

  it('gets the other unit, and runs the same way', () => {
    const inch = converted(metric, 0, 8);
    expect(inch).toContain('G20 G90 G17');
    expect(inch).toContain('G1 Z-.0591 F7.874'.replace('-.', '-0.'));
    const ends = (text: string) => [...tracedMoves(run(text).analysis)].map(({ to }) => to);
    const [before, after] = [ends(metric), ends(inch)];
    expect(after.length).toBe(before.length);
    before.forEach((to, i) => {
      to.forEach((value, axis) => {
        if (!Number.isNaN(value)) expect(Math.abs(value - after[i][axis])).toBeLessThanOrEqual(0.00128);
      });
    });
  });

  it('is not converted by half', () => {
    expect(converted(metric, 0, 5)).toContain('Line 7, behind the selection, would');
  });
});

describe('titles', () => {
  const titleOf = (text: string, first: number, last: number): string | undefined => {
    const conversion = conversionOf(run(text), { firstLine: first, lastLine: last });
    return conversion === undefined || 'why' in conversion ? undefined : conversionTitle(conversion);
  };

  it('say from what to what', () => {
    expect(titleOf(`${HEAD}X1.\nX2.\nM30\n`, FIRST, FIRST + 1)).toBe('Convert these lines from inch to mm');
    expect(titleOf('G20\nX1.\nX2.\nM30\n', 1, 2)).toBe('Convert these lines from mm to inch');
    expect(titleOf('G20\nX1.\nX2.\nM30\n', 0, 2)).toBe('Convert these lines from inch to mm');
  });
});

describe('what only people can convert', () => {
  it.each([
    ['G0 X[#1*2.]', 'computes X'],
    ['#1=2.', 'works with variables'],
    ['IF [#1 EQ 0] GOTO 5', 'works with variables'],
    ['G65 P9010 A1.', 'calls a program'],
    ['M98 P100', 'calls a program'],
    ['G16\nX1. Y45.\nG15', 'polar'],
    ['G96 S200', 'G96'],
    ['G0 X1.O', 'mistake'],
    ['G20 X1.\nG21 X2.', 'changes the unit among the lines'],
  ])('%j', (lines, why) => {
    expect(pasted(lines)).toContain(why);
  });
});
