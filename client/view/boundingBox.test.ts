import { describe, expect, it } from 'vitest';
import { boxSizes } from './boundingBox.ts';
import { type Camera, startCamera } from './camera.ts';

const size = { width: 800, height: 600 };
const bounds = [-15, -5, -14.5, 85, 65, 2];
const camera: Camera = { ...startCamera, view: 'space', target: [35, 30, -6] };

describe('the box about the path', () => {
  it('has its three sizes, apart from each other and outside its middle', () => {
    for (const lens of ['parallel', 'perspective'] as const) {
      const sizes = boxSizes({ ...camera, lens }, size, bounds, false);
      expect(sizes.map(({ text }) => text)).toEqual(['X 100.000', 'Y 70.000', 'Z 16.500']);
      for (const [i, one] of sizes.entries()) {
        for (const other of sizes.slice(i + 1)) {
          expect(Math.hypot(one.x - other.x, one.y - other.y)).toBeGreaterThan(40);
        }
      }
    }
  });

  it('has no size along the line of sight, and inches where the program has them', () => {
    const above = { ...camera, azimuth: 0, elevation: 90 };
    expect(boxSizes(above, size, bounds, false).map(({ text }) => text)).toEqual(['X 100.000', 'Y 70.000']);
    expect(boxSizes(above, size, [0, 0, 0, 25.4, 50.8, 0], true)[0].text).toBe('X 1.0000');
  });
});
