/**
 * Canned cycles 73 74 76 81–89: after the table in the design's language page (NIST IR 6556 and ISO 6983, from memory).
 * Levels are work coordinates along the plane's normal axis, mm.
 */
import { type Block, WordFlag } from '../syntax/block.ts';
import { levelToWork, wayToWork } from './coordinates.ts';
import type { Executor } from './executor.ts';
import { checkFeed, dwellSeconds } from './feed.ts';
import { AXIS_COUNT, I, K, L, P, Q, R } from './letters.ts';
import { Given, Mode } from './modes.ts';
import { MoveFlag, MoveKind } from './moves.ts';
import { AXIS_BITS, AXIS_WORDS, planeOf } from './planes.ts';
import { programTarget } from './references.ts';

/** Most pecks of one hole; a smaller peck is a slip and would never end. */
const MOST_PECKS = 20_000;
/** Most repeats of one block. */
const MOST_REPEATS = 10_000;
/** Two levels closer than this are one, mm. */
const SAME = 1e-9;

const hole = new Float64Array(AXIS_COUNT);

/** Levels and words of the hole being made. */
const levels = { axis: 2, initial: 0, retract: 0, depth: 0, out: 0 };

/** Carries out a block while a cycle is active. */
export const cycleBlock = (executor: Executor): void => {
  const { block, modes } = executor;
  const plane = planeOf(modes[Mode.plane]);
  levels.axis = plane.third;
  const position = executor.position[plane.third];
  if (Number.isNaN(modes[Mode.cycleInitial])) executor.set(Mode.cycleInitial, position);
  takeWords(executor, position);
  if ((block.present & AXIS_BITS) === 0) return;
  const repeats = repeatsOf(executor);
  if (repeats === 0) return;
  if (Number.isNaN(modes[Mode.cycleRetract]) || Number.isNaN(modes[Mode.cycleDepth])) {
    missingWord(executor);
    return;
  }
  checkCycleWords(executor);
  checkFeed(executor);
  executor.listener.cycle();
  for (let i = 0; i < repeats && executor.moves.count < executor.configuration.limits.moves; i++) drillNext(executor);
  executor.listener.cut();
};

/** Without R or a depth nothing is drilled: the position alone is taken. */
const missingWord = (executor: Executor): void => {
  const { modes } = executor;
  const noRetract = Number.isNaN(modes[Mode.cycleRetract]);
  const noDepth = Number.isNaN(modes[Mode.cycleDepth]);
  complain(executor, noRetract && noDepth ? 'no-levels' : noRetract ? 'no-retract' : 'no-depth');
  programTarget(executor);
  executor.target[levels.axis] = executor.position[levels.axis];
  executor.moveTo(MoveKind.rapid);
};

/** Complains of a word that the active cycle does not have, once until the cycle ends. */
const complain = (executor: Executor, message: string): void => {
  const { modes } = executor;
  if ((modes[Mode.given] & Given.cycleComplained) !== 0) return;
  const cycle = `G${modes[Mode.cycle] / 10}`;
  executor.faultAt('cycle-word-missing', message, executor.motionWord, { cycle, axis: 'XYZ'[levels.axis] });
  executor.give(Given.cycleComplained);
};

/** Cycles of the report that do not run without P. */
const WAITING = [820, 860, 880, 890];

/** Words beside the levels: a peck for 73 and 83; where the report holds, P for the cycles that wait (from memory). */
const checkCycleWords = (executor: Executor): void => {
  const { modes, profile } = executor;
  const cycle = modes[Mode.cycle];
  const peck = modes[Mode.cyclePeck];
  if (cycle === 830 || cycle === 730) {
    // Some controls take the pecks from I, J and K.
    const hasOtherPecks = !Number.isNaN(modes[Mode.cycleShiftFirst]) || !Number.isNaN(modes[Mode.cycleShiftSecond]);
    if (Number.isNaN(peck) && !hasOtherPecks) complain(executor, 'no-peck');
    else if (peck === 0) complain(executor, 'peck-zero');
  } else if (profile.cyclesAreMotion && WAITING.includes(cycle) && Number.isNaN(modes[Mode.cycleDwell])) {
    complain(executor, 'no-dwell');
  }
};

