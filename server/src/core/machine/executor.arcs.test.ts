/** Arcs and helices from their words: planes, centre and radius forms, turns, tolerances. */
import { describe, expect, it } from 'vitest';
import { findingCodes, path } from '../../../../tests/harness/path.ts';

const arcCodes = (program: string, profile?: Parameters<typeof path>[1]) => findingCodes(program, profile, 'arc-');
const lastMove = (program: string, profile?: Parameters<typeof path>[1]) => path(program, profile).at(-1);

describe('planes are right-handed', () => {
  it('G17 runs from X to Y, G18 from Z to X, G19 from Y to Z', () => {
    expect(lastMove('G17 G0 X10 Y0 Z0\nG3 X0 Y10 I-10 F100')).toEqual(['arc', 0, 10, 0, 0, 0, 0, 90]);
    expect(lastMove('G18 G0 Z10 X0 Y0\nG3 Z0 X10 K-10 F100')).toEqual(['arc', 10, 0, 0, 0, 0, 0, 90]);
    expect(lastMove('G19 G0 Y10 Z0 X0\nG3 Y0 Z10 J-10 F100')).toEqual(['arc', 0, 0, 10, 0, 0, 0, 90]);
  });

  it('G2 goes the other way round', () => {
    expect(lastMove('G17 G0 X10 Y0 Z0\nG2 X0 Y10 I-10 F100')).toEqual(['arc', 0, 10, 0, 0, 0, 0, -270]);
    expect(lastMove('G18 G0 Z10 X0 Y0\nG2 Z0 X10 K-10 F100')).toEqual(['arc', 10, 0, 0, 0, 0, 0, -270]);
    expect(lastMove('G19 G0 Y10 Z0 X0\nG2 Y0 Z10 J-10 F100')).toEqual(['arc', 0, 0, 10, 0, 0, 0, -270]);
  });

  it.each([
    ['G17', 'Z-3', [10, 0, -3]],
    ['G18', 'Y-3', [0, -3, 10]],
    ['G19', 'X-3', [-3, 10, 0]],
  ])('%s: the third axis makes it a helix', (plane, word, end) => {
    const [start, centre] = { G17: ['X10 Y0 Z0', 'I-10'], G18: ['Z10 X0 Y0', 'K-10'], G19: ['Y10 Z0 X0', 'J-10'] }[
      plane
    ] as string[];
    const move = lastMove(`${plane} G0 ${start}\nG3 ${centre} ${word} F100`);
    expect(move?.slice(0, 4)).toEqual(['arc', ...end]);
    expect(move?.at(-1)).toBe(360);
  });
});

describe('centre form', () => {
  it('centre words are from the start, or absolute under G90.1', () => {
    expect(lastMove('G0 X20 Y5 Z0\nG91.1\nG3 X0 Y5 I-10 F100')).toEqual(['arc', 0, 5, 0, 10, 5, 0, 180]);
    expect(lastMove('G0 X20 Y5 Z0\nG90.1\nG3 X0 Y5 I10 J5 F100')).toEqual(['arc', 0, 5, 0, 10, 5, 0, 180]);
    expect(lastMove('G0 X20 Y5 Z0\nG52 X100\nG90.1\nG3 X-100 Y5 I-90 J5 F100')).toEqual([
      'arc',
      0,
      5,
      0,
      10,
      5,
      0,
      180,
    ]);
    expect(lastMove('G0 X20 Y5 Z0\nG91 G3 X-20 Y0 I-10 F100')).toEqual(['arc', 0, 5, 0, 10, 5, 0, 180]);
  });

  it('a full turn where the end is left out or is the start', () => {
    expect(lastMove('G0 X10 Y0 Z0\nG2 I-10 F100')).toEqual(['arc', 10, 0, 0, 0, 0, 0, -360]);
    expect(lastMove('G0 X10 Y0 Z0\nG3 X10 Y0 I-10 F100')).toEqual(['arc', 10, 0, 0, 0, 0, 0, 360]);
    expect(lastMove('G0 X10 Y0 Z0\nG3 X10 Y0 Z-2 I-10 F100')).toEqual(['arc', 10, 0, -2, 0, 0, 0, 360]);
  });

  it('modal arcs: the next block needs no code, and rotary axes go along', () => {
    expect(path('G0 X10 Y0 Z0\nG3 X0 Y10 I-10 F100\nX-10 Y0 J-10').slice(-1)).toEqual([
      ['arc', -10, 0, 0, 0, 0, 0, 90],
    ]);
    expect(lastMove('G0 X10 Y0 Z0 A0\nG3 X0 Y10 A45 I-10 F100')).toEqual(['arc', 0, 10, 0, 0, 0, 0, 90]);
  });

  it('no arc is judged on a place that is not known', () => {
    expect(arcCodes('G0 X10\nG2 X0 Y10 I-10 F100')).toEqual([]);
    expect(lastMove('G0 X10\nG2 X0 Y10 I-10 F100')).toEqual(['line', 0, 10, null]);
  });
});

