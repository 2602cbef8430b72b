/** The codes of a block in their order: everything in a block but its motion and the codes that take its axis words. */
import { readToolRemark } from '../reference/toolRemark.ts';
import { WordFlag } from '../syntax/block.ts';
import { macroCall, subprogramCall, subprogramReturn } from './calls.ts';
import { noteDistance, notePlane, noteSpeed, noteToolChange, noteUnits, settle } from './carriedOver.ts';
import { GROUP_COUNT, Group, UNKNOWN_GROUP } from './codes.ts';
import { compensationRadius } from './compensationRadius.ts';
import type { Executor } from './executor.ts';
import { D, F, G, H, M, P, S, T } from './letters.ts';
import { Given, LeftOver, Mode } from './modes.ts';
import { changeOffset } from './references.ts';

/** Code of each group in the block at hand, and the word that gave it; −1 none. */
const codes = new Int32Array(GROUP_COUNT);
const places = new Int32Array(GROUP_COUNT);
/** Words of the once group, in order; more than one may stand in a block (G53 beside G90). */
const onceWords: number[] = [];
const coolants: number[] = [];

/** Sorts the block's G and M words into groups; raises what does not go together. */
const sortCodes = (executor: Executor): void => {
  codes.fill(-1);
  places.fill(-1);
  if (onceWords.length > 0) onceWords.length = 0;
  if (coolants.length > 0) coolants.length = 0;
  const { block, table, profile } = executor;
  let countG = 0;
  let countM = 0;
  for (let i = 0; i < block.wordCount; i++) {
    const letter = block.letters[i];
    if ((letter !== G && letter !== M) || (block.flags[i] & WordFlag.empty) !== 0) continue;
    const value = block.values[i];
    if (Number.isNaN(value)) continue;
    if (letter === G) {
      countG++;
      sortG(executor, Math.round(value * 10), i);
    } else {
      countM++;
      const group = value < 1000 ? table.m[value] : UNKNOWN_GROUP;
      if (group === UNKNOWN_GROUP)
        executor.listener.fault('unknown-code', 'unknown-m', block.starts[i], block.ends[i], { code: value }, i);
      else if (group === Group.coolant) placeCoolant(executor, value, i);
      else place(executor, group, value, i);
    }
  }
  if (countG > profile.maxG)
    executor.faultAt('block-too-long', 'too-many-g', -1, { count: countG, limit: profile.maxG });
  if (countM > profile.maxM)
    executor.faultAt('block-too-long', 'too-many-m', -1, { count: countM, limit: profile.maxM });
};

const sortG = (executor: Executor, code: number, word: number): void => {
  const { block, table, profile } = executor;
  const exact = Math.abs(block.values[word] * 10 - code) < 1e-6 && code >= 0 && code < 10_000;
  let group = exact ? table.g[code] : UNKNOWN_GROUP;
  if (group === UNKNOWN_GROUP) {
    executor.faultAt('unknown-code', 'unknown-g', word, { code: block.wordText(word) });
    return;
  }
  if (group === Group.cycle && profile.cyclesAreMotion) group = Group.motion;
  if (group === Group.once) onceWords.push(word);
  else place(executor, group, code, word);
};

/** M7 and M8 go together; M9 beside one of them does not. */
const placeCoolant = (executor: Executor, code: number, word: number): void => {
  const against = places[Group.coolant];
  if (against >= 0 && (code === 9) !== (codes[Group.coolant] === 9)) {
    const { block } = executor;
    executor.faultAt('modal-conflict', 'same-group', word, {
      first: block.wordText(against),
      second: block.wordText(word),
    });
  }
  codes[Group.coolant] = code;
  places[Group.coolant] = word;
  coolants.push(code);
};

const place = (executor: Executor, group: number, code: number, word: number): void => {
  if (group === Group.none) return;
  if (codes[group] >= 0 && codes[group] !== code) {
    const { block } = executor;
    executor.faultAt('modal-conflict', 'same-group', word, {
      first: block.wordText(places[group]),
      second: block.wordText(word),
    });
  }
  codes[group] = code;
  places[group] = word;
};

