import { expect, it } from 'vitest';
import { orbit, startCamera } from './camera.ts';
import { directionOf } from './standardViews.ts';

it('knows a direction again, however often the view was turned round, and none in between', () => {
  expect(directionOf(startCamera)).toBe(0);
  expect(directionOf({ azimuth: -90, elevation: 0 })).toBe(directionOf({ azimuth: 270, elevation: 0 }));
  expect(directionOf({ azimuth: 450, elevation: 0 })).toBe(directionOf({ azimuth: 90, elevation: 0 }));
  expect(directionOf({ azimuth: 0, elevation: 500 })).toBe(-1);
  expect(directionOf(orbit({ ...startCamera, elevation: 0, azimuth: 0 }, 0, 500))).toBe(
    directionOf({ azimuth: 0, elevation: 90 }),
  );
  expect(directionOf({ azimuth: 31, elevation: 35 })).toBe(-1);
});
