// Projection against `three`'s orthographic camera, a general 3-D library.
import { OrthographicCamera, PerspectiveCamera, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import {
  aimAt,
  basisOf,
  type Camera,
  cornersOf,
  dot,
  eyeDistance,
  fitTo,
  orbit,
  pan,
  pointAt,
  project,
  projectLine,
  reachOf,
  readCamera,
  startCamera,
  VIEW_ANGLE,
  zoom,
} from './camera.ts';

const size = { width: 800, height: 600 };
const views = ['top', 'front', 'side', 'space'] as const;
const cameraOf = (view: Camera['view']): Camera => ({
  view,
  target: [10, -5, 3],
  scale: 7,
  azimuth: 40,
  elevation: 25,
});

/** Where `three` sees a point: eye along `toward`, Z up (Y up from above). */
function seenByLibrary(camera: Camera, point: Vector3): { x: number; y: number } {
  const { width, height } = size;
  const other = new OrthographicCamera(-width / 2, width / 2, height / 2, -height / 2, -1e4, 1e4);
  const target = new Vector3(...camera.target);
  other.zoom = camera.scale;
  other.up.set(0, camera.view === 'top' ? 1 : 0, camera.view === 'top' ? 0 : 1);
  other.position.copy(target).add(new Vector3(...basisOf(camera).toward).multiplyScalar(100));
  other.lookAt(target);
  other.updateProjectionMatrix();
  other.updateMatrixWorld();
  const seen = point.clone().project(other);
  return { x: (width / 2) * (1 + seen.x), y: (height / 2) * (1 - seen.y) };
}

describe('the camera', () => {
  it.each(views)('sees points where a general library sees them: %s', (view) => {
    const camera = cameraOf(view);
    for (const point of [
      [0, 0, 0],
      [10, -5, 3],
      [40, 22, -17.5],
    ] as const) {
      const seen = project(camera, size, point);
      const expected = seenByLibrary(camera, new Vector3(...point));
      expect(seen.x).toBeCloseTo(expected.x, 6);
      expect(seen.y).toBeCloseTo(expected.y, 6);
    }
  });

  it.each(views)('has right-handed unit directions: %s', (view) => {
    const { right, up, toward } = basisOf(cameraOf(view));
    expect(new Vector3(...right).cross(new Vector3(...up)).distanceTo(new Vector3(...toward))).toBeLessThan(1e-12);
    expect(dot(up, up)).toBeCloseTo(1, 12);
  });

  it('looks from the front where space is turned to nothing, and from above at 90 degrees', () => {
    const front = basisOf({ ...cameraOf('space'), azimuth: 0, elevation: 0 });
    front.toward.forEach((part, i) => {
      expect(part).toBeCloseTo([0, -1, 0][i], 12);
    });
    const above = basisOf({ ...cameraOf('space'), azimuth: 0, elevation: 90 });
    above.toward.forEach((part, i) => {
      expect(part).toBeCloseTo([0, 0, 1][i], 12);
    });
  });

  it.each(views)('finds the point under a pixel again: %s', (view) => {
    const camera = cameraOf(view);
    const seen = project(camera, size, pointAt(camera, size, 123, 456));
    expect(seen.x).toBeCloseTo(123, 8);
    expect(seen.y).toBeCloseTo(456, 8);
  });

  it('moves the picture with the pointer', () => {
    const camera = cameraOf('front');
    const before = project(camera, size, [1, 2, 3]);
    const after = project(pan(camera, 30, -12), size, [1, 2, 3]);
    expect(after.x - before.x).toBeCloseTo(30, 8);
    expect(after.y - before.y).toBeCloseTo(-12, 8);
  });

  it('enlarges about the pointer', () => {
    const camera = cameraOf('top');
    const fixed = pointAt(camera, size, 200, 100);
    const seen = project(zoom(camera, size, 3, 200, 100), size, fixed);
    expect(seen.x).toBeCloseTo(200, 8);
    expect(seen.y).toBeCloseTo(100, 8);
    expect(zoom(camera, size, 1e99, 0, 0).scale).toBe(1e5);
  });

  it('turns no further than straight down', () => {
    expect(orbit(startCamera, 0, 500).elevation).toBe(90);
  });

  it.each(views)('fits everything in and leaves no great part empty: %s', (view) => {
    const camera = fitTo(cameraOf(view), size, [0, 0, -10, 120, 80, 5], { top: 20, left: 0, bottom: 0 });
    const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((bits) =>
      project(camera, size, [bits & 1 ? 120 : 0, bits & 2 ? 80 : 0, bits & 4 ? 5 : -10]),
    );
    const across = corners.map(({ x }) => x);
    const down = corners.map(({ y }) => y);
    expect(Math.min(...across)).toBeGreaterThanOrEqual(29.99);
    expect(Math.max(...across)).toBeLessThanOrEqual(770.01);
    expect(Math.min(...down)).toBeGreaterThanOrEqual(49.99);
    expect(Math.max(...down)).toBeLessThanOrEqual(570.01);
    const used = Math.max(
      (Math.max(...across) - Math.min(...across)) / 740,
      (Math.max(...down) - Math.min(...down)) / 520,
    );
    expect(used).toBeCloseTo(1, 6);
  });

  it('stays sensible over nothing and over a single point', () => {
    expect(fitTo(startCamera, size, [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity]).scale).toBe(4);
    expect(fitTo(startCamera, size, [5, 5, 5, 5, 5, 5])).toMatchObject({ target: [5, 5, 5], scale: 10 });
  });

  it('takes up only a camera that was kept whole', () => {
    expect(readCamera(JSON.parse(JSON.stringify(startCamera)))).toEqual(startCamera);
    for (const wrong of [
      undefined,
      5,
      {},
      { ...startCamera, lens: 'wide' },
      { ...startCamera, view: 'back' },
      { ...startCamera, scale: 0 },
    ]) {
      expect(readCamera(wrong)).toBeUndefined();
    }
    expect(readCamera({ ...startCamera, target: [0, 'a', 0] })).toBeUndefined();
  });
});

describe('the camera with perspective', () => {
  const camera: Camera = { ...cameraOf('space'), lens: 'perspective' };
  const eye = eyeDistance(camera, size);

  it('sees points where a general library sees them', () => {
    const other = new PerspectiveCamera(VIEW_ANGLE, size.width / size.height, 1, 1e4);
    const target = new Vector3(...camera.target);
    other.up.set(0, 0, 1);
    other.position.copy(target).addScaledVector(new Vector3(...basisOf(camera).toward), eye);
    other.lookAt(target);
    other.updateProjectionMatrix();
    other.updateMatrixWorld();
    for (const point of [
      [0, 0, 0],
      [10, -5, 3],
      [40, 22, -17.5],
      [-300, 120, -60],
    ] as const) {
      const expected = new Vector3(...point).project(other);
      const seen = project(camera, size, point);
      expect(seen.x).toBeCloseTo((size.width / 2) * (1 + expected.x), 6);
      expect(seen.y).toBeCloseTo((size.height / 2) * (1 - expected.y), 6);
    }
  });

  it('is without perspective in a flat view, and keeps the scale about the target', () => {
    expect(eyeDistance({ ...camera, view: 'front' }, size)).toBe(Number.POSITIVE_INFINITY);
    const { right } = basisOf(camera);
    const beside: [number, number, number] = [10 + right[0], -5 + right[1], 3 + right[2]];
    expect(project(camera, size, beside).x - size.width / 2).toBeCloseTo(camera.scale, 9);
  });

  it('aims at what lies nearer or farther without another picture', () => {
    for (const depth of [-80, -3, 12, eye / 2]) {
      const aimed = aimAt(camera, size, depth);
      for (const point of [
        [0, 0, 0],
        [40, 22, -17.5],
      ] as const) {
        expect(project(aimed, size, point).x).toBeCloseTo(project(camera, size, point).x, 6);
        expect(project(aimed, size, point).y).toBeCloseTo(project(camera, size, point).y, 6);
      }
    }
    expect(aimAt(camera, size, eye)).toBe(camera);
  });

  it('cuts off lines that go behind the eye', () => {
    const { toward } = basisOf(camera);
    const away = (depth: number): [number, number, number] => [
      camera.target[0] + toward[0] * depth + 1,
      camera.target[1] + toward[1] * depth,
      camera.target[2] + toward[2] * depth,
    ];
    expect(project(camera, size, away(2 * eye)).x).toBeNaN();
    expect(projectLine(camera, size, away(2 * eye), away(3 * eye))).toBeUndefined();
    const cut = projectLine(camera, size, away(0), away(2 * eye));
    const kept = project(camera, size, away(0));
    expect(cut?.[0]).toMatchObject({ x: kept.x, y: kept.y });
    expect([cut?.[1].x, cut?.[1].y].every(Number.isFinite)).toBe(true);
    const turned = projectLine(camera, size, away(2 * eye), away(0));
    expect(turned?.[0].x).toBeCloseTo(cut?.[1].x ?? Number.NaN, 9);
  });

  it('fits everything in, also beside what is covered', () => {
    const bounds = [0, 0, -40, 120, 80, 5];
    const covered = { top: 30, left: 50, bottom: 20 };
    for (let azimuth = 0; azimuth < 360; azimuth += 23) {
      const fitted = fitTo({ ...camera, azimuth }, size, bounds, covered);
      const seen = cornersOf(bounds).map((corner) => project(fitted, size, corner));
      expect(Math.min(...seen.map(({ x }) => x))).toBeGreaterThan(50);
      expect(Math.min(...seen.map(({ y }) => y))).toBeGreaterThan(30);
      expect(Math.max(...seen.map(({ x }) => x))).toBeLessThan(800);
      expect(Math.max(...seen.map(({ y }) => y))).toBeLessThan(580);
      expect(reachOf(bounds, fitted)).toBeGreaterThan(Math.max(...seen.map(({ depth }) => Math.abs(depth))));
    }
  });
});
