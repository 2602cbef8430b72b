/** Patterns of holes are recognised from their places as they are written: any pattern, and what is none. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../tests/bench/program.ts';
import type { Place } from '../blocks/parameter.ts';
import { type Pattern, patternPlaces } from '../blocks/patterns.ts';
import { patternFor } from './liftCodePatterns.ts';

const written = (places: readonly Place[]): Place[] =>
  places.map(([x, y]): Place => [Number(x.toFixed(3)), Number(y.toFixed(3))]);

/** The places that values give, by the block's own code. */
const placesOf = (values: Readonly<Record<string, string>>): readonly Place[] => {
  const at = values.at.split(';').map((text) => text.split(',').map(Number) as unknown as Place);
  const number = (name: string, fallback: number): number => Number(values[name] ?? fallback);
  if (values.pattern === 'list') return at;
  if (values.pattern === 'grid' || values.pattern === 'frame') {
    const pair = (name: string) => values[name].split(',').map(Number) as unknown as readonly [number, number];
    const shape = { counts: pair('count'), spacings: pair('spacing'), angle: number('angle', 0) };
    return patternPlaces({ kind: values.pattern, ...shape }, at[0]);
  }
  const count = number('count', 1);
  const pattern: Pattern =
    values.pattern === 'row'
      ? { kind: 'row', count, spacing: number('spacing', 0), angle: number('angle', 0) }
      : { kind: 'circle', count, radius: number('radius', 0), start: number('start', 0), sweep: number('sweep', 360) };
  return patternPlaces(pattern, at[0]);
};

const largestGap = (a: readonly Place[], b: readonly Place[]): number =>
  a.length === b.length ? Math.max(...a.map(([x, y], i) => Math.hypot(x - b[i][0], y - b[i][1]))) : Number.NaN;

describe('patterns', () => {
  const random = seeded(7);
  const between = (low: number, high: number): number => low + random() * (high - low);
  const whole = (low: number, high: number): number => Math.floor(between(low, high + 1));
  const round = (value: number, places: number): number => Number(value.toFixed(places));

  it('rows are rows, each hole where it was written, in its order', () => {
    for (let i = 0; i < 2000; i++) {
      const first: Place = [round(between(-200, 200), 3), round(between(-200, 200), 3)];
      const pattern: Pattern = {
        kind: 'row',
        count: whole(3, 20),
        spacing: round(between(1, 50), 3),
        angle: [0, 90, 180, -90, 30, round(between(-180, 180), 2)][whole(0, 5)],
      };
      const places = written(patternPlaces(pattern, first));
      const { values, words } = patternFor(places);
      expect(values.pattern, JSON.stringify(pattern)).toBe('row');
      expect(words).toBe(`a row of ${pattern.count} holes`);
      expect(largestGap(placesOf(values), places)).toBeLessThan(0.002);
    }
  });

  it('circles and arcs are circles, either way round', () => {
    for (let i = 0; i < 2000; i++) {
      const isFull = random() < 0.5;
      const count = whole(isFull ? 3 : 4, 24);
      const sweep = (isFull ? 360 : round(between(20, 300), 1)) * (random() < 0.5 ? -1 : 1);
      const centre: Place = [round(between(-100, 100), 2), round(between(-100, 100), 2)];
      const radius = round(between(20, 120), 2);
      const start = round(between(-180, 180), 1);
      const places = written(patternPlaces({ kind: 'circle', count, radius, start, sweep }, centre));
      const { values } = patternFor(places);
      const about = JSON.stringify({ count, sweep, centre, radius, start });
      // Holes close together on a short arc may lie on a line as far as they are written.
      if (!isFull && Math.abs(sweep) < 60 && values.pattern !== 'circle') continue;
      expect(values.pattern, about).toBe('circle');
      expect(largestGap(placesOf(values), places), about).toBeLessThan(0.0025);
    }
  });

  it('grids and frames are found turned any way, to either side, and grids whose rows all go one way too', () => {
    for (let i = 0; i < 2000; i++) {
      const kind = random() < 0.5 ? 'grid' : 'frame';
      const pattern: Pattern = {
        kind,
        // A frame of two rows is a grid.
        counts: [whole(3, 7), whole(kind === 'grid' ? 2 : 3, 6)],
        spacings: [round(between(5, 50), 3), round(between(5, 50), 3) * (random() < 0.5 ? -1 : 1)],
        angle: [0, 90, 180, -90, 30, round(between(-180, 180), 2)][whole(0, 5)],
      };
      const places = written(patternPlaces(pattern, [round(between(-200, 200), 3), round(between(-200, 200), 3)]));
      const { values } = patternFor(places);
      const about = JSON.stringify({ pattern, values });
      expect([values.pattern, values.count], about).toEqual([kind, pattern.counts.join(',')]);
      expect(largestGap(placesOf(values), places), about).toBeLessThan(0.0025);
      if (kind !== 'grid') continue;
      const [along] = pattern.counts;
      const oneWay = Array.from({ length: places.length / along }, (_, row) => {
        const holes = places.slice(row * along, (row + 1) * along);
        return row % 2 === 0 ? holes : holes.reverse();
      }).flat();
      const lifted = patternFor(oneWay);
      expect(lifted.words, about).toBe(`a grid of ${pattern.counts.join(' by ')} holes, the rows to and fro`);
      // Every hole once, in another order.
      const found = placesOf(lifted.values);
      expect(found).toHaveLength(oneWay.length);
      for (const [x, y] of oneWay)
        expect(found.some((place) => Math.hypot(place[0] - x, place[1] - y) < 0.0025)).toBe(true);
    }
  });

  it('a grid with one hole out of its place, or one short, is a list', () => {
    const places = written(patternPlaces({ kind: 'grid', counts: [4, 3], spacings: [10, 12], angle: 0 }, [5, 5]));
    const moved = places.map(([x, y], i): Place => (i === 6 ? [x + 0.01, y] : [x, y]));
    expect(patternFor(places).words).toBe('a grid of 4 by 3 holes');
    expect(patternFor(moved).values.pattern).toBe('list');
    expect(patternFor(places.slice(0, -1)).values.pattern).toBe('list');
  });

  it('what is neither stays a list of the same places', () => {
    let lists = 0;
    for (let i = 0; i < 2000; i++) {
      const places = Array.from(
        { length: whole(1, 8) },
        (): Place => [round(between(-100, 100), 3), round(between(-100, 100), 3)],
      );
      const { values } = patternFor(places);
      if (values.pattern === 'list') lists++;
      expect(largestGap(placesOf(values), places)).toBeLessThan(0.002);
    }
    expect(lists).toBe(2000);
  });

  it('a circle with one hole out of its place is a list', () => {
    const places = written(patternPlaces({ kind: 'circle', count: 6, radius: 30, start: 0, sweep: 360 }, [0, 0]));
    const moved = places.map(([x, y], i): Place => (i === 2 ? [x + 0.01, y] : [x, y]));
    expect(patternFor(places).values.pattern).toBe('circle');
    expect(patternFor(moved).values.pattern).toBe('list');
  });
});
