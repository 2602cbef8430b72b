import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from './configuration.ts';
import { PROFILES } from './profile.ts';
import { systemVariable } from './systemVariables.ts';

/** Value of #100 behind a program. */
const hundred = (program: string, configuration: Partial<Configuration> = {}): number | undefined => {
  const analysis = new Analysis(program, { ...DEFAULT_CONFIGURATION, ...configuration });
  analysis.run();
  return analysis.stateAfter(program.split('\n').length - 1).variables.get(100);
};

const machine = { axes: {}, workOffsets: { G54: { X: -250, Y: -150, Z: -320 }, G55: { X: -100, Y: 0, Z: 0 } } };

// Numbers of macro controls: common practice, no source. Numbers of the report: NIST IR 6556, from memory.
describe('the machine’s own variables', () => {
  it('positions are where the block before ended, in the program’s units and its own zero', () => {
    expect(hundred('G21 G90 G0 X12.5 Y3\n#100=#5041')).toBe(12.5);
    expect(hundred('G20 G90 G0 X2. Y3.\n#100=#5042')).toBeCloseTo(3, 12);
    expect(hundred('G21 G90 G0 X12.5\nG52 X10\n#100=#5001')).toBe(2.5);
  });

  it('machine positions and work offsets come from the shop’s file or from G10', () => {
    expect(hundred('G21 G90 G54 G0 X10\n#100=#5021', { machine })).toBe(-240);
    expect(hundred('G21\n#100=#5241', { machine })).toBe(-100);
    expect(hundred('G21 G10 L2 P2 X-77.\n#100=#5241', { machine })).toBe(-77);
  });

  it('tool lengths come from the tool table', () => {
    const tools = [{ number: 3, kind: 'drill' as const, length: 81.5 }];
    expect(hundred('G21\n#100=#2003', { tools })).toBe(81.5);
  });

  it.each([
    ['G18\n#100=#4002', 18],
    ['G91\n#100=#4003', 91],
    ['G20\n#100=#4006', 20],
    ['G56\n#100=#4014', 56],
    ['F250\n#100=#4109', 250],
    ['S1200\n#100=#4119', 1200],
    ['G81\n#100=#4009', 81],
    ['#100=#4009', 80],
  ])('modes in force: %s', (program, value) => expect(hundred(program)).toBe(value));

  it('what only the machine knows is unknown', () => {
    expect(hundred('#100=#5061')).toBeNaN();
    expect(hundred('#100=#5041')).toBeNaN();
    expect(hundred('#100=#3001')).toBeNaN();
  });

  it('the report has numbers of its own', () => {
    const profile = PROFILES.rs274ngc;
    expect(hundred('G55\n#100=#5220', { profile })).toBe(2);
    expect(hundred('G55\n#100=#5381', { profile, machine: { axes: {}, workOffsets: { 'G59.3': { X: 4 } } } })).toBe(4);
    expect(hundred('G0 X5\nG92 X2\n#100=#5211', { profile })).toBe(3);
    expect(systemVariable(4002, 'report')).toBeUndefined();
  });
});
