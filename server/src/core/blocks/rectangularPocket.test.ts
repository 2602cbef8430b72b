import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../../../tests/harness/blockBatch.ts';
import { makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { PLACES_TO_STAND } from '../../../../tests/harness/helixWays.ts';
import {
  type AnyPocket,
  anyPocket,
  checkPocket,
  cutShape,
  leastWidth,
  sharedRaw,
} from '../../../../tests/harness/pockets.ts';

const rawOf = (values: AnyPocket) => {
  const { angle, longer, wider, rounder, tool } = values;
  const [length, width] = [leastWidth(values) + longer, leastWidth(values) + wider];
  return { ...sharedRaw(values), angle, length, width, corner: Math.min(tool / 2 + rounder, length / 2, width / 2) };
};
const shapeOf = (values: AnyPocket) => {
  const { length, width, corner } = rawOf(values);
  return cutShape(values, [length, width], corner, values.angle);
};

describe('the path of a rectangular pocket', () => {
  it('cuts all of it on each level and nothing beyond its walls', () => {
    const cases = fc.array(anyPocket, { minLength: 25, maxLength: 25 });
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), cases, (context, all) => {
        const blocks = runBatch('rectangular-pocket', all.map(rawOf), context);
        for (const [i, { moves }] of blocks.entries()) checkPocket(moves, all[i], shapeOf(all[i]), context);
      }),
      { seed: 1, numRuns: 80 },
    );
  });

  it('is proved under every profile', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), anyPocket, (context, values) => {
        checkPocket(runBlock('rectangular-pocket', rawOf(values), context).moves, values, shapeOf(values), context);
      }),
      { seed: 2, numRuns: 80 },
    );
  });

  it('keeps the feed at the wall in its corners, and goes round in its direction', () => {
    fc.assert(
      fc.property(anyPocket, (values) => {
        const { moves } = runBlock('rectangular-pocket', rawOf(values));
        for (const { arc, feed, from, to } of moves) {
          if (arc === undefined || from[2] !== to[2]) continue;
          expect(arc.clockwise).toBe(values.direction === 'conventional');
          const exact = (600 * arc.radius) / (arc.radius + values.tool / 2);
          // Radii are read back from numbers with 3 decimals.
          const off = (600 * 0.0015) / (arc.radius + values.tool / 2) + 1e-6;
          expect(feed).toBeLessThanOrEqual(exact + off);
          expect(feed).toBeGreaterThan(exact - off - 1);
        }
      }),
      { seed: 3, numRuns: 150 },
    );
  });

  it('runs the level’s rounds one step further out each', () => {
    const { moves } = runBlock('rectangular-pocket', {
      ...{ length: 60, width: 40, corner: 5, tool: 10, depth: 3, stepover: 50, speed: 3000, feed: 500 },
    });
    const sides = moves.flatMap(({ kind, from, to }) =>
      kind === 'line' && from[2] === -3 && to[2] === -3 && from[1] === to[1] && to[0] < from[0] && to[1] > 0
        ? [to[1]]
        : [],
    );
    expect(sides).toEqual([5, 10, 15]);
  });
});

