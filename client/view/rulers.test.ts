import { expect, it } from 'vitest';
import { numbersEvery, rulersCover } from './rulers.ts';

it('numbers as many ticks as there is room for', () => {
  expect(numbersEvery(40, 38)).toBe(1);
  expect(numbersEvery(24, 38)).toBe(2);
  expect(numbersEvery(24, 60)).toBe(5);
  for (let step = 20; step < 70; step += 3) {
    for (let room = 10; room < 300; room += 17) {
      expect(numbersEvery(step, room) * step).toBeGreaterThanOrEqual(room);
    }
  }
});

it('covers nothing in space', () => {
  expect(rulersCover('space')).toEqual({ left: 0, bottom: 0 });
  expect(rulersCover('front').left).toBeGreaterThan(0);
});
