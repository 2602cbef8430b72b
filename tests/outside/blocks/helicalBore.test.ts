/**
 * Feed of the cutter's centre in a helical bore and round a boss. Handbooks of CNC programming print it for arcs of radius R at
 * the part and a cutter of radius r as F·(R − r)/R inside and F·(R + r)/R outside; from memory, no page was looked up. The
 * numbers below were worked from it by hand. The second check does not know the formula: it takes the time of a level turn.
 */
import { describe, expect, test } from 'vitest';
import { PROFILES } from '../../../server/src/core/machine/profile.ts';
import { contextUnder, runBlock } from '../../harness/blocks.ts';
import { waysOf } from '../../harness/helixWays.ts';

const COMMON = { depth: 4, lead: 1, speed: 3000 };

const feedsIn = (lines: readonly string[]): string[] => lines.flatMap((line) => / (F[\d.]+)$/.exec(line)?.[1] ?? []);

describe('feed of the centre', () => {
  test.each([
    // R 20, r 10: half.
    [40, 20, 600, 'F300'],
    // R 25, r 10: three fifths.
    [50, 20, 1000, 'F600'],
    // R 16, r 10: three eighths.
    [32, 20, 800, 'F300'],
    // R 30, r 16: seven fifteenths.
    [60, 32, 750, 'F350'],
  ])('in a bore of %i mm with a cutter of %i mm at F%i', (bore, tool, feed, word) => {
    const { lines } = runBlock('helical-bore', { ...COMMON, bore, tool, feed, passes: bore > 2 * tool ? 2 : 1 });
    expect(feedsIn(lines).at(-1)).toBe(word);
  });

  test.each([
    // R 25, r 12.5: one and a half times.
    [50, 25, 400, 'F600'],
    // R 20, r 5: five quarters.
    [40, 10, 640, 'F800'],
  ])('round a boss of %i mm with a cutter of %i mm at F%i', (boss, tool, feed, word) => {
    const { lines } = runBlock('helical-boss', { ...COMMON, boss, tool, feed, stock: boss + tool });
    expect(feedsIn(lines)[0]).toBe(word);
  });

  // The example that the CNC Programming Handbook works in its chapter on circular interpolation, from memory: an outside
  // radius of 0.375 in, a cutter of 0.5 in and a linear feed of 14 in/min give 14 · (0.375 + 0.25)/0.375 = 23.333.
  test('round a boss, as a handbook works it', () => {
    const raw = { ...COMMON, boss: 0.75 * 25.4, stock: 25.4, tool: 0.5 * 25.4, feed: 14 * 25.4 };
    const { lines } = runBlock('helical-boss', raw, contextUnder(PROFILES.iso, 'inch'));
    expect(feedsIn(lines)[0]).toBe('F23.3');
  });

  // Bore 2 in, cutter 1.25 in at 20 in/min: R 1, r 0.625, three eighths.
  test('in inches', () => {
    const raw = { ...COMMON, bore: 2 * 25.4, tool: 1.25 * 25.4, feed: 20 * 25.4 };
    expect(runBlock('helical-bore', raw, contextUnder(PROFILES.iso, 'inch')).lines.join('\n')).toContain('F7.5');
  });
});

test.each([
  ['helical-bore', { bore: 47, tool: 25, feed: 700 }, 47],
  ['helical-bore', { bore: 18.4, tool: 12, feed: 1500 }, 18.4],
  ['helical-boss', { boss: 33, stock: 45, tool: 16, feed: 900 }, 33],
])('the wall of a %s %j is passed at the feed that was asked for', (name, raw, wall) => {
  const [way] = waysOf(runBlock(name, { ...COMMON, ...raw })).slice(-1);
  const seconds = way.level.reduce((sum, move) => sum + move.seconds, 0);
  const feedAtWall = (Math.PI * wall * way.levelTurns * 60) / seconds;
  // Whole mm/min of the centre are less than half a per cent here.
  expect(feedAtWall).toBeLessThanOrEqual(raw.feed + 0.001);
  expect(feedAtWall).toBeGreaterThan(raw.feed * 0.995);
});