describe('a rectangular pocket refuses', () => {
  const said = (raw: Record<string, string | number>): string[] =>
    makeBlock('rectangular-pocket', {
      length: 60,
      width: 40,
      tool: 10,
      depth: 6,
      speed: 3000,
      feed: 500,
      ...raw,
    }).problems.map(({ message }) => message);

  it('a cutter that does not fit', () => {
    expect(said({ width: 9.9, entry: 'ramp' })).toEqual([
      'A cutter of 10 mm is 0.1 mm too large for a pocket of 9.9 mm. Take one of 9.9 mm or less.',
    ]);
    expect(said({ width: 10, entry: 'ramp' })).toEqual([]);
    expect(said({ width: 10.3, entry: 'ramp', 'wall-allowance': 0.2 })).toEqual([
      'A cutter of 10 mm is 0.1 mm too large for a pocket of 10.3 mm with 0.2 mm left on each wall. Take one of 9.9 mm or less.',
    ]);
    expect(said({ width: 10.4, entry: 'ramp', 'wall-allowance': 0.2 })).toEqual([]);
    expect(said({ 'wall-allowance': 20 })).toEqual([
      'With 20 mm left on each wall nothing is cut in a pocket of 40 mm. Leave less than 20 mm.',
    ]);
  });

  it('corners sharper than the cutter', () => {
    expect(said({ corner: 4.9 })).toEqual([
      'A cutter of 10 mm cannot cut corners of 4.9 mm: it leaves 5 mm. Take a cutter of 9.8 mm or less, or give corners of 5 mm or more.',
    ]);
    expect(said({ corner: 5 })).toEqual([]);
  });

  it('corners that do not fit into the width', () => {
    expect(said({ corner: 20.1 })).toEqual(['Corners of 20.1 mm do not fit into a width of 40 mm. The most is 20 mm.']);
    expect(said({ corner: 20 })).toEqual([]);
  });

  it('a straight plunge without a cutter for it', () => {
    expect(said({ entry: 'plunge', 'centre-cutting': 'no' })).toEqual([
      'The cutter does not cut over its centre and cannot go straight down. Take the helix or the ramp as the way in.',
    ]);
    expect(said({ entry: 'plunge' })).toEqual([]);
  });

  it('a helix or ramp without room', () => {
    expect(said({ width: 10.9 })).toEqual([
      'There is only room for a helix of 0.9 mm across on the cutter’s centre, and it takes 1 mm. Take a smaller cutter, or another way in.',
    ]);
    expect(said({ width: 11 })).toEqual([]);
    expect(said({ width: 14.9, 'centre-cutting': 'no' })).toEqual([
      'There is only room for a helix of 4.9 mm across on the cutter’s centre, and it takes 5 mm, or a plug would stand under a cutter that does not cut over its centre. Take a smaller cutter, or one that cuts over its centre.',
    ]);
    expect(said({ width: 15, 'centre-cutting': 'no' })).toEqual([]);
    expect(said({ length: 19, width: 19, entry: 'ramp', 'centre-cutting': 'no' })).toHaveLength(1);
    expect(said({ length: 20, width: 20, entry: 'ramp', 'centre-cutting': 'no' })).toEqual([]);
  });

  it('a ramp steeper than the cutter stands', () => {
    expect(said({ 'ramp-angle': 2.1, 'ramp-limit': 2 })).toEqual([
      'A ramp of 2.1° is 0.1° over the cutter’s limit. Give 2° or less.',
    ]);
    expect(said({ 'ramp-angle': 2, 'ramp-limit': 2 })).toEqual([]);
  });

  it('a way down of very many turns', () => {
    // On a radius of 0.5 and 1° a turn goes down 0.0548, less a last digit; it begins 0.5 above.
    expect(said({ width: 11, 'ramp-angle': 1, depth: 15.7, stepdown: 16 })).toEqual([
      'The way down would take 301 turns a level at 1°; the most is 300. Give a steeper ramp angle, a smaller depth of cut, or another way in.',
    ]);
    expect(said({ width: 11, 'ramp-angle': 1, depth: 15.6, stepdown: 16 })).toEqual([]);
  });
});

it('keeps the way down within the ramp angle', () => {
  fc.assert(
    fc.property(anyPocket, fc.constantFrom(1, 2.5, 5), (values, limit) => {
      const entry = values.entry === 'plunge' ? 'helix' : values.entry;
      const raw = { ...rawOf(values), entry, 'ramp-limit': limit, 'wall-allowance': 0, longer: 0 };
      const { longer: _, ...given } = raw;
      const made = makeBlock('rectangular-pocket', given);
      fc.pre(made.lines !== undefined);
      for (const { kind, arc, from, to, feed } of runBlock('rectangular-pocket', given).moves) {
        if (kind === 'rapid' || to[2] >= from[2] || (to[0] === from[0] && to[1] === from[1] && arc === undefined))
          continue;
        const way = arc === undefined ? Math.hypot(to[0] - from[0], to[1] - from[1]) : 2 * Math.PI * arc.radius;
        // Half a last digit in the height, and in the length of a short way.
        const steepest = Math.tan((limit * Math.PI) / 180) * (way + 0.01) + 0.0011;
        expect(from[2] - to[2]).toBeLessThan(steepest);
        const wall = arc === undefined ? 300 : (600 * arc.radius) / (arc.radius + values.tool / 2) + 0.2;
        expect(feed).toBeLessThanOrEqual(Math.min(300, wall));
      }
    }),
    { seed: 4, numRuns: 150 },
  );
});
