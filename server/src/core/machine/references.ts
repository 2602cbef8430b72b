/** Zero points and reference points: G10, G28, G30, G52, G53, G92, work offsets, and the switches of scaling and rotation. */
import { noteHome } from './carriedOver.ts';
import { radiusKey, radiusWearKey } from './compensationRadius.ts';
import { shiftOf, toProgrammed, toWork } from './coordinates.ts';
import type { Executor } from './executor.ts';
import { AXIS_COUNT, I, J, K, L, P, R } from './letters.ts';
import { configuredZero, LENGTH_AXIS, referenceOf } from './machinePosition.ts';
import { Mode } from './modes.ts';
import { MoveKind } from './moves.ts';
import { AXIS_WORDS, OTHER_AXIS_BITS, planeOf } from './planes.ts';

const scratch = new Float64Array(3);

/** Key under which the value of an offset's axis is kept among the variables (set by G10 L2, L20). */
const offsetKey = (offset: number, axis: number): string => `offset ${offset} ${axis}`;

/** Zero of a work offset on an axis in machine coordinates, from G10 or the shop's file; NaN where it is not known. */
export const offsetValue = (executor: Executor, offset: number, axis: number): number =>
  executor.variables.get(offsetKey(offset, axis)) ?? configuredZero(executor.configuration, offset, axis);

/** Keeps the zeros of the offset in force among the modes, so that every move knows them. */
export const keepZeros = (executor: Executor): void => {
  const offset = executor.modes[Mode.offset];
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    executor.set(Mode.zero + axis, offsetValue(executor, offset, axis));
  }
};

/** Selects a work offset. Without both zeros an axis is unknown until its next word. */
export const changeOffset = (executor: Executor, offset: number): void => {
  const old = executor.modes[Mode.offset];
  if (old === offset) return;
  executor.target.set(executor.position);
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    executor.target[axis] += offsetValue(executor, old, axis) - offsetValue(executor, offset, axis);
  }
  executor.set(Mode.offset, offset);
  keepZeros(executor);
  executor.othersTouched = true;
  executor.moveTo(MoveKind.renamed);
};

/** Index of the word of an axis, −1 where the block has none. */
const axisWord = (executor: Executor, axis: number): number =>
  executor.block.has(AXIS_WORDS[axis]) ? executor.block.slot[AXIS_WORDS[axis]] : -1;

/** G10 L2 P: sets a work offset. G10 L20 P: sets it so that the present position gets the given value. */
export const setOffset = (executor: Executor): void => {
  const { block, modes, variables } = executor;
  const kind = block.value(L);
  if (kind === 12 || kind === 13) {
    setRadiusRegister(executor, kind === 13);
    return;
  }
  if (kind !== 2 && kind !== 20) {
    executor.listener.notExecuted('code G10', block.start, block.end);
    return;
  }
  const number = block.has(P) ? block.value(P) : 0;
  const offset = number === 0 ? modes[Mode.offset] : number <= 6 ? 530 + 10 * number : 590 + (number - 6);
  executor.target.set(executor.position);
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    const word = axisWord(executor, axis);
    if (word < 0) continue;
    const written = executor.lengthAt(word);
    const old = offsetValue(executor, offset, axis);
    let zero = written;
    if (kind === 20) zero = offsetValue(executor, modes[Mode.offset], axis) + executor.position[axis] - written;
    else if (modes[Mode.distance] === 91) zero = old + written;
    variables.set(offsetKey(offset, axis), zero);
    if (offset !== modes[Mode.offset]) continue;
    executor.target[axis] = kind === 20 ? written : executor.position[axis] + old - zero;
  }
  if (offset === modes[Mode.offset]) keepZeros(executor);
  executor.othersTouched = true;
  executor.moveTo(MoveKind.renamed);
};

/** G10 L12 P R: writes a D register (L13: its wear); G91 adds. As radius or diameter, as the profile counts. Common practice, no source. */
const setRadiusRegister = (executor: Executor, isWear: boolean): void => {
  const { block, modes, variables } = executor;
  if (!block.has(P) || !block.has(R)) return;
  const key = isWear ? radiusWearKey(block.value(P)) : radiusKey(block.value(P));
  const base = modes[Mode.distance] === 91 ? (variables.get(key) ?? 0) : 0;
  variables.set(key, base + executor.length(R));
  executor.compensationStale = true;
};

/** Work coordinate of a machine coordinate, reached with the tool length in force; NaN where it is not known. */
const workOf = (executor: Executor, axis: number, machine: number): number =>
  machine - executor.modes[Mode.zero + axis] - (axis === LENGTH_AXIS ? executor.lengthInForce() : 0);

