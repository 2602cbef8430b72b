import { expect, it } from 'vitest';
import { startCamera } from './camera.ts';
import { isZeroSeen, numbersEvery, rulersCover } from './rulers.ts';

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

it('a work zero under a ruler or out of the picture is not seen', () => {
  const size = { width: 400, height: 300 };
  const seen = (view: 'top' | 'space', x: number, y: number) =>
    isZeroSeen({ ...startCamera, view, target: [x, y, 0], scale: 1 }, size);
  expect(seen('top', 0, 0)).toBe(true);
  // 400 pixels are 400 mm about the middle; the ruler takes those at the left and at the lower edge.
  expect(seen('top', 160, 0)).toBe(false);
  expect(seen('top', 140, 0)).toBe(true);
  expect(seen('top', 0, 140)).toBe(false);
  expect(seen('top', 0, 120)).toBe(true);
  expect(seen('top', -210, 0)).toBe(false);
  expect(seen('space', 0, 0)).toBe(true);
  expect(seen('space', 1000, 1000)).toBe(false);
});