/** R, depth, Q, P and the shift stay while the cycle is active; R and depth become absolute when they are programmed. */
const takeWords = (executor: Executor, position: number): void => {
  const { block } = executor;
  if (block.has(R)) executor.set(Mode.cycleRetract, levelOf(executor, R, position));
  const depth = AXIS_WORDS[levels.axis];
  if (block.has(depth)) executor.set(Mode.cycleDepth, levelOf(executor, depth, executor.modes[Mode.cycleRetract]));
  if (block.has(Q)) executor.set(Mode.cyclePeck, Math.abs(executor.length(Q)));
  if (block.has(P)) executor.set(Mode.cycleDwell, dwellSeconds(executor, block.slot[P]));
  takeShift(executor);
  noteUnknownWords(executor, depth);
};

/** A word that is there but has no known value is not missing: the cycle's words are not judged then. */
const noteUnknownWords = (executor: Executor, depth: number): void => {
  const { block, modes } = executor;
  const noLevel = block.has(R) && Number.isNaN(modes[Mode.cycleRetract]);
  if (noLevel || hasUnknownWord(block, depth)) executor.give(Given.cycleComplained);
};

const hasUnknownWord = (block: Block, depth: number): boolean => {
  for (let i = 0; i < block.wordCount; i++) {
    const letter = block.letters[i];
    if (letter !== R && letter !== Q && letter !== P && letter !== depth) continue;
    if (Number.isNaN(block.values[i]) || (block.flags[i] & (WordFlag.empty | WordFlag.bad)) !== 0) return true;
  }
  return false;
};

/** The level that a word gives along the normal axis: absolute, or in G91 from `base`. */
const levelOf = (executor: Executor, letter: number, base: number): number => {
  const { modes } = executor;
  const written = executor.length(letter);
  return modes[Mode.distance] === 91
    ? base + wayToWork(modes, levels.axis, written)
    : levelToWork(modes, levels.axis, written);
};

/** The way off the wall in the active plane, by the plane's own words; K of G87 in the report is the bore's upper end. */
const takeShift = (executor: Executor): void => {
  const { block, modes, profile } = executor;
  const plane = planeOf(modes[Mode.plane]);
  if (modes[Mode.cycle] === 870 && profile.cycle87 === 'back-boring' && block.has(I + plane.third)) {
    executor.set(Mode.cycleTop, levelOf(executor, I + plane.third, modes[Mode.cycleDepth]));
  }
  const repeatsByK = profile.repeats !== 'L';
  const shiftWord = (axis: number, field: number): void => {
    const letter = I + axis;
    if (block.has(letter) && (letter !== K || !repeatsByK)) executor.set(field, executor.length(letter));
  };
  shiftWord(plane.first, Mode.cycleShiftFirst);
  shiftWord(plane.second, Mode.cycleShiftSecond);
};

const repeatsOf = (executor: Executor): number => {
  const { block, profile } = executor;
  const letters = profile.repeats === 'L' ? [L] : profile.repeats === 'K' ? [K] : [L, K];
  for (const letter of letters) {
    if (!block.has(letter)) continue;
    const value = block.value(letter);
    return Number.isNaN(value) ? 1 : Math.min(Math.max(0, Math.floor(value)), MOST_REPEATS);
  }
  return 1;
};

/** Positions and drills one hole. */
const drillNext = (executor: Executor): void => {
  const { modes, position, target } = executor;
  const { axis } = levels;
  levels.retract = modes[Mode.cycleRetract];
  levels.depth = modes[Mode.cycleDepth];
  levels.initial = modes[Mode.cycleInitial];
  levels.out =
    modes[Mode.retract] === 98 && !(levels.initial < levels.retract) && !Number.isNaN(levels.initial)
      ? levels.initial
      : levels.retract;
  programTarget(executor);
  hole.set(target);
  if (position[axis] < levels.retract) along(executor, levels.retract, MoveKind.rapid | MoveFlag.cycle);
  target.set(hole);
  target[axis] = position[axis];
  executor.othersTouched = true;
  executor.moveTo(MoveKind.rapid | MoveFlag.cycle);
  along(executor, levels.retract, MoveKind.rapid | MoveFlag.cycle);
  makeHole(executor);
  hole.set(position);
  hole[axis] = levels.depth;
  executor.listener.hole(hole[0], hole[1], hole[2]);
  along(executor, levels.out, MoveKind.rapid | MoveFlag.cycle);
};

