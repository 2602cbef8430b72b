import { expect, it } from 'vitest';
import { createPackedPath, PathStyle, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import { type Camera, startCamera } from './camera.ts';
import { depthSeen, linesBounds } from './cameraDepth.ts';

const size = { width: 200, height: 200 };

function pieces() {
  const vertices = [
    [0, 0, 5, 0, PathStyle.none],
    [10, 0, 5, 1, PathStyle.rapid],
    [10, 0, -25, 2, PathStyle.plunge],
    [90, 0, -60, 3, PathStyle.cut],
  ];
  const path = createPackedPath(vertices.length, 0);
  path.origin.set([1, 2, 3]);
  vertices.forEach(([x, y, z, line, style], i) => {
    path.positions.set([x - 1, y - 2, z - 3], 3 * i);
    path.codes[i] = (line << STYLE_BITS) | style;
  });
  return [{ id: 1, firstLine: 20, path, startSeconds: 0, seconds: 0, times: undefined }];
}

it('finds the middle of the depths of what is cut in the picture', () => {
  const camera: Camera = { ...startCamera, target: [10, 0, 0], scale: 10 };
  expect(depthSeen(pieces(), camera, size)).toBeCloseTo(-25, 5);
  expect(depthSeen(pieces(), { ...camera, target: [90, 0, 0] }, size)).toBeCloseTo(-60, 5);
  expect(depthSeen(pieces(), { ...camera, target: [0, 500, 0] }, size)).toBe(0);
});

it('keeps the depth of the target where that is among what is in the picture, and looks at rapids where nothing is cut', () => {
  const front: Camera = { ...startCamera, view: 'front', target: [50, 160, -30], scale: 1 };
  expect(depthSeen(pieces(), front, size)).toBeCloseTo(160, 5);
  const side: Camera = { ...front, view: 'side', target: [40, 0, -30] };
  expect(depthSeen(pieces(), side, size)).toBe(0);
  expect(depthSeen(pieces(), { ...front, target: [10, 27, 5], scale: 10 }, size)).toBeCloseTo(27, 5);
  expect(depthSeen(pieces(), { ...front, target: [10, 4, 5], scale: 10 }, size)).toBe(0);
});

it('finds where lines lie, from where they start', () => {
  expect([...linesBounds(pieces(), 21, 22)].map((value) => Math.round(value * 1e4) / 1e4)).toEqual([
    0, 0, -25, 10, 0, 5,
  ]);
  expect(linesBounds(pieces(), 40, 50)[0]).toBe(Infinity);
});
