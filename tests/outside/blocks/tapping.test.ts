/**
 * Tapping blocks against values that handbooks print. All of them are typed from memory of the sources named, none was looked
 * up: a slip in both the product and here would not be seen.
 */
import { describe, expect, test } from 'vitest';
import { PROFILES } from '../../../server/src/core/machine/profile.ts';
import { contextUnder, runBlock } from '../../harness/blocks.ts';

const factOf = (name: string, raw: Record<string, string | number>): string | undefined =>
  runBlock('tapping', { depth: 20, holder: 'synchronised', ...raw }).facts.find((fact) => fact.name === name)?.text;

// Feed of a tap = speed × pitch, in inches speed / threads an inch: any machining handbook.
describe('feed by speed and pitch', () => {
  test.each([
    ['M6', 300, 300],
    ['M10', 300, 450],
    ['M12', 200, 350],
    ['M16', 150, 300],
  ])('%s at %i rev/min', (thread, speed, feed) => {
    const { moves } = runBlock('tapping', { thread, speed, depth: 20, holder: 'synchronised' });
    expect(moves.filter(({ kind }) => kind === 'line').map((move) => move.feed)).toEqual([feed, feed]);
  });

  test.each([
    ['1/4-20 UNC', 500, 'F25'],
    ['3/8-16 UNC', 400, 'F25'],
    ['1/2-13 UNC', 260, 'F20'],
    ['#10-32 UNF', 640, 'F20'],
  ])('%s at %i rev/min in inches a minute', (thread, speed, word) => {
    const { lines } = runBlock(
      'tapping',
      { thread, speed, depth: 20, holder: 'synchronised' },
      contextUnder(PROFILES.iso, 'inch'),
    );
    expect(lines.find((line) => line.includes('G84'))).toMatch(new RegExp(`${word}$`));
  });
});

// Drill sizes: ISO 2306 for metric threads; the usual drill charts for inch threads (about 75 % of a full thread).
test.each([
  ['M6', '5 mm'],
  ['M8', '6.8 mm'],
  ['M10', '8.5 mm'],
  ['M12', '10.2 mm'],
  ['M10X1.25', '8.8 mm'],
  ['1/4-20 UNC', '#7 (5.105 mm)'],
  ['3/8-16 UNC', '5/16 (7.938 mm)'],
  ['#10-32 UNF', '#21 (4.039 mm)'],
  ['G1/4', '11.8 mm'],
])('%s is drilled %s', (thread, drill) => {
  expect(factOf('tap-drill', { thread, speed: 300 })).toBe(drill);
});

// 100·(D − d)/(1.299·P), as handbooks give the share of a full thread: M10 in 8.5 is 77 %.
test('M10 in its drill has 77 % of a full thread', () => {
  expect(factOf('engagement', { thread: 'M10', speed: 300 })).toBe('77 %');
});

// P²·D·kc/8000, as tap makers' handbooks give it: M10 in steel with kc 2200 N/mm² takes 6.2 N·m; P = T·n/9550 is 0.19 kW at 300.
test('M10 in steel takes 6.2 N·m', () => {
  expect(factOf('torque', { thread: 'M10', speed: 300, material: 'steel' })).toBe('6.2 N·m');
  expect(factOf('power', { thread: 'M10', speed: 300, material: 'steel' })).toBe(
    `${((6.1875 * 300) / 9550).toFixed(2)} kW`,
  );
});