/**
 * G28 and G30: by rapid through the point given, then to the reference point. Its work position is known for G28 where
 * the shop's file gives the reference point and the zero; the further reference points of G30 are not known.
 */
export const goToReference = (executor: Executor): void => {
  const { target, position, block } = executor;
  programTarget(executor);
  executor.listener.home();
  if (executor.hasAxisWord()) executor.moveTo(MoveKind.rapid);
  target.set(position);
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    const named = block.has(AXIS_WORDS[axis]);
    if (!named && (executor.hasAxisWord() || axis >= 3)) continue;
    const reference = executor.once === 280 ? referenceOf(executor.configuration, axis) : Number.NaN;
    target[axis] = workOf(executor, axis, reference);
  }
  executor.othersTouched = true;
  executor.moveTo(MoveKind.rapid);
  noteHome(executor);
};

/**
 * G53: machine coordinates. The work position is known where the shop's file or G10 gave the zero of the offset in force;
 * a Z that carries a tool length only where the tool table gives that too.
 */
export const machineTarget = (executor: Executor): void => {
  const { target } = executor;
  target.set(executor.position);
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    const word = axisWord(executor, axis);
    if (word >= 0) target[axis] = workOf(executor, axis, executor.lengthAt(word));
  }
  executor.othersTouched = true;
};

/** G29: by rapid to its point. The way there through the point of G28 is not drawn, and said so. */
export const comeFromReference = (executor: Executor): void => {
  const { block } = executor;
  programTarget(executor);
  executor.moveTo(MoveKind.rapid);
  executor.listener.notExecuted('code G29', block.start, block.end);
};

/** G52: shifts the zero by the given way. */
export const shiftZero = (executor: Executor): void => {
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    const word = axisWord(executor, axis);
    if (word >= 0) executor.set(Mode.localShift + axis, executor.lengthAt(word));
  }
};

/** G92: calls the present position by the given numbers. */
export const presetPosition = (executor: Executor): void => {
  const { modes, position, target } = executor;
  target.set(position);
  const turned = modes[Mode.scaling] === 1 || modes[Mode.rotation] === 1;
  if (turned) presetTransformed(executor);
  for (let axis = turned ? 3 : 0; axis < AXIS_COUNT; axis++) {
    const word = axisWord(executor, axis);
    if (word < 0) continue;
    const written = executor.lengthAt(word);
    if (Number.isNaN(position[axis])) {
      executor.set(Mode.presetShift + axis, 0);
      target[axis] = written + modes[Mode.localShift + axis];
    } else executor.set(Mode.presetShift + axis, position[axis] - modes[Mode.localShift + axis] - written);
  }
  executor.othersTouched = true;
  executor.moveTo(MoveKind.renamed);
};

/** G92 while scaling or rotation is on: X Y Z are shifted so that the written numbers lead to where the tool stands. */
const presetTransformed = (executor: Executor): void => {
  const { modes, position } = executor;
  scratch.set(position.subarray(0, 3));
  toProgrammed(modes, scratch);
  for (let axis = 0; axis < 3; axis++) {
    const word = axisWord(executor, axis);
    if (word >= 0) scratch[axis] = executor.lengthAt(word);
  }
  toWork(modes, scratch);
  for (let axis = 0; axis < 3; axis++) {
    const way = position[axis] - scratch[axis];
    if (!Number.isNaN(way)) executor.set(Mode.presetShift + axis, modes[Mode.presetShift + axis] + way);
  }
};

/** G92.1, G92.2: takes the shift of G92 back. */
export const cancelPreset = (executor: Executor): void => {
  for (let axis = 0; axis < AXIS_COUNT; axis++) executor.set(Mode.presetShift + axis, 0);
};

/** G51: scaling by P, or by I J K for each axis, about X Y Z (the present point where left out). */
export const startScaling = (executor: Executor): void => {
  const { block, modes, position } = executor;
  executor.set(Mode.scaling, 0);
  scratch.set(position.subarray(0, 3));
  toProgrammed(modes, scratch);
  const common = block.has(P) ? block.value(P) : 1;
  const factors = [I, J, K];
  for (let axis = 0; axis < 3; axis++) {
    const word = axisWord(executor, axis);
    const centre = word >= 0 ? executor.lengthAt(word) : scratch[axis];
    executor.set(Mode.scaleCentreX + axis, Number.isNaN(centre) ? 0 : centre);
    const factor = block.has(factors[axis]) ? block.value(factors[axis]) : common;
    executor.set(Mode.scaleX + axis, factor === 0 ? 1 : factor);
  }
  executor.set(Mode.scaling, 1);
};

