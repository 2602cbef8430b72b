/** What takes its time: in slices, kept with its lines, the same as all at once. */
import { describe, expect, it } from 'vitest';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { Analysis } from './analysis.ts';

const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] },
};

const pocketAt = (x: number): string => `G0 X${x}. Y10.\nG1 Z-5. F100\nY40.\nX${x + 10}.\nY10.\nG0 Z2.\n`;
const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nS1000 M3\nG43 H1 Z2.\n';
const PROGRAM = `${HEAD}${pocketAt(10)}${pocketAt(50)}G0 Z-3.\nG0 X20. (ACROSS)\nG0 Z2.\nM30\n`;

const linesOf = (analysis: Analysis): number[] =>
  analysis
    .findings()
    .findings.filter(({ rule }) => rule === 'rapid-into-stock')
    .map(({ line }) => line);

describe('rules that take their time', () => {
  it('find nothing before their time, all of it afterwards, in slices as at once', () => {
    const analysis = new Analysis(PROGRAM, CONFIGURATION);
    expect(analysis.isSettled).toBe(false);
    expect(analysis.runSlice(Number.POSITIVE_INFINITY)).toBe(true);
    expect([analysis.isSettled, linesOf(analysis)]).toEqual([false, []]);
    let slices = 1;
    while (!analysis.settle(0)) slices++;
    expect(slices).toBeGreaterThan(3);
    expect([analysis.isSettled, linesOf(analysis)]).toEqual([true, [17]]);
    const whole = new Analysis(PROGRAM, CONFIGURATION);
    whole.run();
    expect(analysis.findings()).toEqual(whole.findings());
  });

  it('are quiet at once where no rule asks for them', () => {
    const analysis = new Analysis(PROGRAM);
    analysis.runSlice(Number.POSITIVE_INFINITY);
    expect(analysis.isSettled).toBe(true);
  });

  it('keep what was found with its lines until the next time, and let go what was edited', () => {
    const analysis = new Analysis(PROGRAM, CONFIGURATION);
    analysis.run();
    const { settledVersion } = analysis;
    analysis.edit(2, 0, 2, 0, '(ONE)\n(TWO)\n');
    analysis.runSlice(Number.POSITIVE_INFINITY);
    expect([analysis.isSettled, linesOf(analysis)]).toEqual([false, [19]]);
    analysis.run();
    expect([linesOf(analysis), analysis.settledVersion]).toEqual([[19], settledVersion]);
    analysis.edit(19, 0, 19, 2, 'G1');
    analysis.runSlice(Number.POSITIVE_INFINITY);
    expect(linesOf(analysis)).toEqual([]);
    analysis.run();
    expect(linesOf(analysis)).toEqual([]);
    analysis.edit(19, 0, 19, 2, 'G0');
    analysis.run();
    expect([linesOf(analysis), analysis.settledVersion]).toEqual([[19], settledVersion + 1]);
    // Cut away in between: it goes with the next time.
    analysis.edit(18, 0, 18, 0, 'G0 X60. Y10.\nG1 Z-5.\nX20.\nG0 Z2.\nX60.\n');
    analysis.runSlice(Number.POSITIVE_INFINITY);
    expect(linesOf(analysis)).toEqual([24]);
    analysis.run();
    expect(linesOf(analysis)).toEqual([]);
  });

  it('begin again where the program is edited in the middle of it', () => {
    const analysis = new Analysis(PROGRAM, CONFIGURATION);
    analysis.runSlice(Number.POSITIVE_INFINITY);
    analysis.settle(0);
    analysis.edit(17, 4, 17, 7, '55.');
    while (!analysis.settle(0));
    expect(linesOf(analysis)).toEqual([]);
    analysis.configure(DEFAULT_CONFIGURATION);
    expect(analysis.isSettled).toBe(false);
    analysis.run();
    expect(analysis.isSettled).toBe(true);
  });

  it('follow the severities that are set, without doing it again', () => {
    const analysis = new Analysis(PROGRAM, CONFIGURATION);
    analysis.run();
    analysis.configure({ ...CONFIGURATION, rules: { 'rapid-into-stock': 'hint' } });
    expect(analysis.isSettled).toBe(true);
    const found = analysis.findings().findings.filter(({ rule }) => rule === 'rapid-into-stock');
    expect(found.map(({ severity }) => severity)).toEqual(['hint']);
  });
});
