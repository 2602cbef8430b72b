/** Whole programs and ranges: what is no program, what is touched in spacing only, what is too long. */
import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { changedText } from './formatEdits.ts';
import { type FormatRange, type Formatted, formatProgram, formatRange } from './formatProgram.ts';
import { DEFAULT_STYLE, type FormatStyle } from './formatStyle.ts';

const run = (text: string, configuration: Configuration = DEFAULT_CONFIGURATION) => {
  const analysis = new Analysis(text, configuration);
  analysis.runSlice(Number.POSITIVE_INFINITY);
  return { analysis, configuration };
};

const done = (steps: Generator<undefined, Formatted>): Formatted => {
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
};

const formatted = (text: string, style: Partial<FormatStyle> = {}, range?: FormatRange, most?: number): string => {
  const source = run(text);
  const whole = { ...DEFAULT_STYLE, ...style };
  const outcome = done(
    range === undefined
      ? formatProgram(source, whole, { start: 10, step: 10 })
      : formatRange(source, whole, range, most),
  );
  if ('refusal' in outcome) return outcome.refusal.why;
  return changedText(source.analysis, outcome.changes) + (outcome.note ?? '');
};

describe('a whole program', () => {
  it('keeps its line ends, and what stands behind its end', () => {
    expect(formatted('%\r\ng0x1.\r\nm30\r\nby  hand,x1y2\r\n%\r\nmore  notes\r\n')).toBe(
      '%\r\nG0 X1.\r\nM30\r\nby  hand,x1y2\r\n%\r\nmore  notes\r\n',
    );
    expect(formatted('g0x1.\rm30')).toBe('G0 X1.\rM30');
  });

  it('goes on behind its end where a jump leads there, or another program begins', () => {
    expect(formatted('#1=1\nif[#1eq2]goto9\nm30\nn9g0x1.\nm30\nx  notes\n')).toBe(
      '#1=1\nIF[#1EQ2]GOTO9\nM30\nN9 G0 X1.\nM30\nx  notes\n',
    );
    expect(formatted('o1\nm98p2\nm30\no2\ng91g0x1.\nm99\n')).toBe('O1\nM98 P2\nM30\nO2\nG91 G0 X1.\nM99\n');
  });

  it('with an error in a block keeps the numbers of that block', () => {
    const text = 'G21 G90 G17\nG0 X0.00 Y0.00 Z0.\ng1x1.00f100.\nG2 X9.00 Y0.00 I2.00 J0.\nM30\n';
    expect(formatted(text, { trailingZeros: 'trim' })).toBe(
      'G21 G90 G17\nG0 X0. Y0. Z0.\nG1 X1. F100.\nG2 X9.00 Y0.00 I2.00 J0.\nM30\n',
    );
  });

  it('gets its block numbers too where the style wants them, formatted like the rest', () => {
    const style = { sequenceNumbers: 'add', letterCase: 'lower' } as const;
    expect(formatted('N3 G0X1.\nGOTO 3\nM30\n', style)).toBe('n10 g0 x1.\nn20 goto 10\nn30 m30\n');
  });

  it('of more than 300,000 lines is not formatted at once', () => {
    expect(formatted('g0x1.\n'.repeat(300_000))).toBe(
      'The program has 300,001 lines, and more than 300,000 are not formatted at once. Select some lines and format the selection.',
    );
  });
});

describe('a range', () => {
  it('of a long program is formatted in spacing and letters only, and that is said', () => {
    const text = 'g0x1.00\ng0x2.00\nx3.00 f100. g1\nM30\n';
    const style = { trailingZeros: 'trim', wordOrder: 'sort' } as const;
    const range = { firstLine: 1, lastLine: 2 };
    expect(formatted(text, style, range)).toBe('g0x1.00\nG0 X2.\nG1 X3. F100.\nM30\n');
    expect(formatted(text, {}, range, 2)).toBe('g0x1.00\nG0 X2.00\nX3.00 F100. G1\nM30\n');
    expect(formatted(text, style, { firstLine: 2, lastLine: 2 }, 2)).toBe(
      `g0x1.00\ng0x2.00\nX3.00 F100. G1\nM30\nOnly spacing and letters were changed: in a program of more than 2 lines nothing else is.`,
    );
  });
});
