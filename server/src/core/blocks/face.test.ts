import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../../../tests/harness/blockBatch.ts';
import { makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { PLACES_TO_STAND } from '../../../../tests/harness/helixWays.ts';
import { cutsOn, distanceFrom, outsideBy, placeIn, placesAlong } from '../../../../tests/harness/sweptArea.ts';
import type { TracedMove } from '../features/trace.ts';

const tenths = (least: number, most: number) => fc.integer({ min: least * 10, max: most * 10 }).map((n) => n / 10);
const share = fc.integer({ min: -1000, max: 1000 }).map((n) => n / 1000);
const anyFace = fc.record({
  length: tenths(5, 200),
  width: tenths(5, 200),
  tool: fc.constantFrom(10, 20, 50, 63),
  'corner-radius': fc.constantFrom(0, 0, 0.8, 3),
  depth: tenths(0.2, 5),
  stepdown: fc.constantFrom(1, 2.2, 10),
  stepover: fc.constantFrom(30, 65, 70, 100),
  overrun: fc.constantFrom(0, 2, 5.5),
  direction: fc.constantFrom('both', 'climb', 'conventional'),
  angle: fc.constantFrom(0, 0, 90, 17),
  at: fc.constantFrom('0,0', '50,-12.3'),
  top: fc.constantFrom(0, 4.5),
  shares: fc.array(fc.tuple(share, share), { minLength: 20, maxLength: 20 }),
});
type AnyFace = typeof anyFace extends fc.Arbitrary<infer T> ? T : never;
const rawOf = ({ shares: _, ...raw }: AnyFace) => ({ speed: 2000, feed: 800, ...raw });

/** All of the surface is under the flat of the cutter on each level, and the rows keep to their overrun. @throws */
const check = (moves: readonly TracedMove[], values: AnyFace, inch: boolean): void => {
  const { length, width, tool, 'corner-radius': corner, depth, stepdown, overrun, top, angle, at, shares } = values;
  const [x, y] = at.split(',').map(Number);
  const surface = { centre: [x, y] as const, halfLength: length / 2, halfWidth: width / 2, corner: 0, angle };
  const room = inch ? 0.0048 : 0.0025;
  const must = (holds: boolean, what: string): void => {
    if (!holds) throw new Error(`${what}: ${JSON.stringify(values)}`);
  };
  const count = Math.ceil(depth / stepdown - 1e-9);
  for (let i = 1; i <= count; i++) {
    const floor = top - (depth * i) / count;
    const level = inch ? Number((floor / 25.4).toFixed(4)) * 25.4 : Number(floor.toFixed(3));
    const cuts = cutsOn(moves, level);
    for (const [along, across] of [[1, 1], [1, -1], [-1, 1], [-1, -1], ...shares]) {
      const place = placeIn(surface, along, across);
      const far = Math.min(...cuts.map((move) => distanceFrom(place, move))) - (tool / 2 - corner);
      must(far < room, `${place} is not faced on ${level}, by ${far}`);
    }
  }
  const around = { ...surface, halfLength: length / 2 + tool / 2 + overrun, halfWidth: width / 2 + tool };
  for (const move of moves.filter(({ from, to }) => Math.min(from[2], to[2]) < top - 1e-6)) {
    for (const place of placesAlong(move, 20)) must(outsideBy(place, around) < room, `${place} is off the rows`);
    const isStraightUp = move.from[0] === move.to[0] && move.from[1] === move.to[1] && move.to[2] > move.from[2];
    must(move.kind !== 'rapid' || isStraightUp, 'A rapid below the top');
    // The cutter goes down beside the surface.
    const isDown = move.to[2] < move.from[2];
    must(!isDown || outsideBy([move.to[0], move.to[1]], surface) > tool / 2 + overrun - room, 'Down on the surface');
  }
};

describe('the rows of a face', () => {
  it('cover it on each level and begin beside it', () => {
    const cases = fc.array(anyFace, { minLength: 25, maxLength: 25 });
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), cases, (context, all) => {
        const blocks = runBatch('face', all.map(rawOf), context);
        for (const [i, { moves }] of blocks.entries()) check(moves, all[i], context.entry.units === 'inch');
      }),
      { seed: 1, numRuns: 80 },
    );
  });

  it('are proved under every profile', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), anyFace, (context, values) => {
        check(runBlock('face', rawOf(values), context).moves, values, context.entry.units === 'inch');
      }),
      { seed: 2, numRuns: 80 },
    );
  });

  const rows = (raw: Record<string, string | number>) =>
    runBlock('face', { length: 100, width: 60, tool: 20, depth: 1, overrun: 0, speed: 2000, feed: 800, ...raw })
      .moves.filter(({ kind, from, to }) => kind === 'line' && from[1] === to[1] && from[2] === to[2])
      .map(({ from, to }) => [from[0], to[0], Number(from[1].toFixed(3))]);

  it('run to and fro, or all one way with the metal on the side that was asked for', () => {
    // 60 and 1 beyond the edge in five rows of 12.2, the first one from the edge at +30.
    const places = [27.8, 15.6, 3.4, -8.8, -21];
    expect(rows({})).toEqual(places.map((y, i) => (i % 2 === 0 ? [-60, 60, y] : [60, -60, y])));
    // Climb: a right-hand cutter that goes to +X has the metal on its right, at −Y.
    expect(rows({ direction: 'climb' })).toEqual(places.map((y) => [-60, 60, y]));
    expect(rows({ direction: 'conventional' })).toEqual(places.map((y) => [-60, 60, -y]));
  });

  it('are no wider than the stepover', () => {
    // 61 mm in four rows are 15.25, 76.25 % of the cutter.
    expect(rows({ stepover: 76.25 })).toHaveLength(4);
    expect(rows({ stepover: 76.2 })).toHaveLength(5);
  });
});

describe('a face', () => {
  const made = (raw: Record<string, string | number>) =>
    makeBlock('face', { length: 100, width: 60, tool: 20, depth: 1, speed: 2000, feed: 800, ...raw });

  it('refuses a ball nose', () => {
    expect(made({ 'corner-radius': 10 }).problems.map(({ message }) => message)).toEqual([
      'A ball nose leaves no flat face. Take a cutter with a flat bottom.',
    ]);
    expect(made({ 'corner-radius': 9.5 }).problems).toEqual([]);
  });

  it('refuses to leave all of it', () => {
    expect(made({ 'floor-allowance': 1 }).problems.map(({ message }) => message)).toEqual([
      'With 1 mm left nothing is taken off 1 mm. Leave less than that.',
    ]);
    expect(made({ 'floor-allowance': 0.9 }).problems).toEqual([]);
  });

  it('has a word on rows wider than the flat of the cutter', () => {
    expect(made({ 'corner-radius': 2, stepover: 81 }).words.map(({ message }) => message)).toEqual([
      'Rows of 16.2 mm would leave ridges between them, since the corners are round. 16 mm is taken, the cutter’s flat.',
    ]);
    expect(made({ 'corner-radius': 2, stepover: 80 }).words).toEqual([]);
  });
});
