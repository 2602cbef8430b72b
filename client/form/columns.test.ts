// Columns keep the order, lose nothing, and are about equally high.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { inColumns } from './columns.ts';

const item = (group: string, lines = 1) => ({ group, lines });

it('shares fields out, with a heading where a group begins', () => {
  const items = [item('A'), item('A'), item('A'), item('B'), item('B'), item('B')];
  const columns = inColumns(items, 2);
  expect(columns.map((parts) => parts.map(({ group, isFirst, items: own }) => [group, isFirst, own.length]))).toEqual([
    [['A', true, 3]],
    [['B', true, 3]],
  ]);
  const split = inColumns([item('A'), item('A'), item('A'), item('A')], 2);
  expect(split.map((parts) => parts.map(({ isFirst, items: own }) => [isFirst, own.length]))).toEqual([
    [[true, 2]],
    [[false, 2]],
  ]);
});

it('keeps the order, and no column is much higher than another', () => {
  const groups = fc.array(
    fc.nat({ max: 8 }).map((count) => count + 1),
    { minLength: 1, maxLength: 8 },
  );
  fc.assert(
    fc.property(groups, fc.integer({ min: 1, max: 4 }), (sizes, count) => {
      const items = sizes.flatMap((size, group) => Array.from({ length: size }, () => item(`G${group}`)));
      const columns = inColumns(items, count);
      expect(columns.flat().flatMap(({ items: own }) => own)).toEqual(items);
      expect(columns.length).toBeLessThanOrEqual(count);
      const heights = columns.map((parts) =>
        parts.reduce((sum, { isFirst, items: own }) => sum + own.length + (isFirst ? 1 : 0), 0),
      );
      expect(Math.max(...heights)).toBeLessThanOrEqual(Math.ceil((items.length + sizes.length) / count) + 2);
    }),
    { seed: 2, numRuns: 2000 },
  );
});
