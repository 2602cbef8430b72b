/** Single lines in a shop's style. */
import { describe, expect, it } from 'vitest';
import { PROFILES } from '../machine/profile.ts';
import { formattedLine } from './formatLine.ts';
import { DEFAULT_STYLE, type FormatStyle, formatStyleOf } from './formatStyle.ts';

const inStyle = (text: string, style: Partial<FormatStyle> = {}, profile = 'iso'): string =>
  formattedLine(text, { ...DEFAULT_STYLE, ...style }, PROFILES[profile])?.text ?? text;

const kept: Partial<FormatStyle> = { spacing: 'keep', letterCase: 'keep' };

describe('a line in the style that holds where nothing is said', () => {
  it.each([
    ['g1x10.y5.f200', 'G1 X10. Y5. F200'],
    ['N10G0X1.  Y2.   ', 'N10 G0 X1. Y2.'],
    ['X 10.5 Y - 3.', 'X10.5 Y-3.'],
    ['X 1 0 . 5', 'X10.5'],
    ['  g1 x1.', '  G1 X1.'],
    ['/g1x1.', '/G1 X1.'],
    ['/2N10g1', '/2N10 G1'],
    ['/ g1', '/ G1'],
    ['t3m6(tap m6x1)', 'T3 M6 (tap m6x1)'],
    ['t3m6    (tap m6x1)', 'T3 M6    (tap m6x1)'],
    ['g1x1.;left alone  ', 'G1 X1. ;left alone  '],
    ['o1234(plate)', 'O1234 (plate)'],
    ['x[#1+2.*cos[30]]y#2', 'X[#1+2.*COS[30]] Y#2'],
    ['G0 X#24 Y#25   Z[ #1 ]  F#9 ', 'G0 X#24 Y#25 Z[ #1 ] F#9'],
    ['#101 = #102 + 1', '#101 = #102 + 1'],
    ['n5#<Depth>=5.', 'N5 #<Depth>=5.'],
    ['if[#1eq1]goto20', 'IF[#1EQ1]GOTO20'],
    ['G1 (between) X1.', 'G1 (between) X1.'],
  ])('%j becomes %j', (text, wanted) => {
    expect(inStyle(text)).toBe(wanted);
    expect(inStyle(wanted)).toBe(wanted);
  });

  it.each([
    ['(a remark   alone)'],
    ['%'],
    ['% plate'],
    [''],
    ['   '],
    ['// note'],
    ['g1 x1O. y2'],
    ['x'],
    ['g1x1.x2.'],
    ['g1 x1. (open'],
    ['x1e3'],
  ])('%j stays', (text) => {
    expect(inStyle(text)).toBe(text);
  });
});

describe('other styles', () => {
  it.each<[Partial<FormatStyle>, string, string]>([
    [{ spacing: 'none' }, 'N10 G1 X1. (left) ', 'N10G1X1.(left)'],
    [{ spacing: 'none' }, 'IF [#1 EQ 1] GOTO 20', 'IF [#1 EQ 1] GOTO 20'],
    [{ letterCase: 'lower' }, 'N10 G1 X#<Top>', 'n10 g1 x#<Top>'],
    [{ leadingZero: 'write' }, 'X.5 Y-.25 Z1.', 'X0.5 Y-0.25 Z1.'],
    [{ leadingZero: 'omit' }, 'X0.5 Y-0.25 Z0. A0.0', 'X.5 Y-.25 Z0. A0.0'],
    [{ trailingPoint: 'write' }, 'G1 X10 Y-3 F200 S500 T1 M6', 'G1 X10. Y-3. F200. S500 T1 M6'],
    [{ trailingPoint: 'omit' }, 'G1 X10. Y-3.5 F200.', 'G1 X10 Y-3.5 F200'],
    [{ trailingZeros: 'trim' }, 'X10.500 Y3.000 Z.000', 'X10.5 Y3. Z0.'],
    [{ trailingZeros: 'trim', trailingPoint: 'omit' }, 'X10.500 Y3.000', 'X10.5 Y3'],
    [{ wordOrder: 'sort' }, 'N5 F200 Y2. X1. M8 G1 (cut)', 'N5 G1 X1. Y2. F200 M8 (cut)'],
    [{ wordOrder: 'sort' }, 'M6 T3', 'T3 M6'],
    [{ wordOrder: 'sort' }, 'G90 X1. G0', 'G90 G0 X1.'],
  ])('%j', (style, text, wanted) => {
    expect(inStyle(text, { ...kept, ...style })).toBe(wanted);
  });

  it('leaves alone where a point or an order has a meaning', () => {
    const points = { ...kept, trailingPoint: 'write' } as const;
    expect(inStyle('X10 Y5', points, 'iso-macro')).toBe('X10 Y5');
    expect(inStyle('G4 X2', points)).toBe('G4 X2');
    expect(inStyle('G4 P500', points)).toBe('G4 P500');
    expect(inStyle('G65 P9010 X10', points)).toBe('G65 P9010 X10');
    expect(inStyle('G98 G81 X10 R2 Z-5 K3', points)).toBe('G98 G81 X10. R2. Z-5. K3');
    expect(inStyle('X10. Y5.', { ...kept, trailingPoint: 'omit' }, 'iso-macro')).toBe('X10. Y5.');
    const order = { ...kept, wordOrder: 'sort' } as const;
    for (const line of ['M98 P1000 L2', 'G65 P9010 K1. I2.', 'X1. (here) G1', '#1=2 X1. G1', 'G10 L2 P1 X0.'])
      expect(inStyle(line, order)).toBe(line);
  });

  it('writes no line longer than the control takes', () => {
    const profile = { ...PROFILES.iso, lineLength: 14 };
    expect(formattedLine('G1X1.Y2.Z3.F4', DEFAULT_STYLE, profile)).toBeUndefined();
    expect(formattedLine('g1x1.y2.', DEFAULT_STYLE, profile)?.text).toBe('G1 X1. Y2.');
  });

  it('tells which changes the reader cannot see', () => {
    const isReadAlike = (text: string, style: Partial<FormatStyle>) =>
      formattedLine(text, { ...DEFAULT_STYLE, ...style }, PROFILES.iso)?.isReadAlike;
    expect(isReadAlike('g1x.5', { leadingZero: 'write' })).toBe(true);
    expect(isReadAlike('G1 X5', { trailingPoint: 'write' })).toBe(false);
    expect(isReadAlike('X1. G1', { wordOrder: 'sort' })).toBe(false);
  });

  it('is read from what an editor tells, and what is no choice is left out', () => {
    expect(formatStyleOf({ letterCase: 'lower', spacing: 'wide', rules: 1 })).toEqual({
      ...DEFAULT_STYLE,
      letterCase: 'lower',
    });
    expect(formatStyleOf(null)).toEqual(DEFAULT_STYLE);
  });
});