/** Value of a group's code, −1 where the block has none. */
const codeOf = (group: number): number => codes[group];

/** Executes everything of the block but its motion, in order. */
export const readCodes = (executor: Executor): void => {
  sortCodes(executor);
  readRemarks(executor);
  if (executor.profile.feedBeforeUnits) {
    feedMode(executor);
    feedAndSpeed(executor);
    units(executor);
  } else {
    units(executor);
    feedMode(executor);
    feedAndSpeed(executor);
  }
  tool(executor);
  spindleAndCoolant(executor);
  geometryModes(executor);
  offsets(executor);
  onceCodes(executor);
  motionCodes(executor);
  callsAndStops(executor);
};

const readRemarks = (executor: Executor): void => {
  const { block } = executor;
  for (let i = 0; i + 1 < block.remarks.length; i += 2) {
    const text = block.source.slice(block.remarks[i], block.remarks[i + 1]);
    if (readToolRemark(text, executor.modes[Mode.units] === 20) === undefined) continue;
    executor.set(Mode.operationRemark, executor.pool.internString(text.trim()));
  }
};

const units = (executor: Executor): void => {
  const code = codeOf(Group.units);
  if (code < 0) return;
  const units = code === 200 || code === 700 ? 20 : 21;
  if (units !== executor.modes[Mode.units]) noteUnits(executor);
  executor.set(Mode.units, units);
  executor.give(Given.units);
  executor.updateUnit();
};

const feedMode = (executor: Executor): void => {
  const speed = codeOf(Group.speedMode);
  if (speed >= 0) {
    executor.set(Mode.speedMode, speed / 10);
    settle(executor, LeftOver.speedMode);
  }
  const code = codeOf(Group.feedMode);
  if (code < 0) return;
  executor.give(Given.feedMode);
  settle(executor, LeftOver.feedMode);
  if (code / 10 === executor.modes[Mode.feedMode]) return;
  executor.set(Mode.feedMode, code / 10);
  if (executor.profile.feedKeptAcrossModes || executor.modes[Mode.feed] < 0) return;
  executor.set(Mode.feed, -1);
  executor.give(Given.feedLost);
};

const feedAndSpeed = (executor: Executor): void => {
  const { block } = executor;
  if (block.has(F)) {
    const motion = codeOf(Group.motion) >= 0 ? codeOf(Group.motion) : executor.modes[Mode.motion];
    if (motion !== 330 || executor.profile.leadWord !== 'F') executor.setFeed();
  }
  if (!block.has(S)) return;
  executor.set(Mode.speed, Math.abs(block.value(S)));
  noteSpeed(executor, codeOf(Group.spindle) === 3 || codeOf(Group.spindle) === 4);
};

const tool = (executor: Executor): void => {
  const { block, profile } = executor;
  const calledBefore = executor.modes[Mode.toolCalled];
  if (block.has(T)) executor.set(Mode.toolCalled, block.value(T));
  if (codeOf(Group.toolChange) !== 6) return;
  const number = profile.toolChange === 'same-block' && block.has(T) ? block.value(T) : calledBefore;
  if (number < 0) executor.faultAt('tool-change-without-tool', 'no-tool', places[Group.toolChange]);
  noteToolChange(executor);
  executor.interruptCompensation();
  executor.set(Mode.tool, number);
  executor.set(Mode.toolRemark, remarkOf(executor));
  executor.set(Mode.operationRemark, 0);
  executor.set(Mode.spindle, 0);
  executor.give(Given.toolChanged);
  executor.takeBack(Given.spindleStopped | Given.spindleComplained);
};

/** The remark of a tool change: the first in the block, or the one that stood alone before it. */
const remarkOf = (executor: Executor): number => {
  const { block, pool } = executor;
  for (let i = 0; i + 1 < block.remarks.length; i += 2) {
    const text = block.source.slice(block.remarks[i], block.remarks[i + 1]).trim();
    if (readToolRemark(text, executor.modes[Mode.units] === 20) !== undefined) return pool.internString(text);
  }
  return 0;
};

