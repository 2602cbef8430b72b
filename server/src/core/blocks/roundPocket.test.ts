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
  floorsOf,
  leastWidth,
  sharedRaw,
} from '../../../../tests/harness/pockets.ts';

const rawOf = (values: AnyPocket) => ({ ...sharedRaw(values), diameter: leastWidth(values) + values.longer });
const shapeOf = (values: AnyPocket) => {
  const { diameter } = rawOf(values);
  return cutShape(values, [diameter, diameter], diameter / 2, 0);
};

describe('the path of a round pocket', () => {
  it('cuts all of it on each level and nothing beyond its wall', () => {
    const cases = fc.array(anyPocket, { minLength: 25, maxLength: 25 });
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), cases, (context, all) => {
        const blocks = runBatch('round-pocket', all.map(rawOf), context);
        for (const [i, { moves }] of blocks.entries()) checkPocket(moves, all[i], shapeOf(all[i]), context);
      }),
      { seed: 1, numRuns: 80 },
    );
  });

  it('is proved under every profile', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), anyPocket, (context, values) => {
        checkPocket(runBlock('round-pocket', rawOf(values), context).moves, values, shapeOf(values), context);
      }),
      { seed: 2, numRuns: 80 },
    );
  });

  it('goes once along the wall on each level, in its direction and at F·(D − d)/D', () => {
    fc.assert(
      fc.property(anyPocket, (values) => {
        const raw = rawOf(values);
        const wall = raw.diameter - 2 * values['wall-allowance'];
        const path = (wall - values.tool) / 2;
        const { moves } = runBlock('round-pocket', raw);
        const along = moves.filter(
          ({ arc, from, to }) =>
            arc !== undefined && Math.abs(arc.sweep) > 359 && Math.abs(arc.radius - path) < 0.0011 && from[2] === to[2],
        );
        expect(along.length).toBeGreaterThanOrEqual(floorsOf(values).length);
        const exact = (600 * (wall - values.tool)) / wall;
        for (const { arc, feed } of along) {
          expect(arc?.clockwise).toBe(values.direction === 'conventional');
          expect(feed).toBeLessThanOrEqual(exact + 1e-6);
          expect(feed).toBeGreaterThan(exact - 1);
        }
      }),
      { seed: 3, numRuns: 150 },
    );
  });

  it('steps out on the spiral by no more than the stepover', () => {
    const { moves, facts } = runBlock('round-pocket', {
      ...{ diameter: 63, tool: 10, depth: 4, stepdown: 4, stepover: 40, speed: 3000, feed: 500 },
    });
    const radii = moves.flatMap(({ arc, to, from }) =>
      arc !== undefined && from[2] === to[2] && Math.abs(arc.sweep) < 181 ? [Math.abs(to[0])] : [],
    );
    // From the helix at 4 to the wall at 26.5 in six turns of 3.75, half of it on each half circle; then off the wall.
    const spiral = Array.from({ length: 12 }, (_, i) => 4 + ((i + 1) * 3.75) / 2);
    expect(radii).toHaveLength(13);
    for (const [i, radius] of spiral.entries()) expect(radii[i]).toBeCloseTo(radius, 3);
    expect(radii[12]).toBeCloseTo(26.5 - 5, 3);
    expect(facts.find(({ name }) => name === 'stepover')?.text).toBe('3.75 mm (37.5 %)');
  });
});