/** Moves along the normal axis to a level. */
const along = (executor: Executor, level: number, kind: number): void => {
  executor.target.set(executor.position);
  executor.target[levels.axis] = level;
  executor.moveTo(kind);
};

const FEED = MoveKind.line | MoveFlag.cycle;
const RAPID = MoveKind.rapid | MoveFlag.cycle;
const OUT = MoveKind.line | MoveFlag.cycle | MoveFlag.retract;

const makeHole = (executor: Executor): void => {
  const code = executor.modes[Mode.cycle];
  const synchronised = code === 840 || code === 740 ? MoveFlag.synchronised : 0;
  if (code === 830 || code === 730) pecks(executor, code === 830);
  else if (code === 870 && executor.profile.cycle87 === 'back-boring') {
    backBore(executor);
    return;
  } else along(executor, levels.depth, FEED | synchronised);
  if (code !== 810 && code !== 830 && code !== 730 && code !== 850) wait(executor);
  switch (code) {
    case 840:
    case 740:
    case 850:
    case 890:
      along(executor, levels.retract, OUT | synchronised);
      break;
    case 760:
      fineBoringOut(executor);
      break;
    default:
      along(executor, levels.retract, RAPID);
  }
};

/** Pecks of Q: out to R and back (83), or a short way up (73). */
const pecks = (executor: Executor, full: boolean): void => {
  const peck = executor.modes[Mode.cyclePeck];
  const clear = executor.profile.peckRetract;
  const down = levels.depth <= levels.retract ? -1 : 1;
  let level = levels.retract;
  const way = Math.abs(levels.depth - levels.retract);
  if (!(peck > 0) || way / peck > MOST_PECKS) {
    along(executor, levels.depth, FEED);
    return;
  }
  for (let i = 1; ; i++) {
    // The last one ends at the depth itself, without a rounding error that would make it another level.
    const next = i * peck < way - SAME ? levels.retract + down * i * peck : levels.depth;
    if (i > 1) {
      if (full) along(executor, levels.retract, RAPID);
      const back = full ? level - down * clear : next;
      if (full) along(executor, down * (back - levels.retract) > 0 ? back : levels.retract, RAPID);
    }
    along(executor, next, FEED);
    level = next;
    if (level === levels.depth) return;
    if (!full) along(executor, level - down * Math.min(clear, Math.abs(level - levels.retract)), RAPID);
  }
};

const wait = (executor: Executor): void => {
  const seconds = executor.modes[Mode.cycleDwell];
  if (!(seconds > 0)) return;
  executor.wait(seconds, MoveFlag.cycle);
};

/** 76: spindle stopped in position, shifted off the wall by I J (or Q), out at rapid, back. */
const fineBoringOut = (executor: Executor): void => {
  shiftAside(executor, 1);
  along(executor, levels.retract, RAPID);
  shiftAside(executor, -1);
};

/** 87 of the report (from memory): aside at R, down at rapid, back, up at feed to K, down again, aside, out, back. */
const backBore = (executor: Executor): void => {
  const top = executor.modes[Mode.cycleTop];
  shiftAside(executor, 1);
  along(executor, levels.depth, RAPID);
  shiftAside(executor, -1);
  if (!Number.isNaN(top)) {
    along(executor, top, FEED);
    along(executor, levels.depth, FEED);
  }
  shiftAside(executor, 1);
  along(executor, levels.out, RAPID);
  shiftAside(executor, -1);
};

const shiftAside = (executor: Executor, sign: number): void => {
  const { modes, position, target } = executor;
  const plane = planeOf(modes[Mode.plane]);
  const first = modes[Mode.cycleShiftFirst];
  const second = modes[Mode.cycleShiftSecond];
  const peck = modes[Mode.cyclePeck];
  target.set(position);
  if (Number.isNaN(first) && Number.isNaN(second)) target[plane.first] += sign * (Number.isNaN(peck) ? 0 : peck);
  else {
    target[plane.first] += sign * (Number.isNaN(first) ? 0 : first);
    target[plane.second] += sign * (Number.isNaN(second) ? 0 : second);
  }
  executor.moveTo(RAPID);
};
