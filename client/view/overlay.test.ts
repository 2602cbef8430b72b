import { expect, it } from 'vitest';
import { type Camera, startCamera } from './camera.ts';
import { pointerLabel } from './overlay.ts';

const size = { width: 800, height: 600 };
const top: Camera = { ...startCamera, target: [10, 20, 0], scale: 10 };

it('gives the coordinates of a flat view’s plane at the pointer', () => {
  expect(pointerLabel(top, size, { x: 450, y: 290 }, undefined, false)).toBe('X 15.000  Y 21.000');
  expect(pointerLabel({ ...top, view: 'front' }, size, { x: 400, y: 305 }, undefined, true)).toBe(
    'X 0.3937  Z −0.0197',
  );
});

it('gives those of the point that the pointer is drawn to, and in space only of such', () => {
  const centre = { kind: 'centre', at: [1, 2, -3], distance: 4, piece: 1, vertex: 7 } as const;
  expect(pointerLabel(top, size, { x: 0, y: 0 }, centre, false)).toBe('centre  X 1.000  Y 2.000');
  const space: Camera = { ...top, view: 'space' };
  expect(pointerLabel(space, size, { x: 0, y: 0 }, centre, false)).toBe('centre  X 1.000  Y 2.000  Z −3.000');
  expect(pointerLabel(space, size, { x: 0, y: 0 }, undefined, false)).toBe('');
});
