import { expect, it } from 'vitest';
import { tableOf } from './backdrop.ts';

it('lays the grid in space from the work zero where that is near', () => {
  expect(tableOf([10, 20, -5, 48, 33, 0], 10)).toEqual({ step: 10, low: [-1, -1], high: [6, 5] });
  expect(tableOf([-18, -7, 0, -2, -1, 0], 5)).toMatchObject({ low: [-5, -3], high: [1, 1] });
  expect(tableOf([Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity], 5)).toMatchObject({
    low: [-1, -1],
    high: [1, 1],
  });
});

it('lays it under the path alone where the work zero is far, and coarser where it would be too fine', () => {
  const far = tableOf([2013, 1007, 0, 2086, 1101, 0], 5);
  expect(far.step).toBe(5);
  expect(far.low[0] * 5).toBeGreaterThan(1990);
  expect(far.high[1] * 5).toBeLessThan(1115);
  expect(tableOf([0, 0, 0, 300, 300, 0], 0.5).step).toBe(5);
});
