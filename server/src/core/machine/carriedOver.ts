/**
 * What a tool takes over from the one before it: under which tool F and S were given, and modes that a tool change or the
 * way home left on. Kept as modes, so that an edit gives the same as a fresh run.
 */
import type { Executor } from './executor.ts';
import { F, S, T } from './letters.ts';
import { Given, LeftOver, Mode, Origin } from './modes.ts';
import { AXIS_BITS } from './planes.ts';

/** Notes bits of `LeftOver`. */
export const note = (executor: Executor, bits: number): void => {
  executor.set(Mode.leftOver, executor.modes[Mode.leftOver] | bits);
};

/** Takes bits of `LeftOver` back. */
export const settle = (executor: Executor, bits: number): void => {
  executor.set(Mode.leftOver, executor.modes[Mode.leftOver] & ~bits);
};

/** True where the block speaks of a tool that is not in the spindle yet, and does not move. */
const isAhead = (executor: Executor): boolean => {
  const { block, modes } = executor;
  if ((block.present & AXIS_BITS) !== 0) return false;
  return block.has(T) || (modes[Mode.toolCalled] >= 0 && modes[Mode.toolCalled] !== modes[Mode.tool]);
};

/** F was given: it is the present tool's own, or that of the tool that comes next. */
export const noteFeed = (executor: Executor): void => {
  if (executor.modes[Mode.feedFrom] !== Origin.own) executor.set(Mode.feedFrom, Origin.own);
  if (isAhead(executor)) note(executor, LeftOver.feedAhead);
};

/** S was given; `starts` is true where the block starts the spindle too. S behind M5 is for the tool that comes next. */
export const noteSpeed = (executor: Executor, starts: boolean): void => {
  const stands = (executor.modes[Mode.given] & Given.spindleStopped) !== 0 && !starts;
  executor.set(Mode.speedFrom, Origin.own);
  settle(executor, LeftOver.speedComplained);
  if (stands || isAhead(executor)) note(executor, LeftOver.speedAhead);
};

/** A tool is changed; called while `Mode.tool` is still the one before. */
export const noteToolChange = (executor: Executor): void => {
  const { modes, block } = executor;
  const ahead = modes[Mode.leftOver];
  carry(executor, Mode.feed, Mode.feedFrom, block.has(F) || (ahead & LeftOver.feedAhead) !== 0);
  carry(executor, Mode.speed, Mode.speedFrom, block.has(S) || (ahead & LeftOver.speedAhead) !== 0);
  let left: number = LeftOver.newTool;
  if (modes[Mode.distance] === 91) left |= LeftOver.distance;
  if (modes[Mode.plane] !== 17) left |= LeftOver.plane;
  if (modes[Mode.feedMode] !== 94) left |= LeftOver.feedMode;
  if (modes[Mode.speedMode] !== 97) left |= LeftOver.speedMode;
  settle(executor, LeftOver.feedAhead | LeftOver.speedAhead);
  note(executor, left);
  executor.takeBack(Given.cutTold);
};

const carry = (executor: Executor, value: number, from: number, isNew: boolean): void => {
  const { modes } = executor;
  const tool = modes[Mode.tool];
  if (isNew || modes[value] < 0) executor.set(from, Origin.own);
  else if (modes[from] === Origin.own || modes[from] === Origin.tapping) {
    const isHeader = !(tool >= 0) && (modes[Mode.leftOver] & LeftOver.cutMade) === 0;
    executor.set(from, tool >= 0 ? tool : isHeader ? Origin.header : Origin.unknownTool);
  }
};

/** The way home in G91: what moves next is a step from there. */
export const noteHome = (executor: Executor): void => {
  if (executor.modes[Mode.distance] !== 91) return;
  note(executor, LeftOver.distanceAtHome);
  executor.takeBack(Given.cutTold);
};

/** Behind the first cut of a tool (or after a tapping cycle, a change of units, the way home). */
export const noteFirstCut = (executor: Executor): void => {
  const { modes } = executor;
  const plain = modes[Mode.feedMode] === 94 && modes[Mode.speedMode] === 97;
  settle(executor, LeftOver.feedAhead | LeftOver.speedAhead | LeftOver.newTool | LeftOver.unitsChanged);
  note(executor, plain ? LeftOver.cutMade | LeftOver.plainCut : LeftOver.cutMade);
  if (modes[Mode.cycle] === 840 || modes[Mode.cycle] === 740) {
    executor.set(Mode.feedFrom, Origin.tapping);
    executor.set(Mode.speedFrom, Origin.tapping);
    return;
  }
  if (modes[Mode.feedFrom] === Origin.tapping) executor.set(Mode.feedFrom, Origin.own);
  if (modes[Mode.speedFrom] === Origin.tapping) executor.set(Mode.speedFrom, Origin.own);
  executor.give(Given.cutTold);
};

/** The unit changes. */
export const noteUnits = (executor: Executor): void => {
  note(executor, LeftOver.unitsChanged);
  executor.takeBack(Given.cutTold);
};

/** A mode was named: nothing of it is left over. */
export const noteDistance = (executor: Executor, code: number): void => {
  settle(executor, LeftOver.distance | LeftOver.distanceAtHome);
  if (code === 90) note(executor, LeftOver.sawAbsolute);
};

/** See `noteDistance`. */
export const notePlane = (executor: Executor, code: number): void => {
  settle(executor, LeftOver.plane);
  if (code === 17) note(executor, LeftOver.sawXY);
};