describe('a round pocket refuses', () => {
  const said = (raw: Record<string, string | number>): string[] =>
    makeBlock('round-pocket', { diameter: 40, tool: 10, depth: 6, speed: 3000, feed: 500, ...raw }).problems.map(
      ({ message }) => message,
    );

  it('a cutter that has no room to go round', () => {
    expect(said({ tool: 39.3, entry: 'plunge' })).toEqual([
      'A cutter of 39.3 mm has no room to go round in a pocket of 40 mm. Take one of 34.783 mm or less.',
    ]);
    expect(said({ tool: 39.2, entry: 'plunge' })).toEqual([]);
    expect(said({ tool: 39.2, entry: 'plunge', 'wall-allowance': 0.1 })).toHaveLength(1);
  });

  it('an allowance that leaves nothing to cut', () => {
    expect(said({ 'wall-allowance': 20 })).toEqual([
      'With 20 mm left on the wall nothing is cut in a pocket of 40 mm. Leave less than 20 mm.',
    ]);
    expect(said({ 'wall-allowance': 14 })).toEqual([]);
    expect(said({ 'floor-allowance': 6 })).toEqual([
      'With 6 mm left on the floor nothing is cut in a depth of 6 mm. Leave less than 6 mm.',
    ]);
    expect(said({ 'floor-allowance': 5.9 })).toEqual([]);
  });

  it('a stepover of more than the cutter', () => {
    expect(said({ stepover: 100.1 })).toEqual(['Stepover is 100.1 %; the most is 100 %.']);
    expect(said({ stepover: 100 })).toEqual([]);
  });

  it('a corner radius that the cutter has no room for', () => {
    expect(said({ 'corner-radius': 5.01 })).toEqual([
      'A corner radius of 5.01 mm is more than half the cutter of 10 mm. The most is 5 mm, for a ball nose.',
    ]);
    expect(said({ 'corner-radius': 5 })).toEqual([]);
  });
});

describe('a round pocket has a word', () => {
  const words = (raw: Record<string, string | number>): string[] =>
    makeBlock('round-pocket', { diameter: 40, tool: 10, depth: 6, speed: 3000, feed: 500, ...raw }).words.map(
      ({ message }) => message,
    );

  it('on a cutter that leaves chips little room', () => {
    expect(words({ tool: 34.8 })).toEqual([
      'The cutter of 34.8 mm leaves chips little room in a pocket of 40 mm. One of 34.783 mm or less leaves more.',
    ]);
    expect(words({ tool: 34.7 })).toEqual([]);
  });

  it('on a stepover that leaves metal standing', () => {
    expect(words({ stepover: 86 })).toEqual([
      'A stepover of 86 % leaves metal standing between the rounds. 85 % is taken.',
    ]);
    expect(words({ stepover: 85 })).toEqual([]);
  });

  it('on corners that leave ridges on the floor', () => {
    expect(words({ 'corner-radius': 3, stepover: 41 })).toEqual([
      'The corner radius of 3 mm leaves ridges on the floor at a step of 4.1 mm. A stepover of 40 % or less leaves none.',
    ]);
    expect(words({ 'corner-radius': 3, stepover: 40 })).toEqual([]);
  });

  it('on levels, and depths, beyond the flutes', () => {
    expect(words({ stepdown: 6, 'cutting-length': 5 })).toEqual([
      'A level of 6 mm is 1 mm deeper than the flutes of 5 mm are long. Set the depth of cut to 5 mm or less.',
    ]);
    expect(words({ stepdown: 3, 'cutting-length': 5 })).toEqual([
      'The depth of 6 mm is 1 mm more than the flutes of 5 mm. The shank must be thinner than the cutter, or it rubs on the wall.',
    ]);
    expect(words({ stepdown: 6, 'cutting-length': 6 })).toEqual([]);
  });

  it('on a plunge feed above the feed', () => {
    expect(words({ 'plunge-feed': 501 })).toEqual([
      'The plunge feed of 501 mm/min is more than the feed of 500 mm/min. Going down usually takes half of it or less.',
    ]);
    expect(words({ 'plunge-feed': 223 })).toEqual([
      'The plunge feed of 223 mm/min would be more than the feed at the wall of the helix. 222 mm/min is taken.',
    ]);
    expect(words({ 'plunge-feed': 222 })).toEqual([]);
    expect(words({ 'plunge-feed': 500, entry: 'ramp' })).toEqual([]);
  });
});
