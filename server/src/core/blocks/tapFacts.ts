/** What follows from a tapped thread: its drill and how deep that goes, torque, power, time. */

import { materialGroup } from '../reference/materials.ts';
import { tapDrillOf } from '../reference/tapDrills.ts';
import { tapTorqueLimit } from '../reference/tapTorqueLimits.ts';
import {
  cutEngagement,
  cuttingForceAtTooth,
  cuttingSpeedOf,
  drillPointLength,
  formedEngagement,
  spindleSpeedFor,
  tapTorque,
} from '../reference/threadMeasures.ts';
import { materialOf } from './cuttingData.ts';
import type { BlockPlan } from './plan.ts';
import type { TapFeeds } from './tapHolders.ts';
import type { TapTask } from './tappingOperation.ts';
import type { Values } from './values.ts';

/** Room for chips below a blind thread, in pitches: 1 to 2 are usual (common practice). */
export const BOTTOM_PITCHES = 1.5;
/** Point angle of the common twist drill, degrees. */
export const DRILL_ANGLE = 118;

/** A hole that is drilled for a thread, mm: its drill, and how deep it has its full diameter. */
export interface ThreadHole {
  readonly drill: number;
  /** How the trade calls the drill; undefined where it goes by millimetres. */
  readonly name: string | undefined;
  readonly fullDepth: number;
}

/** The hole for a tap that goes deeper by `overrun` than it is programmed; undefined where no table has the drill. */
export const threadHole = (task: TapTask, overrun: number): ThreadHole | undefined => {
  const { thread, forming, tip, depth, isThrough } = task;
  // The tables of pipe threads are for taps that cut.
  const isTable = !(forming && (thread.series === 'npt' || thread.series === 'pipe-g'));
  const drill = isTable ? tapDrillOf(thread, forming) : undefined;
  if (drill === undefined) return undefined;
  const blind = Math.ceil((tip + overrun + BOTTOM_PITCHES * thread.pitch) * 10 - 1e-6) / 10;
  return { drill: drill.diameter, name: drill.name, fullDepth: isThrough ? depth : blind };
};

/** What a tap was found to need; `way`: from the level where feed begins down to the tip, mm. */
interface TapNeeds {
  readonly feeds: TapFeeds;
  readonly hole: ThreadHole | undefined;
  readonly way: number;
}

/** Facts and words of a tapping operation. */
export const tapFacts = (
  values: Values,
  plan: BlockPlan,
  task: TapTask,
  { feeds, hole, way }: TapNeeds,
  prefix: string,
): void => {
  const fact: BlockPlan['fact'] = (name, ...more) => plan.fact(`${prefix}${name}`, ...more);
  const places = plan.inch ? 4 : 3;
  fact('feed', 'Feed', feeds.in, 'mm/min', places);
  if (task.feedsPerTurn) fact('feed-a-turn', 'Feed a turn, the pitch', task.thread.pitch, 'mm', places);
  if (task.holder === 'reversing') fact('feed-out', 'Feed out', feeds.out, 'mm/min', places);
  fact('tip', 'Tap’s tip below the top', task.tip, 'mm');
  holeFacts(plan, task, hole, prefix);
  loadFacts(values, plan, task, prefix);
  const seconds = (way / feeds.in + (way + (values.optionalNumber('free-up') ?? 0)) / feeds.out) * 60;
  fact('time', 'Time at feed, each hole', `${seconds.toFixed(1)} s`);
};