const spindleAndCoolant = (executor: Executor): void => {
  const { profile, afterMotion } = executor;
  const spindle = codeOf(Group.spindle);
  if (spindle === 3 || spindle === 4) {
    executor.set(Mode.spindle, spindle);
    executor.give(Given.spindleStarted);
    executor.takeBack(Given.spindleStopped | Given.spindleComplained);
  } else if (spindle >= 0) {
    if (profile.order === 'iso') afterMotion.push(spindle);
    else {
      executor.set(Mode.spindle, spindle);
      if (spindle === 5) executor.give(Given.spindleStopped);
    }
  }
  for (const code of coolants) {
    if (code !== 9) executor.set(Mode.coolant, executor.modes[Mode.coolant] | (code === 7 ? 1 : 2));
    else if (profile.order === 'iso') afterMotion.push(9);
    else executor.set(Mode.coolant, 0);
  }
};

const geometryModes = (executor: Executor): void => {
  const { block } = executor;
  const plane = codeOf(Group.plane);
  if (plane >= 0) {
    executor.set(Mode.plane, plane / 10);
    notePlane(executor, plane / 10);
    executor.give(Given.plane);
  }
  const radius = codeOf(Group.radiusCompensation);
  if (radius >= 0) {
    executor.set(Mode.radiusCompensation, radius / 10);
    executor.compensationStale = true;
  }
  if (block.has(D)) executor.set(Mode.radiusRegister, block.value(D));
  if (radius > 400) tellUnknownRadius(executor);
  if (executor.isCompensating || executor.modes[Mode.radiusCompensation] !== 40) executor.compensationStale = true;
  const length = codeOf(Group.lengthCompensation);
  if (length >= 0) executor.set(Mode.lengthCompensation, length / 10);
  if (block.has(H)) executor.set(Mode.lengthRegister, block.value(H));
  else if (length === 490) executor.set(Mode.lengthRegister, -1);
  if (length >= 0 || block.has(H)) executor.updateLength();
};

/** Without the cutter's radius the programmed path is run, and said so; D0 wants no other. */
const tellUnknownRadius = (executor: Executor): void => {
  const { modes, configuration, variables, pool } = executor;
  if (modes[Mode.radiusRegister] === 0) return;
  const { radius } = compensationRadius(modes, configuration, variables, pool);
  if (Number.isNaN(radius)) notExecutedAt(executor, 'radius-unknown', places[Group.radiusCompensation]);
};

const offsets = (executor: Executor): void => {
  const { block } = executor;
  let offset = codeOf(Group.offset);
  if (offset === 541 || (offset === 540 && block.has(P) && block.wordText(places[Group.offset]).includes('.1'))) {
    offset = 10_000 + (block.has(P) ? block.value(P) : 0);
  }
  if (offset >= 0) {
    changeOffset(executor, offset);
    executor.give(Given.offset);
  }
  const path = codeOf(Group.pathControl);
  if (path >= 0) executor.set(Mode.pathControl, path);
  const distance = codeOf(Group.distance);
  if (distance >= 0) {
    executor.set(Mode.distance, distance / 10);
    noteDistance(executor, distance / 10);
    executor.give(Given.distance);
  }
  const arcDistance = codeOf(Group.arcDistance);
  if (arcDistance >= 0) executor.set(Mode.arcDistance, arcDistance === 901 ? 90 : 91);
  const retract = codeOf(Group.retract);
  if (retract >= 0) executor.set(Mode.retract, retract / 10);
};

/** Codes that take the axis words; of two that both want them the first holds. */
const CLAIMS = [100, 280, 290, 300, 520, 920];

