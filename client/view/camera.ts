// Where the path is looked at from. Always without perspective, so that every view is to scale.

/** X Y Z in mm, work coordinates. */
export type Point = readonly [number, number, number];

/** The views: from above, from the front, from the right-hand side, and from anywhere. */
export type ViewName = 'top' | 'front' | 'side' | 'space';

/** A view of the path; plain data, so that it can be kept while the view is hidden. */
export interface Camera {
  readonly view: ViewName;
  /** The point in the middle of the view. */
  readonly target: Point;
  /** CSS pixels a millimetre. */
  readonly scale: number;
  /** Only in space: degrees counter-clockwise about Z from the front, and degrees up from the table. */
  readonly azimuth: number;
  readonly elevation: number;
}

/** Size of the view in CSS pixels. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Unit vectors of a view: to the right, up, and toward the one who looks. */
export interface Basis {
  readonly right: Point;
  readonly up: Point;
  readonly toward: Point;
}

const LEAST_SCALE = 1e-4;
const GREATEST_SCALE = 1e5;
const clamp = (value: number, least: number, greatest: number): number => Math.min(greatest, Math.max(least, value));
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Product of two vectors, mm times mm. */
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** What is seen before anything is known of the path. */
export const startCamera: Camera = { view: 'top', target: [0, 0, 0], scale: 4, azimuth: 30, elevation: 35 };

/** The directions of a view. Front: X to the right, Z up, as one stands before the machine. */
export function basisOf({ view, azimuth, elevation }: Camera): Basis {
  if (view === 'top') {
    return { right: [1, 0, 0], up: [0, 1, 0], toward: [0, 0, 1] };
  }
  if (view === 'front') {
    return { right: [1, 0, 0], up: [0, 0, 1], toward: [0, -1, 0] };
  }
  if (view === 'side') {
    return { right: [0, 1, 0], up: [0, 0, 1], toward: [1, 0, 0] };
  }
  const [sin, cos] = [Math.sin(radians(azimuth)), Math.cos(radians(azimuth))];
  const [rise, run] = [Math.sin(radians(elevation)), Math.cos(radians(elevation))];
  return {
    right: [cos, sin, 0],
    up: [-sin * rise, cos * rise, run],
    toward: [sin * run, -cos * run, rise],
  };
}

/** Where a point is seen, CSS pixels from the upper left corner; `depth` in mm grows toward the one who looks. */
export function project(camera: Camera, size: Size, point: Point): { x: number; y: number; depth: number } {
  const { right, up, toward } = basisOf(camera);
  const { target, scale } = camera;
  const from: Point = [point[0] - target[0], point[1] - target[1], point[2] - target[2]];
  return {
    x: size.width / 2 + scale * dot(right, from),
    y: size.height / 2 - scale * dot(up, from),
    depth: dot(toward, from),
  };
}

/** The point under a pixel, in the plane through the view's target. */
export function pointAt(camera: Camera, size: Size, x: number, y: number): Point {
  const { right, up } = basisOf(camera);
  const along = (x - size.width / 2) / camera.scale;
  const above = (size.height / 2 - y) / camera.scale;
  const at = (axis: 0 | 1 | 2): number => camera.target[axis] + right[axis] * along + up[axis] * above;
  return [at(0), at(1), at(2)];
}

/** Moves the picture by pixels. */
export function pan(camera: Camera, dx: number, dy: number): Camera {
  const middle = { width: 0, height: 0 };
  return { ...camera, target: pointAt(camera, middle, -dx, -dy) };
}

/** Enlarges by a factor; what is under the pixel stays there. */
export function zoom(camera: Camera, size: Size, factor: number, x: number, y: number): Camera {
  const scale = clamp(camera.scale * factor, LEAST_SCALE, GREATEST_SCALE);
  const fixed = pointAt(camera, size, x, y);
  const moved = pointAt({ ...camera, scale }, size, x, y);
  const { target } = camera;
  const at = (axis: 0 | 1 | 2): number => target[axis] + fixed[axis] - moved[axis];
  return { ...camera, scale, target: [at(0), at(1), at(2)] };
}

/** Turns the view in space, degrees. */
export function orbit(camera: Camera, azimuth: number, elevation: number): Camera {
  return {
    ...camera,
    azimuth: (camera.azimuth + azimuth) % 360,
    elevation: clamp(camera.elevation + elevation, -90, 90),
  };
}

/** Pixels kept free about what is fitted in. */
const MARGIN = 30;
const LEAST_ROOM = 40;

/** The same view with all of these bounds (least X Y Z, greatest X Y Z) in it, below what covers `top` pixels. */
export function fitTo(camera: Camera, size: Size, bounds: ArrayLike<number>, top = 0): Camera {
  if (!(bounds[0] <= bounds[3])) {
    return { ...camera, target: [0, 0, 0], scale: startCamera.scale };
  }
  const { right, up } = basisOf(camera);
  const middle = (axis: 0 | 1 | 2): number => (bounds[axis] + bounds[axis + 3]) / 2;
  const way = (axis: 0 | 1 | 2): number => bounds[axis + 3] - bounds[axis];
  const reach = (direction: Point): number =>
    Math.abs(direction[0]) * way(0) + Math.abs(direction[1]) * way(1) + Math.abs(direction[2]) * way(2);
  const wanted = Math.min(
    Math.max(LEAST_ROOM, size.width - 2 * MARGIN) / reach(right),
    Math.max(LEAST_ROOM, size.height - top - 2 * MARGIN) / reach(up),
  );
  const scale = clamp(Number.isFinite(wanted) ? wanted : 10, LEAST_SCALE, GREATEST_SCALE);
  const fitted: Camera = { ...camera, target: [middle(0), middle(1), middle(2)], scale };
  return pan(fitted, 0, top / 2);
}

/** Reads a camera that was kept; `undefined` if it is none. */
export function readCamera(value: unknown): Camera | undefined {
  if (typeof value !== 'object' || value === null) {
    return undefined;
  }
  const { view, target, scale, azimuth, elevation } = value as Partial<Record<keyof Camera, unknown>>;
  const numbers = [scale, azimuth, elevation, ...(Array.isArray(target) && target.length === 3 ? target : [undefined])];
  const named = view === 'top' || view === 'front' || view === 'side' || view === 'space';
  return named && numbers.every(Number.isFinite) && (scale as number) > 0 ? (value as Camera) : undefined;
}
