/** Slots, straight and in circles, against the area that clipper2-ts (a general polygon library) finds swept by the cutter. */
import { describe, expect, it, test } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';
import { cutsOn, type RoundedRectangle } from '../../harness/sweptArea.ts';
import { areaOf, areaWithout, outlineOf, sweptBy } from '../../harness/sweptPolygon.ts';

const OFF = 0.006;

describe('the swept area is the slot', () => {
  test.each<[string, number, number, number, Record<string, string | number>]>([
    ['as wide as the cutter', 60, 10, 10, {}],
    ['with one round', 60, 14, 10, {}],
    ['with several rounds, turned', 80, 40, 10, { angle: 40 }],
    ['in circles', 40, 14, 10, { style: 'trochoidal', stepover: 25 }],
    [
      'in few large circles, conventional',
      60,
      19,
      10,
      { style: 'trochoidal', stepover: 60, direction: 'conventional' },
    ],
    ['in circles after a plunge', 35, 16, 10, { style: 'trochoidal', stepover: 30, entry: 'plunge', angle: 100 }],
  ])('%s', (_, length, width, tool, more) => {
    const { moves } = runBlock('slot', { length, width, tool, depth: 3, speed: 3000, feed: 500, stepdown: 3, ...more });
    const half = { halfLength: length / 2, halfWidth: width / 2, corner: width / 2 };
    const shape = (rim: number): RoundedRectangle => ({
      ...{ halfLength: half.halfLength - rim, halfWidth: half.halfWidth - rim, corner: half.corner - rim },
      ...{ centre: [0, 0], angle: Number(more.angle ?? 0) },
    });
    const outline = outlineOf(shape(0));
    // A slot of this length over its round ends: (L − W)·W + π·W²/4.
    expect(areaOf(outline)).toBeCloseTo((length - width) * width + (Math.PI * width * width) / 4, 0);
    const swept = sweptBy(cutsOn(moves, -3), tool / 2);
    const perimeter = 2 * (length - width) + Math.PI * width;
    expect(areaWithout(swept, outline)).toBeLessThan(OFF * perimeter);
    expect(areaWithout(outline, swept)).toBeLessThan(OFF * perimeter);
    // Within the rim nothing stands, not the smallest piece.
    expect(areaWithout(outlineOf(shape(0.02)), swept)).toBeLessThan(0.0005);
  });
});

it('takes in circles no wider a chip than the step, once the slot is open', () => {
  // What each circle sweeps that the ones before it did not: at most step × width of slot, as a band between two equal circles.
  const { moves } = runBlock('slot', {
    ...{ length: 25, width: 15, tool: 10, depth: 3, style: 'trochoidal', stepover: 10, speed: 3000, feed: 500 },
  });
  const cuts = cutsOn(moves, -3);
  const isRing = (i: number): boolean => Math.abs(cuts[i]?.arc?.sweep ?? 0) > 359;
  const rings = cuts.map((_, i) => i).filter(isRing);
  for (const ring of rings.slice(2, 6)) {
    const before = sweptBy(cuts.slice(0, ring - 1), 5);
    const fresh = areaWithout(sweptBy(cuts.slice(ring - 1, ring + 1), 5), before);
    expect(fresh).toBeLessThan(1 * 15 * 1.02);
    expect(fresh).toBeGreaterThan(1 * 15 * 0.9);
  }
});
