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
  const count = number('count', 1);
  if (values.pattern === 'list') return at;
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
