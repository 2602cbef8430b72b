/**
 * Thread milling against worked examples in the form that tool makers' handbooks give them. They are typed from memory of that
 * form and worked out by hand here; no page was looked up, so a slip in both would not be seen.
 */
import { describe, expect, test } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';

const body = (raw: Record<string, string | number>): readonly string[] =>
  runBlock('thread-mill', raw).lines.filter((line) => /^G[123] .*[IZ]/.test(line));

/**
 * Internal M20 × 1.5 right hand, one turn of a cutter of many forms, Ø 12, Vc 150 m/min, fz 0.05, four flutes, 20 deep, climb.
 * n = 1000 · 150/(π · 12) = 3979; F at the wall = 3979 · 4 · 0.05 = 795; F of the centre = 795 · (20 − 12)/20 = 318.
 * The centre's circle is 20 − 12 = 8 wide; the half circle from the axis rises a quarter of the pitch, 0.375.
 */
test('internal M20 x 1.5, one turn', () => {
  const lines = body({
    thread: 'M20X1.5',
    tool: 12,
    teeth: 'multi',
    'cutting-length': 21,
    depth: 20,
    'cutting-speed': 150,
    feed: 795,
    at: '0,0',
  });
  expect(lines).toEqual([
    'G1 Z-20.375 F795',
    'G3 X4. Y0. Z-20. I2. J0. F318',
    'G3 X4. Y0. Z-18.5 I-4. J0.',
    'G3 X0. Y0. Z-18.125 I-2. J0.',
  ]);
});

/**
 * External M24 × 2 right hand, climb (clockwise and down), cutter Ø 16, feed at the wall 600. Root d3 = 24 − 1.22687 · 2 = 21.546,
 * so the centre's circle is 37.546 wide, and F of the centre = 600 · (21.546 + 16)/21.546 = 1045.
 */
test('external M24 x 2', () => {
  const { moves } = runBlock('thread-mill', {
    thread: 'M24X2',
    side: 'external',
    tool: 16,
    depth: 10,
    speed: 1500,
    feed: 600,
    at: '0,0',
  });
  const turns = moves.filter(({ arc }) => arc !== undefined && Math.abs(arc.sweep) === 360);
  expect(turns).toHaveLength(5);
  for (const { arc, from, to, feed } of turns) {
    expect(arc?.clockwise).toBe(true);
    expect(arc?.radius).toBeCloseTo(18.773, 2);
    expect(to[2] - from[2]).toBeCloseTo(-2, 6);
    expect(feed).toBe(1045);
  }
});

// Minor diameters, from memory: ISO 724 (M16: 13.835, M10 × 1: 8.917), ISO 228-1 (G1/2: 18.631, cut off after three places).
describe('the hole before it', () => {
  test.each([
    ['M16', 10, '13.835 mm'],
    ['M10X1', 7, '8.917 mm'],
    ['G1/2', 14, '18.632 mm'],
  ])('%s', (thread, tool, minor) => {
    const { facts } = runBlock('thread-mill', { thread, tool, depth: 10, speed: 1000, feed: 200 });
    expect(facts.find(({ name }) => name === 'minor')?.text).toBe(minor);
  });
});