/** G51.1 mirrors the named axes about the given values; G50.1 takes it back for the named axes, or all. */
export const mirror = (executor: Executor, on: boolean): void => {
  const { modes } = executor;
  if (modes[Mode.scaling] !== 1) {
    for (let axis = 0; axis < 3; axis++) {
      executor.set(Mode.scaleX + axis, 1);
      executor.set(Mode.scaleCentreX + axis, 0);
    }
  }
  let mirrored = false;
  for (let axis = 0; axis < 3; axis++) {
    const word = axisWord(executor, axis);
    if (on && word >= 0) {
      executor.set(Mode.scaleCentreX + axis, executor.lengthAt(word));
      executor.set(Mode.scaleX + axis, -1);
    } else if (!on && (word >= 0 || !executor.hasAxisWord())) executor.set(Mode.scaleX + axis, 1);
    if (modes[Mode.scaleX + axis] !== 1) mirrored = true;
  }
  executor.set(Mode.scaling, mirrored ? 1 : 0);
};

/** G68 X Y R: turns what follows (scaled, where scaling is on) about a point of the plane, the present one where left out. */
export const startRotation = (executor: Executor): void => {
  const { block, modes, position } = executor;
  const plane = planeOf(modes[Mode.plane]);
  executor.set(Mode.rotation, 0);
  [plane.first, plane.second].forEach((axis, i) => {
    const word = axisWord(executor, axis);
    const centre = word >= 0 ? executor.lengthAt(word) : position[axis] - shiftOf(modes, axis);
    executor.set(Mode.rotationCentreFirst + i, Number.isNaN(centre) ? 0 : centre);
  });
  const angle = block.has(R) ? executor.angleAt(block.slot[R]) : 0;
  executor.set(Mode.rotationAngle, modes[Mode.distance] === 91 ? modes[Mode.rotationAngle] + angle : angle);
  executor.set(Mode.rotation, 1);
};

/** Fills `target` with where the block's axis words lead from the present position, in work coordinates. */
export const programTarget = (executor: Executor): void => {
  const { block, modes, position, target } = executor;
  target[0] = position[0];
  target[1] = position[1];
  target[2] = position[2];
  const incremental = modes[Mode.distance] === 91;
  if (modes[Mode.scaling] === 1 || modes[Mode.rotation] === 1 || modes[Mode.polar] === 1) {
    transformedTarget(executor, incremental);
    return;
  }
  const last = (block.present & OTHER_AXIS_BITS) === 0 ? 3 : AXIS_COUNT;
  executor.othersTouched ||= last > 3;
  const quick = executor.wholeUnits && last === 3;
  for (let axis = 0; axis < last; axis++) {
    const letter = AXIS_WORDS[axis];
    if ((block.present & (1 << letter)) === 0) continue;
    const word = block.slot[letter];
    const value = quick ? block.values[word] * executor.unit : executor.lengthAt(word);
    target[axis] = incremental ? position[axis] + value : value + shiftOf(modes, axis);
  }
};

const point = new Float64Array(3);
const from = new Float64Array(3);

const transformedTarget = (executor: Executor, incremental: boolean): void => {
  const { modes, position, target } = executor;
  from.set(position.subarray(0, 3));
  toProgrammed(modes, from);
  point.set(from);
  for (let axis = 0; axis < AXIS_COUNT; axis++) {
    const word = axisWord(executor, axis);
    if (word < 0) continue;
    const value = executor.lengthAt(word);
    if (axis >= 3) executor.othersTouched = true;
    if (axis >= 3) target[axis] = incremental ? position[axis] + value : value + shiftOf(modes, axis);
    else point[axis] = incremental ? from[axis] + value : value;
  }
  if (modes[Mode.polar] === 1) polarPoint(executor, incremental);
  toWork(modes, point);
  for (let axis = 0; axis < 3; axis++) target[axis] = point[axis];
};

/** Radius and angle of the block's words (what is left out stays), as a point of the plane. */
const polarPoint = (executor: Executor, incremental: boolean): void => {
  const { modes } = executor;
  const { first, second } = planeOf(modes[Mode.plane]);
  const firstWord = axisWord(executor, first);
  const secondWord = axisWord(executor, second);
  if (firstWord < 0 && secondWord < 0) return;
  const radius =
    firstWord >= 0 ? executor.lengthAt(firstWord) : incremental ? 0 : Math.hypot(from[first], from[second]);
  const angle =
    secondWord >= 0
      ? executor.angleAt(secondWord)
      : incremental
        ? 0
        : (Math.atan2(from[second], from[first]) * 180) / Math.PI;
  const radians = (angle * Math.PI) / 180;
  point[first] = (incremental ? from[first] : 0) + radius * Math.cos(radians);
  point[second] = (incremental ? from[second] : 0) + radius * Math.sin(radians);
};
