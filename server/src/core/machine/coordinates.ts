/**
 * From programmed numbers to work coordinates: polar, scaling and mirror, rotation, then the shifts of G52 and G92.
 * Lengths mm, angles degrees.
 */
import { Mode } from './modes.ts';
import { planeOf } from './planes.ts';

const DEGREE = Math.PI / 180;

/** Shift of an axis by G52 and G92, mm. */
export const shiftOf = (modes: Float64Array, axis: number): number =>
  modes[Mode.localShift + axis] + modes[Mode.presetShift + axis];

/** Turns a vector of X Y Z in the active plane by the rotation's angle (times `sign`), in place. */
export const turnVector = (modes: Float64Array, vector: Float64Array, sign: number): void => {
  if (modes[Mode.rotation] !== 1) return;
  const { first, second } = planeOf(modes[Mode.plane]);
  const angle = modes[Mode.rotationAngle] * DEGREE * sign;
  const cosine = Math.cos(angle);
  const sine = Math.sin(angle);
  const a = vector[first];
  const b = vector[second];
  vector[first] = a * cosine - b * sine;
  vector[second] = a * sine + b * cosine;
};

/** Stretches a vector of X Y Z by the scale factors, in place. */
export const scaleVector = (modes: Float64Array, vector: Float64Array): void => {
  if (modes[Mode.scaling] !== 1) return;
  for (let axis = 0; axis < 3; axis++) vector[axis] *= modes[Mode.scaleX + axis];
};

/** Programmed X Y Z (without polar) to work coordinates, in place. */
export const toWork = (modes: Float64Array, point: Float64Array): void => {
  if (modes[Mode.scaling] === 1) {
    for (let axis = 0; axis < 3; axis++) {
      const centre = modes[Mode.scaleCentreX + axis];
      point[axis] = centre + (point[axis] - centre) * modes[Mode.scaleX + axis];
    }
  }
  if (modes[Mode.rotation] === 1) turnAbout(modes, point, 1);
  for (let axis = 0; axis < 3; axis++) point[axis] += shiftOf(modes, axis);
};

/** Work coordinates back to programmed X Y Z, in place. */
export const toProgrammed = (modes: Float64Array, point: Float64Array): void => {
  for (let axis = 0; axis < 3; axis++) point[axis] -= shiftOf(modes, axis);
  if (modes[Mode.rotation] === 1) turnAbout(modes, point, -1);
  if (modes[Mode.scaling] === 1) {
    for (let axis = 0; axis < 3; axis++) {
      const centre = modes[Mode.scaleCentreX + axis];
      point[axis] = centre + (point[axis] - centre) / modes[Mode.scaleX + axis];
    }
  }
};

/** A programmed level along an axis that no rotation turns, in work coordinates. */
export const levelToWork = (modes: Float64Array, axis: number, level: number): number => {
  if (modes[Mode.scaling] !== 1) return level + shiftOf(modes, axis);
  const centre = modes[Mode.scaleCentreX + axis];
  return centre + (level - centre) * modes[Mode.scaleX + axis] + shiftOf(modes, axis);
};

/** A programmed way along an axis that no rotation turns, in work coordinates. */
export const wayToWork = (modes: Float64Array, axis: number, way: number): number =>
  modes[Mode.scaling] === 1 ? way * modes[Mode.scaleX + axis] : way;

const turnAbout = (modes: Float64Array, point: Float64Array, sign: number): void => {
  const { first, second } = planeOf(modes[Mode.plane]);
  point[first] -= modes[Mode.rotationCentreFirst];
  point[second] -= modes[Mode.rotationCentreSecond];
  turnVector(modes, point, sign);
  point[first] += modes[Mode.rotationCentreFirst];
  point[second] += modes[Mode.rotationCentreSecond];
};
