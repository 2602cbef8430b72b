/** The motion of a block: straight, arc, thread, dwell, cycles, and the codes that take the axis words. */
import { arcMotion } from './arcMotion.ts';
import { cycleBlock } from './cycles.ts';
import type { Executor } from './executor.ts';
import { checkFeed, dwellSeconds } from './feed.ts';
import { F, I, J, K, P, R, X } from './letters.ts';
import { Given, Mode } from './modes.ts';
import { MoveFlag, MoveKind } from './moves.ts';
import { planeOf } from './planes.ts';
import {
  cancelPreset,
  comeFromReference,
  goToReference,
  machineTarget,
  mirror,
  presetPosition,
  programTarget,
  setOffset,
  shiftZero,
  startRotation,
  startScaling,
} from './references.ts';

const tangent = new Float64Array(3);

/** Carries out what the block moves. */
export const blockMotion = (executor: Executor): void => {
  if (executor.once >= 0 && onceMotion(executor)) return;
  if (executor.once === -2) return;
  const { modes } = executor;
  if (modes[Mode.cycle] !== 0) {
    cycleBlock(executor);
    return;
  }
  const motion = modes[Mode.motion];
  const axes = executor.hasAxisWord();
  if (motion === 20 || motion === 30) {
    if (axes || hasCentreWord(executor)) arcMotion(executor, motion === 20);
  } else if (axes) straightMotion(executor, motion);
};

const hasCentreWord = (executor: Executor): boolean => {
  const { block } = executor;
  return block.has(I) || block.has(J) || block.has(K) || block.has(R);
};

/** Codes that hold for their own block. True if they took the axis words. */
const onceMotion = (executor: Executor): boolean => {
  switch (executor.once) {
    case 40:
      dwell(executor);
      // X or P may be the wait's own word; other axis words still move, behind the wait.
      return !executor.block.has(P) || !executor.hasAxisWord();
    case 100:
      setOffset(executor);
      return true;
    case 280:
    case 300:
      goToReference(executor);
      return true;
    case 290:
      comeFromReference(executor);
      return true;
    case 520:
      shiftZero(executor);
      return true;
    case 920:
      presetPosition(executor);
      return true;
    case 921:
    case 922:
      cancelPreset(executor);
      return !executor.hasAxisWord();
    case 923:
      executor.listener.notExecuted('code G92.3', executor.block.start, executor.block.end);
      return !executor.hasAxisWord();
    case 510:
      startScaling(executor);
      return true;
    case 501:
    case 511:
      mirror(executor, executor.once === 511);
      return true;
    case 680:
      startRotation(executor);
      return true;
    default:
      return false;
  }
};

/** G4: seconds from P (or X, always seconds where it has a point), as the profile counts. */
const dwell = (executor: Executor): void => {
  const { block } = executor;
  const letter = block.has(P) ? P : X;
  if (!block.has(letter)) return;
  executor.wait(dwellSeconds(executor, block.slot[letter]), 0);
};

/** True if the block goes up along the plane's normal axis and nowhere else. */
const goesStraightOut = (executor: Executor): boolean => {
  const { position, target } = executor;
  const { first, second, third } = planeOf(executor.modes[Mode.plane]);
  return position[first] === target[first] && position[second] === target[second] && target[third] > position[third];
};

/** True if the last cut went straight in along the normal axis. */
const cameStraightIn = (executor: Executor): boolean => {
  executor.arrival(tangent);
  return tangent[planeOf(executor.modes[Mode.plane]).third] < -0.999_999;
};

const straightMotion = (executor: Executor, motion: number): void => {
  const { modes } = executor;
  if (motion < 0) {
    if ((modes[Mode.given] & Given.motionComplained) === 0) {
      executor.faultAt('motion-mode-missing', 'no-motion', executor.firstAxisWord());
      executor.give(Given.motionComplained);
    }
    programTarget(executor);
    executor.moveTo(MoveKind.rapid);
    return;
  }
  if (executor.once === 530) machineTarget(executor);
  else programTarget(executor);
  if (motion === 0) {
    executor.listener.rapid();
    if (goesStraightOut(executor)) executor.listener.rapidOut(cameStraightIn(executor));
    executor.moveTo(MoveKind.rapid);
    return;
  }
  if (motion === 330) {
    threadMotion(executor);
    return;
  }
  checkFeed(executor);
  executor.moveTo(MoveKind.line);
  executor.listener.cut();
};

/** G33: straight, in step with the spindle. The lead (mm a turn) is kept with the move. */
const threadMotion = (executor: Executor): void => {
  const { block, profile, moves } = executor;
  const letter = profile.leadWord === 'F' ? F : K;
  if (block.has(letter)) executor.set(Mode.threadLead, block.value(letter) * executor.unit);
  const count = moves.count;
  executor.moveTo(MoveKind.line | MoveFlag.synchronised);
  if (moves.count > count) moves.addExtra(executor.modes[Mode.threadLead], 0, 0, 0, 0);
  executor.listener.cut();
};
