import { describe, expect, it } from 'vitest';
import { DEFAULT_PROFILE, PROFILES } from '../../machine/profile.ts';
import { Block } from '../../syntax/block.ts';
import { BlockReader } from '../../syntax/reader.ts';
import { Variables } from '../../syntax/variables.ts';
import { pointNumber, styleOf, writeNumber, writeWord } from './numberStyle.ts';

const I = 8;

const style = (text: string, unit = 1, profile = DEFAULT_PROFILE) => {
  const block = new Block();
  new BlockReader(profile).read(text, 0, text.length, block, new Variables());
  return styleOf(block, unit, profile.decimalPoint === 'increment');
};

const written = (text: string, value: number, unit = 1, profile = DEFAULT_PROFILE): string => {
  const found = style(text, unit, profile);
  return writeWord(I, writeNumber(value, found), found);
};

describe('numbers as the block writes them', () => {
  it.each([
    // block, value, what is written
    ['G2 X10. Y5.5 I5. J0.', -4, 'I-4.'],
    ['G2 X10. Y5.5 I5. J0.', 3.53553, 'I3.536'],
    ['G2 X10 Y5.5 I5 J0', -4, 'I-4'],
    ['G2 X10 Y5.5 I5 J0', 0, 'I0'],
    ['G2 X10.000 Y5.500 I5.000', 4, 'I4.000'],
    ['G2 X10.50 Y5.00 I5.25', 4, 'I4.00'],
    ['G2 X10.50 Y5.00 I5.25', 3.53553, 'I3.536'],
    ['G2 X1. Y.5 I.5', 0.25, 'I.25'],
    ['G2 X1. Y.5 I.5', -0.25, 'I-.25'],
    ['g2 x1. y0.5 i0.5', 0.25, 'i0.25'],
    ['G2 X 10. Y 5. I 5.', 4, 'I 4.'],
    ['G2 X10. Y5. I-0.0004', 0.0001, 'I0.0001'],
    ['G2 X10. Y5. I5.', -0.0001, 'I0.'],
    ['G2 X#1 Y[#2+1] R#3', 4, 'I4.'],
  ])('%s: %d is %s', (block, value, expected) => {
    expect(written(block, value)).toBe(expected);
  });

  it('keeps four places in inch', () => {
    expect(written('G2 X1. Y.5 I.5', 0.353553, 25.4)).toBe('I.3536');
  });

  it('counts increments where the block does, and has points where one word of it has', () => {
    expect(written('G2 X10000 Y5000 I5000', -4, 1, PROFILES['iso-macro'])).toBe('I-4000');
    expect(written('G2 X10. Y5000 I5000', -4, 1, PROFILES['iso-macro'])).toBe('I-4.');
    expect(written('G2 X10000 I5000', 0.25, 25.4, PROFILES['iso-macro'])).toBe('I2500');
    expect(pointNumber(-4, style('G2 X10000 Y5000 I5000', 1, PROFILES['iso-macro']))).toBe('-4.');
  });

  it('sees whether words stand apart', () => {
    expect(style('G2X10.Y5.I5.').wordGap).toBe('');
    expect(style('G2 X10. Y5.').wordGap).toBe(' ');
  });
});
