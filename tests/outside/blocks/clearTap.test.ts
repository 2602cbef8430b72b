/**
 * What is free for a cutter in a broken tap's hole, against minor diameters D1 as tables print them: ISO 724 (metric),
 * ISO 228-1 (G), ASME B1.1 (unified, inches, basic minor diameter). All typed from memory of the tables, none was looked up.
 */
import { describe, expect, test } from 'vitest';
import { makeBlock, runBlock } from '../../harness/blocks.ts';

const factsOf = (thread: string, tool: number): Record<string, string> =>
  Object.fromEntries(
    makeBlock('clear-tap', { thread, tool, 'broken-at': 3, length: 0.2 }).facts.map(({ name, text }) => [name, text]),
  );

const IN = 25.4;

describe('minor diameter', () => {
  test.each([
    ['M3', 2.459],
    ['M4', 3.242],
    ['M5', 4.134],
    ['M6', 4.917],
    ['M8', 6.647],
    ['M8X1', 6.917],
    ['M10', 8.376],
    ['M12', 10.106],
    ['M12X1.5', 10.376],
    ['M16', 13.835],
    ['M20', 17.294],
    ['G1/8', 8.566],
    ['G1/4', 11.445],
    ['G3/8', 14.95],
    ['G1/2', 18.631],
    ['1/4-20 UNC', 0.1959 * IN],
    ['3/8-16 UNC', 0.3073 * IN],
    ['1/2-13 UNC', 0.4167 * IN],
  ])('of %s', (thread, minor) => {
    const facts = factsOf(thread, Number((minor * 0.65).toFixed(1)));
    // Tables in inches are rounded to 0.0001 in.
    expect(Math.abs(Number.parseFloat(facts.minor) - minor)).toBeLessThan(0.003);
    // 0.3 less is cleared; the rest stays at the crests.
    expect(Math.abs(Number.parseFloat(facts.cleared) - (minor - 0.3))).toBeLessThan(0.005);
    expect(Math.abs(2 * Number.parseFloat(facts.left) + Number.parseFloat(facts.cleared) - minor)).toBeLessThan(0.005);
  });
});

// Turns of a helix over a depth: arithmetic. 1 % of Ø4 is 0.04 a turn: 25 turns a millimetre.
test('an M8 with a cutter of 4 mm, 3 mm long, takes three stages of 25 turns, the first with three in the air', () => {
  const { moves, facts } = runBlock('clear-tap', { thread: 'M8', tool: 4, 'broken-at': 10, length: 3 });
  const turns = moves.filter(({ arc, from, to }) => arc !== undefined && to[2] < from[2]).length;
  expect(turns).toBe(3 * 25 + 3 + 1 + 1);
  expect(facts.find(({ name }) => name === 'turns')?.text).toBe('80');
  expect(Math.min(...moves.map(({ to }) => to[2]))).toBe(-13);
});
