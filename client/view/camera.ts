// Where the path is looked at from. The flat views are without perspective, so that they are to scale; space is seen with
// or without it. With perspective the scale holds in the plane through the target.

/** X Y Z in mm, work coordinates. */
export type Point = readonly [number, number, number];

/** The views: from above, from the front, from the right-hand side, and from anywhere. */
export type ViewName = 'top' | 'front' | 'side' | 'space';

/** True for the name of a view. */
export const isViewName = (value: unknown): value is ViewName =>
  value === 'top' || value === 'front' || value === 'side' || value === 'space';

/** Without perspective, or as an eye sees it. */
export type Lens = 'parallel' | 'perspective';

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
  /** Only in space; without one it is parallel. */
  readonly lens?: Lens;
}

/** Pixels of the view that something else covers, from each edge. */
export interface Covered {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right?: number;
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
/** Angle of view from the upper to the lower edge, degrees: a long lens, so that shapes are hardly distorted. */
export const VIEW_ANGLE = 30;
/** What is nearer to the eye than this part of the target's distance is not seen. */
export const NEAREST_PART = 0.02;
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

/** How far the eye is from the plane through the target, mm; infinite without perspective. */
export function eyeDistance({ view, lens, scale }: Camera, { height }: Size): number {
  return view === 'space' && lens === 'perspective'
    ? height / 2 / Math.tan(radians(VIEW_ANGLE / 2)) / scale
    : Number.POSITIVE_INFINITY;
}

/**
 * Where a point is seen, CSS pixels from the upper left corner; NaN what lies behind the eye. `depth` in mm grows toward
 * the one who looks.
 */
export function project(camera: Camera, size: Size, point: Point): { x: number; y: number; depth: number } {
  const { right, up, toward } = basisOf(camera);
  const { target } = camera;
  const from: Point = [point[0] - target[0], point[1] - target[1], point[2] - target[2]];
  const depth = dot(toward, from);
  const scale = camera.scale * enlargement(eyeDistance(camera, size), depth);
  return { x: size.width / 2 + scale * dot(right, from), y: size.height / 2 - scale * dot(up, from), depth };
}

/** How much larger than in the plane through the target something is seen; NaN behind the eye. */
export function enlargement(eye: number, depth: number): number {
  if (eye === Number.POSITIVE_INFINITY) {
    return 1;
  }
  return eye - depth >= eye * NEAREST_PART ? eye / (eye - depth) : Number.NaN;
}

/** Both ends of a straight line as seen, cut off where it goes behind the eye; `undefined` if all of it lies there. */
export function projectLine(
  camera: Camera,
  size: Size,
  start: Point,
  end: Point,
): readonly [{ x: number; y: number }, { x: number; y: number }] | undefined {
  const [a, b] = [project(camera, size, start), project(camera, size, end)];
  const [hidesA, hidesB] = [Number.isNaN(a.x), Number.isNaN(b.x)];
  if (hidesA && hidesB) {
    return undefined;
  }
  if (!hidesA && !hidesB) {
    return [a, b];
  }
  const last = eyeDistance(camera, size) * (1 - NEAREST_PART * 1.001);
  const part = (last - a.depth) / (b.depth - a.depth);
  const at = (axis: 0 | 1 | 2): number => start[axis] + part * (end[axis] - start[axis]);
  const cut = project(camera, size, [at(0), at(1), at(2)]);
  return hidesA ? [cut, b] : [a, cut];
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

/** The same picture with its target nearer by `depth` mm: about there it is turned and enlarged from now on. */
export function aimAt(camera: Camera, size: Size, depth: number): Camera {
  const eye = eyeDistance(camera, size);
  const factor = enlargement(eye, depth);
  if (Number.isNaN(factor)) {
    return camera;
  }
  const { toward } = basisOf(camera);
  const at = (axis: 0 | 1 | 2): number => camera.target[axis] + toward[axis] * depth;
  return { ...camera, target: [at(0), at(1), at(2)], scale: clamp(camera.scale * factor, LEAST_SCALE, GREATEST_SCALE) };
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

const NOTHING_COVERED: Covered = { top: 0, left: 0, bottom: 0 };

/** The same view with all of these bounds (least X Y Z, greatest X Y Z) in it, beside what covers its edges. */
export function fitTo(camera: Camera, size: Size, bounds: ArrayLike<number>, covered = NOTHING_COVERED): Camera {
  if (!(bounds[0] <= bounds[3])) {
    return { ...camera, target: [0, 0, 0], scale: startCamera.scale };
  }
  const { right, up } = basisOf(camera);
  const { top, left, bottom, right: aside = 0 } = covered;
  const middle = (axis: 0 | 1 | 2): number => (bounds[axis] + bounds[axis + 3]) / 2;
  const way = (axis: 0 | 1 | 2): number => bounds[axis + 3] - bounds[axis];
  const reach = (direction: Point): number =>
    Math.abs(direction[0]) * way(0) + Math.abs(direction[1]) * way(1) + Math.abs(direction[2]) * way(2);
  const room = {
    width: Math.max(LEAST_ROOM, size.width - left - aside - 2 * MARGIN),
    height: Math.max(LEAST_ROOM, size.height - top - bottom - 2 * MARGIN),
  };
  const wanted = Math.min(room.width / reach(right), room.height / reach(up));
  const scale = clamp(Number.isFinite(wanted) ? wanted : 10, LEAST_SCALE, GREATEST_SCALE);
  const fitted: Camera = { ...camera, target: [middle(0), middle(1), middle(2)], scale };
  return pan(stoodBack(fitted, size, bounds, room), (left - aside) / 2, (top - bottom) / 2);
}

/** With perspective the near side is larger: the eye goes back until all of it has room about the middle. */
function stoodBack(camera: Camera, size: Size, bounds: ArrayLike<number>, room: Size): Camera {
  let back = camera;
  for (let round = 0; round < 30 && eyeDistance(camera, size) < Number.POSITIVE_INFINITY; round++) {
    const parts = cornersOf(bounds).map((corner) => {
      const { x, y } = project(back, size, corner);
      return Math.max(Math.abs(x - size.width / 2) / room.width, Math.abs(y - size.height / 2) / room.height) * 2;
    });
    const greatest = Math.max(...parts.map((part) => (Number.isNaN(part) ? 2 : part)));
    if (greatest <= 1.001) {
      break;
    }
    back = { ...back, scale: Math.max(LEAST_SCALE, back.scale / greatest) };
  }
  return back;
}

/** The eight corners of a box: least X Y Z, greatest X Y Z. The bits of a corner's number say on which axes it is greatest. */
export function cornersOf(bounds: ArrayLike<number>): Point[] {
  return [0, 1, 2, 3, 4, 5, 6, 7].map((bits) => [
    bounds[bits & 1 ? 3 : 0],
    bounds[bits & 2 ? 4 : 1],
    bounds[bits & 4 ? 5 : 2],
  ]);
}

/** The greatest distance of anything in a box from the plane through the camera's target, mm. */
export function reachOf(bounds: ArrayLike<number>, camera: Camera): number {
  if (!(bounds[0] <= bounds[3])) {
    return 1;
  }
  const { toward } = basisOf(camera);
  const depths = cornersOf(bounds).map((corner) => Math.abs(dot(toward, corner) - dot(toward, camera.target)));
  return Math.max(...depths) * 1.01 + 1;
}

/** Reads a camera that was kept; `undefined` if it is none. */
export function readCamera(value: unknown): Camera | undefined {
  if (typeof value !== 'object' || value === null) {
    return undefined;
  }
  const { view, target, scale, azimuth, elevation, lens } = value as Partial<Record<keyof Camera, unknown>>;
  const numbers = [scale, azimuth, elevation, ...(Array.isArray(target) && target.length === 3 ? target : [undefined])];
  if (lens !== undefined && lens !== 'parallel' && lens !== 'perspective') {
    return undefined;
  }
  return isViewName(view) && numbers.every(Number.isFinite) && (scale as number) > 0 ? (value as Camera) : undefined;
}