const onceCodes = (executor: Executor): void => {
  const { block } = executor;
  let claim = -1;
  for (const word of onceWords) {
    const code = Math.round(block.values[word] * 10);
    if (!CLAIMS.includes(code)) {
      if (executor.once < 0 && code !== 90) executor.once = code;
      continue;
    }
    if (claim >= 0) {
      executor.faultAt('axis-words-claimed-twice', 'twice', word, {
        first: block.wordText(claim),
        second: block.wordText(word),
      });
      continue;
    }
    claim = word;
    executor.once = code;
  }
  for (const group of [Group.scaling, Group.rotation]) {
    if (codeOf(group) !== 510 && codeOf(group) !== 680) continue;
    if (claim >= 0) {
      executor.faultAt('axis-words-claimed-twice', 'twice', places[group], {
        first: block.wordText(claim),
        second: block.wordText(places[group]),
      });
      continue;
    }
    claim = places[group];
    executor.once = codeOf(group);
  }
  switchOff(executor);
};

/** G50, G69, G15, G16, G50.1, G51.1. */
const switchOff = (executor: Executor): void => {
  if (codeOf(Group.scaling) === 500) executor.set(Mode.scaling, 0);
  if (codeOf(Group.rotation) === 690) executor.set(Mode.rotation, 0);
  const polar = codeOf(Group.polar);
  if (polar >= 0) executor.set(Mode.polar, polar === 160 ? 1 : 0);
  const mirror = codeOf(Group.mirror);
  if (mirror >= 0) executor.once = mirror;
};

const motionCodes = (executor: Executor): void => {
  const { profile } = executor;
  const motion = codeOf(Group.motion);
  const cycle = codeOf(Group.cycle);
  const code = motion >= 0 && motion < 400 ? motion : -1;
  if (code >= 0) {
    executor.setMotion(code);
    endCycle(executor);
    executor.motionCode = code;
    executor.motionWord = places[Group.motion];
  }
  const drilling = profile.cyclesAreMotion ? (motion >= 400 ? motion : -1) : cycle;
  if (drilling < 0) return;
  executor.motionCode = drilling;
  executor.motionWord = places[profile.cyclesAreMotion ? Group.motion : Group.cycle];
  if (drilling === 800) {
    endCycle(executor);
    if (profile.cyclesAreMotion) executor.set(Mode.motion, -1);
    else if (code < 0 && executor.modes[Mode.motion] > 10 && executor.hasAxisWord()) {
      executor.set(Mode.motion, executor.modes[Mode.lastStraight]);
    }
    if (code >= 0) executor.motionCode = code;
  } else startCycle(executor, drilling);
};

const startCycle = (executor: Executor, code: number): void => {
  if (executor.modes[Mode.cycle] === 0) executor.set(Mode.cycleInitial, Number.NaN);
  executor.set(Mode.cycle, code);
};

/** Ends an active cycle: its words are forgotten. */
const endCycle = (executor: Executor): void => {
  if (executor.modes[Mode.cycle] === 0) return;
  executor.set(Mode.cycle, 0);
  for (let field = Mode.cycleRetract; field <= Mode.cycleShiftSecond; field++) executor.set(field, Number.NaN);
  executor.set(Mode.cycleTop, Number.NaN);
  executor.takeBack(Given.cycleComplained);
};

const callsAndStops = (executor: Executor): void => {
  const stop = codeOf(Group.stop);
  if (stop === 2 || stop === 30) executor.afterMotion.push(stop);
  const call = codeOf(Group.call);
  if (call === 99 || call === 17) subprogramReturn(executor);
  else if (call >= 0) subprogramCall(executor, call !== 98);
  const macro = codeOf(Group.macroCall);
  if (macro >= 0) macroCall(executor, macro);
  if (codeOf(Group.motion) >= 380 && codeOf(Group.motion) < 390) notExecutedAt(executor, 'probe', places[Group.motion]);
};

const notExecutedAt = (executor: Executor, kind: string, word: number): void => {
  const { block } = executor;
  executor.listener.notExecuted(kind, block.starts[word], block.ends[word]);
};