describe('radius form', () => {
  it('R positive goes the short way, negative the long way, on either side', () => {
    expect(lastMove('G0 X10 Y0 Z0\nG3 X0 Y10 R10 F100')).toEqual(['arc', 0, 10, 0, 0, 0, 0, 90]);
    expect(lastMove('G0 X10 Y0 Z0\nG3 X0 Y10 R-10 F100')).toEqual(['arc', 0, 10, 0, 10, 10, 0, 270]);
    expect(lastMove('G0 X10 Y0 Z0\nG2 X0 Y10 R10 F100')).toEqual(['arc', 0, 10, 0, 10, 10, 0, -90]);
    expect(lastMove('G0 X10 Y0 Z0\nG2 X0 Y10 R-10 F100')).toEqual(['arc', 0, 10, 0, 0, 0, 0, -270]);
    expect(lastMove('G18 G0 Z10 X0 Y0\nG3 Z0 X10 R10 F100')).toEqual(['arc', 10, 0, 0, 0, 0, 0, 90]);
  });

  it('end at the start, zero, or too short is an error', () => {
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X10 Y0 R10 F100')).toEqual(['arc-full-circle-by-radius']);
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X0 Y10 R0 F100')).toEqual(['arc-zero-radius']);
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X-10 Y0 R9.9 F100')).toEqual(['arc-radius-too-small']);
  });

  it('too short within the tolerance is a half circle', () => {
    expect(lastMove('G0 X10 Y0 Z0\nG3 X-10 Y0 R9.99 F100')).toEqual(['arc', -10, 0, 0, 0, 0, 0, 180]);
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X-10 Y0 R9.99 F100')).not.toContain('arc-radius-too-small');
    expect(arcCodes('G21 G0 X10 Y0 Z0\nG3 X-10 Y0 R9.99 F100', 'rs274ngc')).toContain('arc-radius-too-small');
  });

  it('both forms: an error in the report, elsewhere R wins', () => {
    const program = 'G21 G0 X10 Y0 Z0\nG3 X0 Y10 R10 I3 J3 F100';
    expect(lastMove(program)).toEqual(['arc', 0, 10, 0, 0, 0, 0, 90]);
    expect(arcCodes(program)).toEqual(['arc-centre-and-radius']);
    expect(arcCodes(program, 'rs274ngc')).toEqual(['arc-centre-and-radius']);
  });
});

describe('turns', () => {
  it.each([
    ['P1', 90, 450],
    ['P2', 450, 810],
    ['P3', 810, 1170],
  ])('%s: the part turn is one of them, or they are extra', (word, turns, extra) => {
    const program = `G0 X10 Y0 Z0\nG3 X0 Y10 Z-6 I-10 ${word} F100`;
    expect(lastMove(program)?.at(-1)).toBe(turns);
    expect(lastMove(program, { base: 'iso', turns: { letter: 'P', counts: 'extra' } })?.at(-1)).toBe(extra);
  });

  it('the letter is the profile’s', () => {
    const program = 'G0 X10 Y0 Z0\nG2 Z-6 I-10 L3 F100';
    expect(lastMove(program)?.at(-1)).toBe(-360);
    expect(lastMove(program, { base: 'iso', turns: { letter: 'L', counts: 'turns' } })?.at(-1)).toBe(-1080);
    expect(lastMove(program, { base: 'iso', turns: { letter: 'none', counts: 'turns' } })?.at(-1)).toBe(-360);
  });
});

describe('tolerance between the radii', () => {
  it.each([
    // The larger of 0.02 mm and 2.9 last places, never fewer than two places in mm.
    ['iso', 'G21', 'X0. Y10.02 I-10.', false],
    ['iso', 'G21', 'X0. Y10.021 I-10.', true],
    ['iso', 'G21', 'X0. Y10.03 I-10.', true],
    ['iso', 'G21', 'X0. Y10.1 I-10.', true],
    ['rs274ngc', 'G21', 'X0. Y10.0019 I-10.', false],
    ['rs274ngc', 'G21', 'X0. Y10.0021 I-10.', true],
    ['rs274ngc', 'G20', 'X0. Y10.00019 I-10.', false],
    ['rs274ngc', 'G20', 'X0. Y10.00021 I-10.', true],
    // Inch: never fewer than three places, so 0.0029.
    ['iso', 'G20', 'X0. Y10.0028 I-10.', true],
    ['iso', 'G20', 'X0. Y10.002 I-10.', false],
    ['iso', 'G20', 'X0. Y10.01 I-10.', true],
    ['iso', 'G20', 'X0. Y10.003 I-10.', true],
  ])('%s %s: %s', (profile, units, words, isWrong) => {
    const program = `${units} G0 X10. Y0. Z0.\nG3 ${words} F100`;
    expect(arcCodes(program, profile)).toEqual(isWrong ? ['arc-radius-mismatch'] : []);
  });

  it('the path ends where the program says', () => {
    expect(lastMove('G0 X10 Y0 Z0\nG3 X0 Y10.02 I-10 F100')?.slice(0, 4)).toEqual(['arc', 0, 10.02, 0]);
    expect(lastMove('G0 X10 Y0 Z0\nG3 X0 Y12 I-10 F100')?.slice(0, 4)).toEqual(['arc', 0, 12, 0]);
  });
});

describe('centre words that do not belong', () => {
  it('zero is silent, others are told and nothing else is', () => {
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X0 Y10 I-10 J0 K0 F100')).toEqual([]);
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X0 Y10 I-10 K5 F100')).toEqual(['arc-centre-off-plane']);
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X0 Y10 F100')).toEqual(['arc-centre-missing']);
    expect(arcCodes('G0 X10 Y0 Z0\nG3 X0 Y10 I0 J0 F100')).toEqual(['arc-zero-radius']);
  });
});
