// Groups keep order and place, none is lost, and no column could be lower.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Columns, shareOut } from './columns.ts';

const groupsOf = (sizes: readonly number[]) => sizes.map((lines, index) => ({ name: `G${index}`, lines }));
const sizes = fc.array(fc.integer({ min: 1, max: 14 }), { minLength: 1, maxLength: 8 });
const heightOf = (column: readonly string[], groups: readonly { name: string; lines: number }[]): number =>
  groups.reduce((sum, { name, lines }) => sum + (column.includes(name) ? lines : 0), 0);

/** The least height of the highest column, by trying every way to cut the list. */
const bestHeight = (list: readonly number[], count: number): number => {
  if (count === 1) return list.reduce((sum, lines) => sum + lines, 0);
  let best = Number.POSITIVE_INFINITY;
  let first = 0;
  for (let cut = 1; cut <= list.length; cut++) {
    first += list[cut - 1];
    best = Math.min(best, Math.max(first, cut < list.length ? bestHeight(list.slice(cut), count - 1) : 0));
  }
  return best;
};

it('keeps the order and whole groups, as low as can be', () => {
  fc.assert(
    fc.property(sizes, fc.integer({ min: 1, max: 4 }), (list, count) => {
      const groups = groupsOf(list);
      const columns = shareOut(groups, count);
      expect(columns.flat()).toEqual(groups.map(({ name }) => name));
      expect(columns.length).toBeLessThanOrEqual(count);
      expect(Math.max(...columns.map((column) => heightOf(column, groups)))).toBe(bestHeight(list, count));
    }),
    { seed: 2, numRuns: 2000 },
  );
});

it('leaves every group where it is while others come and go', () => {
  const steps = fc.array(fc.uniqueArray(fc.nat({ max: 7 }), { minLength: 1 }), { minLength: 2, maxLength: 6 });
  fc.assert(
    fc.property(steps, fc.integer({ min: 2, max: 4 }), (all, count) => {
      const order = Array.from({ length: 8 }, (_, index) => `G${index}`);
      const columns = new Columns(order);
      const places = new Map<string, string>();
      for (const step of all) {
        const seen = [...step].sort((a, b) => a - b).map((index) => ({ name: `G${index}`, lines: index + 2 }));
        const now = columns.place(seen, count);
        expect(new Set(now.flat()).size).toBe(now.flat().length);
        for (const { name } of seen) {
          const column = now.findIndex((names) => names.includes(name));
          expect(column).toBeGreaterThanOrEqual(0);
          const place = `${column}/${now[column].indexOf(name)}`;
          expect(places.get(name) ?? place).toBe(place);
          places.set(name, place);
        }
      }
    }),
    { seed: 3, numRuns: 2000 },
  );
});

it('puts a new group into its order in a single column, and shares out anew at another width', () => {
  const columns = new Columns(['A', 'B', 'C']);
  const [a, b, c] = ['A', 'B', 'C'].map((name) => ({ name, lines: 3 }));
  expect(columns.place([a, c], 1)).toEqual([['A', 'C']]);
  expect(columns.place([a, b, c], 1)).toEqual([['A', 'B', 'C']]);
  expect(columns.place([a, b, c], 3)).toEqual([['A'], ['B'], ['C']]);
});
