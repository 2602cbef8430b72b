import { describe, expect, test } from 'vitest';
import { findThread, parseThread } from './threadName.ts';

describe('a thread by its name alone', () => {
  test.each([
    ['M6', 'M6X1', 6, 1],
    ['m6x1', 'M6X1', 6, 1],
    ['M6 X 1.0', 'M6X1', 6, 1],
    ['M10X1.25 FINE', 'M10X1.25', 10, 1.25],
    ['M10X1,25', 'M10X1.25', 10, 1.25],
    ['M8-1.25', 'M8X1.25', 8, 1.25],
    ['6X1', 'M6X1', 6, 1],
    ['1/4-20', '1/4-20 UNC', 6.35, 1.27],
    ['1/4"-20 UNC', '1/4-20 UNC', 6.35, 1.27],
    ['1/4 UNC', '1/4-20 UNC', 6.35, 1.27],
    ['#10-32', '#10-32 UNF', 4.826, 0.79375],
    ['10-32', '#10-32 UNF', 4.826, 0.79375],
    ['10-32 UNF', '#10-32 UNF', 4.826, 0.79375],
    ['1-1/2-6 UNC', '1 1/2-6 UNC', 38.1, 25.4 / 6],
    ['G1/4', 'G1/4', 13.157, 25.4 / 19],
    ['1/4 NPT', '1/4 NPT', 13.716, 25.4 / 18],
    ['1/4-18 NPT', '1/4 NPT', 13.716, 25.4 / 18],
    ['1-11.5 NPT', '1 NPT', 33.401, 25.4 / 11.5],
    ['M10 P1.25', 'M10X1.25', 10, 1.25],
    ['M10 PITCH 1.25', 'M10X1.25', 10, 1.25],
    ['MF10X1', 'M10X1', 10, 1],
    ['M4 FINE', 'M4X0.5', 4, 0.5],
    ['3/8-16 NC', '3/8-16 UNC', 9.525, 25.4 / 16],
    ['3/8 NC', '3/8-16 UNC', 9.525, 25.4 / 16],
    ['10-32 NF', '#10-32 UNF', 4.826, 25.4 / 32],
  ])('%s is %s', (text, name, diameter, pitch) => {
    const thread = parseThread(text);
    expect(thread?.name).toBe(name);
    expect(thread?.diameter).toBeCloseTo(diameter, 9);
    expect(thread?.pitch).toBeCloseTo(pitch, 9);
    expect(thread?.hand).toBe('right');
  });

  test.each(['M6 LH', 'M6 LEFT HAND', 'M6X1 L.H.'])('%s is left hand', (text) => {
    expect(parseThread(text)).toMatchObject({ name: 'M6X1', hand: 'left' });
  });

  test.each([
    'M500',
    'M3.7',
    'M10X2',
    'M6X0.9',
    // Three fine pitches: which one is not said.
    'M10 FINE',
    '1/4-19 UNC',
    'M6 TOOL',
    'X6',
    '10-24-2023',
    '1/4-21',
    '3/7-20',
    'G1/5',
    '5/8 NPT',
    '',
  ])('%s is none', (text) => {
    expect(parseThread(text)).toBeUndefined();
  });

  test('finer than coarse is said', () => {
    expect(parseThread('M10X1.25')?.fine).toBe(true);
    expect(parseThread('M10X1.5')?.fine).toBeUndefined();
  });
});

describe('a thread somewhere in a remark', () => {
  test.each([
    ['TAP M6X1 THROUGH', 'M6X1'],
    ['TAP-M6', 'M6X1'],
    ['DRILL FOR M8 TAP', 'M8X1.25'],
    ['USE #8-32 TAP', '#8-32 UNC'],
    ['TAP 10-24', '#10-24 UNC'],
    ['M8X20 SCREW GOES HERE', 'M8X1.25'],
  ])('%s names %s', (remark, name) => {
    expect(findThread(remark)?.name).toBe(name);
  });

  test.each(['PART 10-32 OF ORDER', 'DATE 10-24-2023', 'M3X6', 'ROOM1/4-20', 'PROGRAM M500'])(
    '%s names none',
    (remark) => {
      expect(findThread(remark)).toBeUndefined();
    },
  );
});