const holeFacts = (plan: BlockPlan, task: TapTask, hole: ThreadHole | undefined, prefix: string): void => {
  const { thread, forming, isThrough } = task;
  if (hole === undefined) {
    plan.word(
      `${prefix}thread`,
      `No table here has the drill for ${thread.name}${forming ? ' by a forming tap' : ''}. Take it from the tap maker’s data.`,
    );
    return;
  }
  const size = plan.say(hole.drill);
  plan.fact(`${prefix}tap-drill`, 'Tap drill', hole.name === undefined ? size : `${hole.name} (${size})`);
  if (thread.series === 'metric' || thread.series === 'unified') {
    const engagement = (forming ? formedEngagement : cutEngagement)(thread.diameter, hole.drill, thread.pitch);
    plan.fact(`${prefix}engagement`, 'Share of a full thread', `${Math.round(engagement)} %`);
  }
  const point = drillPointLength(hole.drill, DRILL_ANGLE);
  plan.fact(
    `${prefix}drilled-depth`,
    'Hole to be drilled',
    isThrough
      ? `through, to ${plan.say(hole.fullDepth + point)} at the tip of a ${DRILL_ANGLE}° drill and a little more`
      : `${plan.say(hole.fullDepth)} at full diameter, ${plan.say(hole.fullDepth + point)} to the tip of a ${DRILL_ANGLE}° drill`,
  );
};

/** kc, N/mm²: the shop's kc1.1 where it is of this material, brought to the chip of a tooth; else that of the material's group. */
const cuttingForce = (values: Values, plan: BlockPlan, pitch: number): number | undefined => {
  const name = materialOf(values, plan);
  const own = plan.context.configuration.material;
  if (own?.kc11 === undefined || own.name !== name)
    return name === undefined ? undefined : materialGroup(name)?.tappingForce;
  // Three flutes are usual.
  const teeth = FLUTES * Math.max(1, values.number('lead-turns'));
  return cuttingForceAtTooth(own.kc11, own.mc, pitch, teeth);
};

const FLUTES = 3;
const loadFacts = (values: Values, plan: BlockPlan, task: TapTask, prefix: string): void => {
  const { thread, forming, speed } = task;
  judgeSpeed(values, plan, task, prefix);
  const force = cuttingForce(values, plan, thread.pitch);
  if (force === undefined) return;
  const torque = tapTorque(thread.diameter, thread.pitch, force);
  if (forming || thread.series === 'npt') {
    plan.fact(
      `${prefix}torque`,
      'Torque',
      `more than the ${plan.say(torque, 'N·m')} of a tap that cuts a thread as wide`,
    );
    return;
  }
  plan.fact(`${prefix}torque`, 'Torque, about', torque, 'N·m');
  // P = 2·π·n·T/60: the definition of power.
  const power = (2 * Math.PI * speed * torque) / 60_000;
  plan.fact(`${prefix}power`, 'Power, about', `${power.toFixed(2)} kW`);
  judgeLoad(plan, task, { torque, power }, prefix);
};

const judgeLoad = (
  plan: BlockPlan,
  { thread, speed }: TapTask,
  { torque, power }: { readonly torque: number; readonly power: number },
  prefix: string,
): void => {
  const limit = tapTorqueLimit(thread.diameter);
  if (limit !== undefined && torque > limit) {
    plan.word(
      `${prefix}thread`,
      `Tapping takes about ${plan.say(torque, 'N·m')}, and such a tap stands about ${plan.say(limit, 'N·m')}. Drill wider, or mill the thread.`,
    );
  }
  const most = plan.context.configuration.machine?.power;
  if (most !== undefined && power > most) {
    plan.word(
      `${prefix}speed`,
      `Tapping takes about ${power.toFixed(2)} kW, and the machine has ${most}. Give a speed of ${Math.floor((speed * most) / power)} or less.`,
    );
  }
};

/** What coated taps stand in the softest material, m/min (common practice, no source). */
const ANY_MATERIAL = 60;

const judgeSpeed = (values: Values, plan: BlockPlan, { thread, speed }: TapTask, prefix: string): void => {
  const name = materialOf(values, plan);
  const group = name === undefined ? undefined : materialGroup(name);
  const most = group?.tapSpeed ?? ANY_MATERIAL;
  const actual = cuttingSpeedOf(thread.diameter, speed);
  if (actual <= most) return;
  const what = group === undefined ? 'the softest material' : group.name;
  plan.word(
    `${prefix}speed`,
    `${plan.say(speed, 'rev/min')} is ${plan.say(actual, 'm/min')}, and taps of high-speed steel in ${what} stand at most about ${plan.say(most, 'm/min')}. Give a speed of ${Math.floor(spindleSpeedFor(thread.diameter, most))} or less.`,
  );
};
