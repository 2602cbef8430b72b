// What counts as the beginning of a block's name at the cursor.
import { expect, it } from 'vitest';
import { isPrefix, isTypedOn } from './typedPrefix.ts';

it('takes two letters or more alone in their line, also behind a sequence number', () => {
  for (const line of ['heli', '  he', 'N120 holes', 'n5cleartap', 'clear-tap']) {
    expect(isPrefix(line, line.length), line).toBe(true);
  }
  expect(isPrefix('heli  ', 4)).toBe(true);
});

it('takes no words of a program, and no place inside of something', () => {
  for (const line of ['', 'h', 'G0 X1.', 'X', 'M30', 'N10', '(heli', 'G1 heli', 'heli 2']) {
    expect(isPrefix(line, line.length), line).toBe(false);
  }
  expect(isPrefix('heli', 0)).toBe(false);
  expect(isPrefix('heli G1', 4)).toBe(false);
});

it('knows what was typed on since the first letter was asked about', () => {
  expect(isTypedOn('helical', 1)).toBe(true);
  expect(isTypedOn('N10 helical', 5)).toBe(true);
  expect(isTypedOn('helical', 7)).toBe(false);
  expect(isTypedOn('h', 0)).toBe(false);
  expect(isTypedOn('S2000', 1)).toBe(false);
  expect(isTypedOn('G1 X5.', 1)).toBe(false);
});
