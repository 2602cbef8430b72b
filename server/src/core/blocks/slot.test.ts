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

const straight = (values: AnyPocket) => {
  const width = leastWidth(values) + values.wider;
  return { ...sharedRaw(values), angle: values.angle, width, length: width + values.longer };
};
/** The cutter fills the slot: ramp and plunge only. */
const full = (values: AnyPocket) => {
  const width = values.tool + 2 * values['wall-allowance'];
  const entry = values.entry === 'helix' ? 'ramp' : values.entry;
  return { ...straight(values), width, length: width + 4 + values.longer, entry };
};
/** Circles of a cutter that leaves no core. */
const circles = (values: AnyPocket) => {
  const width = leastWidth(values) + Math.min(values.wider, values.tool * 0.8);
  const entry = values.entry === 'ramp' ? 'helix' : values.entry;
  return { ...straight(values), width, length: width + values.longer, style: 'trochoidal', entry };
};

describe('the path of a slot cuts all of it on each level and nothing beyond its walls', () => {
  for (const [name, rawOf] of Object.entries({ straight, full, circles })) {
    const check = (
      values: AnyPocket,
      moves: Parameters<typeof checkPocket>[0],
      context: (typeof PLACES_TO_STAND)[0],
    ) => {
      const { length, width } = rawOf(values);
      checkPocket(moves, values, cutShape(values, [length, width], width / 2, values.angle), context);
    };

    it(name, () => {
      const cases = fc.array(anyPocket, { minLength: 25, maxLength: 25 });
      fc.assert(
        fc.property(fc.constantFrom(...PLACES_TO_STAND), cases, (context, all) => {
          const blocks = runBatch('slot', all.map(rawOf), context);
          for (const [i, { moves }] of blocks.entries()) check(all[i], moves, context);
        }),
        { seed: 1, numRuns: 40 },
      );
    });

    it(`${name}, proved under every profile`, () => {
      fc.assert(
        fc.property(fc.constantFrom(...PLACES_TO_STAND), anyPocket, (context, values) => {
          check(values, runBlock('slot', rawOf(values), context).moves, context);
        }),
        { seed: 2, numRuns: 60 },
      );
    });
  }
});

describe('a slot in circles', () => {
  const raw = {
    ...{
      length: 40,
      width: 14,
      tool: 10,
      depth: 20,
      style: 'trochoidal',
      speed: 3000,
      feed: 500,
      'cutting-length': 22,
    },
  };

  it('goes on by an even step of at most a tenth of the cutter, at the feed at the wall', () => {
    const { moves, facts } = runBlock('slot', raw);
    const rings = moves.filter(
      ({ arc, from, to }) => arc !== undefined && Math.abs(arc.sweep) > 359 && from[2] === to[2],
    );
    // The level turn of the helix, and 27 circles with 26 steps of 1 between their middles at ±13.
    expect(rings).toHaveLength(28);
    const middles = rings.slice(1).map(({ arc }) => arc?.centre[0] ?? Number.NaN);
    for (const [i, middle] of middles.entries()) expect(middle).toBeCloseTo(-13 + i, 3);
    for (const { feed, arc } of rings) {
      expect(arc?.radius).toBeCloseTo(2, 3);
      // 500·(14 − 10)/14 = 142.86.
      expect(feed).toBe(142);
    }
    expect(facts.find(({ name }) => name === 'circles')?.text).toBe('27');
  });

  it('is cut at its full depth where nothing else is asked, and in levels where the flutes are shorter', () => {
    const levels = (more: Record<string, number>): string | undefined =>
      runBlock('slot', { ...raw, ...more }).facts.find(({ name }) => name === 'levels')?.text;
    expect(levels({})).toBe('1');
    expect(levels({ 'cutting-length': 19 })).toBe('2');
    expect(levels({ stepdown: 6 })).toBe('4');
  });

  it('turns with the chosen direction, and goes on along the wall where that is tangent', () => {
    for (const direction of ['climb', 'conventional']) {
      const { moves } = runBlock('slot', { ...raw, direction });
      const steps = moves.flatMap((move, i) =>
        move.kind === 'line' &&
        move.from[2] === move.to[2] &&
        moves[i + 1]?.arc !== undefined &&
        Math.abs(moves[i + 1].arc?.sweep ?? 0) > 359
          ? [[move, moves[i + 1]] as const]
          : [],
      );
      for (const [step, ring] of steps.slice(1)) {
        expect(ring.arc?.clockwise).toBe(direction === 'conventional');
        expect(step.from[1]).toBe(step.to[1]);
        expect(step.to[0]).toBeGreaterThan(step.from[0]);
        expect(step.to[1]).toBeCloseTo(direction === 'conventional' ? 2 : -2, 3);
      }
      expect(steps.length).toBe(27);
    }
  });
});

describe('a slot refuses', () => {
  const said = (raw: Record<string, string | number>): string[] =>
    makeBlock('slot', { length: 40, width: 14, tool: 10, depth: 6, speed: 3000, feed: 500, ...raw }).problems.map(
      ({ message }) => message,
    );

  it('a cutter that does not fit', () => {
    expect(said({ width: 9.9 })).toEqual([
      'A cutter of 10 mm is 0.1 mm too large for a slot of 9.9 mm. Take one of 9.9 mm or less.',
    ]);
    expect(said({ width: 10 })).toEqual([]);
  });

  it('a length that is less than its width', () => {
    expect(said({ length: 13.9 })).toEqual([
      'A slot of 14 mm with round ends is at least as long, and 13.9 mm is 0.1 mm too short. Give the length over the ends, and turn the slot by its angle.',
    ]);
    expect(said({ length: 14 })).toEqual([]);
  });

  it('circles that have no room', () => {
    expect(said({ width: 10.9, style: 'trochoidal' })).toEqual([
      'A cutter of 10 mm has no room for circles in 10.9 mm between the walls. Take one of 8.175 mm or less, or cut straight.',
    ]);
    expect(said({ width: 11, style: 'trochoidal' })).toEqual([]);
  });

  it('circles that leave a core', () => {
    expect(said({ width: 20.1, style: 'trochoidal' })).toEqual([
      'Circles of 10.1 mm on the cutter’s centre leave a core of 0.1 mm standing where they begin. Take a larger cutter, or cut straight.',
    ]);
    expect(said({ width: 20, style: 'trochoidal' })).toEqual([]);
  });

  it('a ramp where circles are to keep the chip thin', () => {
    expect(said({ style: 'trochoidal', entry: 'ramp' })).toHaveLength(1);
    expect(said({ style: 'trochoidal', entry: 'helix' })).toEqual([]);
  });

  it('more circles than make sense', () => {
    expect(said({ length: 114.1, style: 'trochoidal', stepover: 0.5 })).toEqual([
      'It would take 2002 circles a level; the most is 2000. Give a stepover of 0.5 % or more.',
    ]);
    expect(said({ length: 114, style: 'trochoidal', stepover: 0.5 })).toEqual([]);
  });

  it('nothing, with a word on a cutter that fills most of the slot', () => {
    const words = (width: number): number =>
      makeBlock('slot', { ...{ length: 40, tool: 10, depth: 6, speed: 3000, feed: 500 }, width, style: 'trochoidal' })
        .words.length;
    expect(words(13.3)).toBe(1);
    expect(words(13.4)).toBe(0);
  });
});
