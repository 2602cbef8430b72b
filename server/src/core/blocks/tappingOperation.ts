/** Taps threads with one of three holders: computes it into a plan and says how to write it. */
import type { Thread } from '../reference/threadName.ts';
import type { BlockWriter } from './blockWriter.ts';
import type { Levels } from './commonParameters.ts';
import { spindleSpeed } from './cuttingData.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import { type ThreadHole, tapFacts, threadHole } from './tapFacts.ts';
import { tapFeedsOf } from './tapHolders.ts';
import { writeHead, writeTappingCycle } from './tapWriting.ts';
import { handOf } from './threadParameters.ts';
import type { Values } from './values.ts';

/** A thread to be tapped. Lengths mm. */
export interface TapTask {
  readonly thread: Thread;
  readonly hand: 'right' | 'left';
  readonly forming: boolean;
  readonly isThrough: boolean;
  /** Depth of full thread. */
  readonly depth: number;
  /** Way of the tap's tip below the top: full thread and the tap's lead. */
  readonly reach: number;
  /** The same as it is programmed: less the self-feed of a self-reversing head. */
  readonly tip: number;
  readonly holder: 'synchronised' | 'float' | 'reversing';
  readonly speed: number;
  /** F is written as the pitch, under G95. */
  readonly feedsPerTurn: boolean;
}

/** A tapping operation that can be written. Lengths mm. */
export interface TappingOperation {
  /** rev/min, and the way the spindle turns. */
  readonly speed: number;
  readonly hand: 'right' | 'left';
  /** The spindle stands when the operation begins: its code starts it. */
  readonly startsSpindle: boolean;
  /** The safe level that the operation begins and ends at: the section's `retract`. At least the levels' own. */
  readonly endHeight: number;
  /** Lowest level that is programmed. */
  readonly lowest: number;
  /** How far below the top the tap's tip gets with what its holder lets it run on, mm. */
  readonly reach: number;
  /** The tool in the words of a remark: `TAP M8X1.25 LH`. */
  readonly description: string;
  /** The hole that it needs; undefined where no table has its drill. */
  readonly hole: ThreadHole | undefined;
  /** Writes all holes, from and to `endHeight` over the first and the last of them; the spindle turns already, unless `startsSpindle`. */
  write(writer: BlockWriter, places: readonly Place[]): void;
}

/** Height above the top that a tap needs to come up to speed, by its holder, mm (design page). */
export const tappingClearance = (values: Values): number => {
  const { pitch } = values.thread('thread');
  switch (values.text('holder')) {
    case 'float':
      return Math.max(5, 3 * pitch);
    case 'reversing':
      return (values.optionalNumber('self-feed') ?? 0) + 3 * pitch;
    default:
      return Math.max(3, 2 * pitch);
  }
};

/**
 * Computes a tapping operation into `plan`. `values` has the tapping names without prefix; `prefix` (such as `tap.`) stands
 * before the names of problems and facts. A clearance that was not given for the tap itself is raised to what its holder
 * needs. Undefined where problems keep it from being written.
 */
export const planTappingOperation = (
  values: Values,
  plan: BlockPlan,
  levels: Levels,
  prefix: string,
): TappingOperation | undefined => {
  const task = taskOf(values, plan, prefix);
  if (task === undefined) return undefined;
  const height = levels.clearance - levels.top;
  const needed = values.isGiven('clearance') ? height : Math.max(height, tappingClearance(values));
  const clearance = levels.top + needed;
  const bottom = levels.top - task.tip;
  const feeds = tapFeedsOf(values, plan, task, { from: clearance, top: levels.top, bottom }, prefix);
  if (feeds === undefined) return undefined;
  const hole = threadHole(task, feeds.overrun);
  tapFacts(values, plan, task, { feeds, hole, way: needed + task.tip }, prefix);
  const free = clearance + (task.holder === 'reversing' ? (values.optionalNumber('free-up') ?? 0) : 0);
  const endHeight = Math.max(levels.retract, free);
  const way = { clearance, bottom, free, safe: endHeight };
  return {
    speed: task.speed,
    hand: task.hand,
    startsSpindle: task.holder === 'synchronised' && plan.context.configuration.profile.synchronisedTappingCode >= 0,
    endHeight,
    lowest: bottom,
    reach: task.tip + feeds.overrun,
    description: descriptionOf(task),
    hole,
    write: (writer, places) =>
      task.holder === 'reversing'
        ? writeHead(writer, places, way, feeds)
        : writeTappingCycle(writer, places, way, feeds.in, task),
  };
};

const taskOf = (values: Values, plan: BlockPlan, prefix: string): TapTask | undefined => {
  const thread = values.thread('thread');
  const hand = handOf(values, plan, thread, prefix);
  const forming = values.isYes('forming');
  const { diameter, pitch } = thread;
  const holder = values.text('holder') as TapTask['holder'];
  const depth = values.number('depth');
  const reach = depth + values.number('lead-turns') * pitch;
  const speed = spindleSpeed(values, plan, { kind: 'tap', diameter, cutting: 'hss', teeth: 1 }, prefix);
  const selfFeed = holder === 'reversing' ? (values.optionalNumber('self-feed') ?? 0) : 0;
  const tip = reach - selfFeed;
  if (tip <= 0) {
    plan.problem(
      `${prefix}self-feed`,
      `The tap goes ${plan.say(reach)} deep with its lead, and the head runs on by ${plan.say(selfFeed)}: nothing is left to feed. Take a head with less self-feed, or another holder.`,
    );
    return undefined;
  }
  if (speed === 0) return undefined;
  const isThrough = values.text('hole') === 'through';
  const feedsPerTurn = isFedPerTurn(values, plan, holder, prefix);
  return { thread, hand, forming, isThrough, depth, reach, tip, holder, speed, feedsPerTurn };
};

/** G95 as asked for; a problem where the control does not have it. */
const isFedPerTurn = (values: Values, plan: BlockPlan, holder: TapTask['holder'], prefix: string): boolean => {
  if (holder !== 'synchronised' || values.optionalText('feed-per') !== 'turn') return false;
  if (plan.context.configuration.profile.withoutCodes.includes(950)) {
    plan.problem(`${prefix}feed-per`, 'This control has no G95, the feed a turn. Set feed-per to minute.');
  }
  return true;
};

const descriptionOf = ({ thread, hand, forming, isThrough }: TapTask): string =>
  [forming ? 'FORM TAP' : 'TAP', thread.name, hand === 'left' ? 'LH' : '', isThrough ? 'THROUGH' : '']
    .filter((word) => word !== '')
    .join(' ');
