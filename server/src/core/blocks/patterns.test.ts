import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Place } from './parameter.ts';
import { anglePitch, closestPair, holeCount, type Pattern, patternPlaces } from './patterns.ts';

const SEED = { seed: 20251128, numRuns: 2000 };
const length = fc.integer({ min: -200_000, max: 200_000 }).map((value) => value / 1000);
const spacing = length.filter((value) => Math.abs(value) > 0.1);
const angle = fc.integer({ min: -3600, max: 3600 }).map((value) => value / 10);
const place = fc.tuple(length, length);
const counts = fc.tuple(fc.integer({ min: 2, max: 9 }), fc.integer({ min: 2, max: 9 }));

const distance = (a: Place, b: Place): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const expectNear = (value: number, wanted: number): void => {
  if (!(Math.abs(value - wanted) < 1e-9 * Math.max(1, Math.abs(wanted)) + 1e-9)) expect(value).toBe(wanted);
};

/** Where a place lies in the pattern's own directions: along and across from the first hole, in spacings. */
const steps = (places: readonly Place[], at: Place, turn: number, [dx, dy]: readonly [number, number]): string[] => {
  const radians = (turn * Math.PI) / 180;
  return places.map(([x, y]) => {
    const [u, v] = [x - at[0], y - at[1]];
    const along = (u * Math.cos(radians) + v * Math.sin(radians)) / dx;
    const across = (v * Math.cos(radians) - u * Math.sin(radians)) / dy;
    const off = Math.abs(along - Math.round(along)) + Math.abs(across - Math.round(across));
    // Quicker than an expectation, of which there are a hundred thousand.
    if (!(off < 1e-6)) throw new Error(`${x},${y} lies ${off} off the pattern.`);
    return `${Math.round(along) + 0},${Math.round(across) + 0}`;
  });
};

describe('a circle', () => {
  it('has its holes on the radius, evenly spaced, from the start over the sweep', () => {
    const circles = fc.record({
      count: fc.integer({ min: 1, max: 60 }),
      radius: length.filter((value) => value > 0.1),
      start: angle,
      sweep: fc.oneof(fc.constantFrom(360, -360), angle),
      at: place,
    });
    fc.assert(
      fc.property(circles, ({ at, count, radius, start, sweep }) => {
        const places = patternPlaces({ kind: 'circle', count, radius, start, sweep }, at);
        expect(places).toHaveLength(count);
        for (const one of places) expectNear(distance(one, at), radius);
        const isFull = Math.abs(sweep) === 360;
        const pitch = isFull ? sweep / count : sweep / Math.max(1, count - 1);
        const chord = 2 * radius * Math.abs(Math.sin((pitch * Math.PI) / 360));
        for (let i = 1; i < count; i++) expectNear(distance(places[i - 1], places[i]), chord);
        if (isFull && count > 1) expectNear(distance(places[count - 1], places[0]), chord);
        const polar = (degrees: number): Place => [
          at[0] + radius * Math.cos((degrees * Math.PI) / 180),
          at[1] + radius * Math.sin((degrees * Math.PI) / 180),
        ];
        expectNear(distance(places[0], polar(start)), 0);
        if (!isFull && count > 1)
          expect(distance(places[count - 1], polar(start + sweep))).toBeLessThan(1e-9 * radius + 1e-9);
      }),
      SEED,
    );
  });

  it('goes clockwise with a negative sweep', () => {
    const [, second] = patternPlaces({ kind: 'circle', count: 4, radius: 10, start: 0, sweep: -360 }, [0, 0]);
    expect(second[1]).toBeCloseTo(-10, 12);
  });

  it('divides a full circle by the count, and a part arc by the count less one', () => {
    expect(anglePitch(6, 360)).toBe(60);
    expect(anglePitch(6, 350)).toBe(70);
    expect(anglePitch(1, 90)).toBe(90);
  });
});

describe('a row, a grid and a frame', () => {
  it('a row goes on by its spacing in its direction', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), spacing, angle, place, (count, step, turn, at) => {
        const places = patternPlaces({ kind: 'row', count, spacing: step, angle: turn }, at);
        expect(steps(places, at, turn, [step, 1])).toEqual(Array.from({ length: count }, (_, i) => `${i},0`));
      }),
      SEED,
    );
  });

  it('a grid has every crossing once, and goes one spacing from hole to hole', () => {
    fc.assert(
      fc.property(counts, fc.tuple(spacing, spacing), angle, place, (both, spacings, turn, at) => {
        const found = steps(
          patternPlaces({ kind: 'grid', counts: both, spacings, angle: turn }, at),
          at,
          turn,
          spacings,
        );
        expect(found).toHaveLength(both[0] * both[1]);
        expect(new Set(found).size).toBe(found.length);
        expect(found.slice(1).filter((one, i) => way(found[i], one) !== 1)).toEqual([]);
      }),
      SEED,
    );
  });

  it('a frame has every hole of the edge once, none inside, and goes round', () => {
    fc.assert(
      fc.property(counts, fc.tuple(spacing, spacing), angle, place, (both, spacings, turn, at) => {
        const pattern: Pattern = { kind: 'frame', counts: both, spacings, angle: turn };
        const found = steps(patternPlaces(pattern, at), at, turn, spacings);
        expect(found).toHaveLength(holeCount(pattern));
        expect(new Set(found).size).toBe(2 * (both[0] + both[1]) - 4);
        const isInside = ([along, across]: number[]): boolean =>
          along > 0 && across > 0 && along < both[0] - 1 && across < both[1] - 1;
        expect(found.filter((one) => isInside(pair(one)))).toEqual([]);
        expect(found.filter((one, i) => way(one, found[(i + 1) % found.length]) !== 1)).toEqual([]);
      }),
      SEED,
    );
  });
});

const pair = (text: string): number[] => text.split(',').map(Number);
const way = (from: string, to: string): number => {
  const [a, b] = [pair(from), pair(to)];
  return Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]);
};

describe('the closest pair', () => {
  it('is the same as by comparing all with all', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 30 }), (places) => {
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i < places.length; i++)
          for (let j = i + 1; j < places.length; j++) least = Math.min(least, distance(places[i], places[j]));
        const found = closestPair(places) ?? expect.fail('none');
        expect(found.distance).toBe(least);
        expect(distance(places[found.first], places[found.second])).toBe(least);
        expect(found.first).toBeLessThan(found.second);
      }),
      SEED,
    );
  });

  it('is none of a single place', () => {
    expect(closestPair([[1, 2]])).toBeUndefined();
  });
});
