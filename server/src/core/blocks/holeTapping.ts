/** Tapping as one of the operations over a pattern: what it asks of the drill, and its writing. */
import { cutEngagement, formedEngagement } from '../reference/threadMeasures.ts';
import type { Thread } from '../reference/threadName.ts';
import type { Levels } from './commonParameters.ts';
import type { HoleNeed } from './holeChain.ts';
import type { OperationName } from './holeParameters.ts';
import { type DrilledHole, type HoleWork, needed, valuesOf } from './holeWork.ts';
import type { BlockPlan } from './plan.ts';
import { BOTTOM_PITCHES } from './tapFacts.ts';
import { planTappingOperation, type TappingOperation, tappingClearance } from './tappingOperation.ts';
import type { Values } from './values.ts';

/** A tap that is planned before the drill, because the drill goes by it. */
export interface PlannedTap {
  readonly own: Values;
  readonly thread: Thread;
  readonly isThrough: boolean;
  readonly operation: TappingOperation;
  readonly need: HoleNeed;
}

/** True where the holes go through: the drill or the tap says so. */
export const goesThrough = (values: Values): boolean =>
  values.isYes('drill.through') || values.optionalText('tap.hole') === 'through';

/** Plans the tap; undefined with problems where something is missing. */
export const planTap = (
  values: Values,
  plan: BlockPlan,
  levels: Levels,
  operations: readonly OperationName[],
): PlannedTap | undefined => {
  const given = valuesOf({ values, operations }, 'tap');
  const hole = values.optionalText('tap.hole') ?? (goesThrough(values) ? 'through' : 'blind');
  const isThrough = hole === 'through';
  const own = given.with({
    hole,
    // A through hole is threaded through, where nobody says otherwise.
    depth: given.optionalNumber('depth') ?? (isThrough ? values.optionalNumber('drill.depth') : undefined),
  });
  const thread = own.optionalThread('thread');
  if (thread === undefined) plan.problem('tap.thread', 'The thread is missing. Give it by name, such as M6.');
  const depth = needed(own, plan, 'tap', 'depth', 'The depth of full thread');
  const holder = own.optionalText('holder');
  if (holder === undefined) {
    plan.problem(
      'tap.holder',
      'What holds the tap is missing, and in another holder than the block is for it breaks. Give synchronised, float or reversing, or write the holder into the tool table.',
    );
  }
  if (thread === undefined || depth === undefined || holder === undefined) return undefined;
  const operation = planTappingOperation(own, plan, levels, 'tap.');
  if (operation === undefined) return undefined;
  const blind = operation.hole?.fullDepth ?? operation.reach + BOTTOM_PITCHES * thread.pitch;
  const need: HoleNeed = { operation: 'tap', diameter: operation.hole?.drill, depth: isThrough ? depth : blind };
  return { own, thread, isThrough, operation, need };
};

/** Share of a full thread, per cent, that a tapped hole has; as the rule tap-drill-size takes it. */
const LEAST_SHARE = 50;
const MOST_SHARE = 85;

/** Words at the head of the block for holders that need a hand; 60 characters at most. */
const CAUTIONS: Readonly<Record<string, readonly string[]>> = {
  float: ['FLOAT HOLDER: SPEED AND FEED AT 100 %'],
  reversing: ['SELF-REVERSING HEAD: STOP ARM SET, SPEED AND FEED AT 100 %'],
};

/** Judges the hole that the tap comes to, and says how to write it. */
export const tapWork = (
  { own, thread, isThrough, operation, need }: PlannedTap,
  plan: BlockPlan,
  levels: Levels,
  before: { readonly drilled: DrilledHole | undefined; readonly diameter: number | undefined },
): HoleWork => {
  plan.caution(...(CAUTIONS[own.text('holder')] ?? []));
  if (before.diameter !== undefined) judgeDiameter(own, plan, thread, before.diameter, need);
  if (before.drilled !== undefined && !isThrough && !before.drilled.isThrough)
    judgeDepth(plan, operation.reach, before.drilled, need);
  return {
    operation: 'tap',
    toolNumber: own.optionalNumber('tool-number'),
    description: operation.description,
    speed: operation.speed,
    hand: operation.hand,
    startsSpindle: operation.startsSpindle,
    width: thread.diameter,
    bottom: operation.lowest,
    safe: operation.endHeight,
    across: operation.endHeight,
    seconds: secondsOf(own, thread, operation, levels),
    write: (writer, places) => operation.write(writer, places),
  };
};

const secondsOf = (
  own: Values,
  { pitch }: Thread,
  { speed, lowest }: TappingOperation,
  { top, clearance }: Levels,
): number => {
  const way = Math.max(clearance, top + tappingClearance(own)) - lowest;
  const isHead = own.text('holder') === 'reversing';
  const ratio = isHead ? own.number('ratio') : 1;
  const out = way + (isHead ? (own.optionalNumber('free-up') ?? 0) : 0);
  return (60 * (way + out / ratio)) / (speed * pitch);
};

const judgeDiameter = (
  own: Values,
  plan: BlockPlan,
  thread: Thread,
  diameter: number,
  { diameter: usual }: HoleNeed,
): void => {
  if (thread.series !== 'metric' && thread.series !== 'unified') {
    // Pipe threads go by the table alone.
    if (usual !== undefined && Math.abs(diameter - usual) > usual * 0.02 + 0.1)
      plan.word(
        'drill.diameter',
        `The drill for ${thread.name} is ${plan.say(usual)}, not ${plan.say(diameter)}. Take ${plan.say(usual)}.`,
      );
    return;
  }
  const take = usual === undefined ? '' : ` Take ${plan.say(usual)}.`;
  if (diameter >= thread.diameter - 1e-6) {
    plan.problem(
      'drill.diameter',
      `In a hole of ${plan.say(diameter)} the tap ${thread.name} finds nothing to cut: the thread is ${plan.say(thread.diameter)} wide.${take}`,
    );
    return;
  }
  const share = (own.isYes('forming') ? formedEngagement : cutEngagement)(thread.diameter, diameter, thread.pitch);
  if (diameter !== usual) plan.fact('tap.share', 'Share of a full thread in this hole', `${Math.round(share)} %`);
  if (share > 100) {
    plan.problem(
      'drill.diameter',
      `A hole of ${plan.say(diameter)} is narrower than the core of ${thread.name}: the tap breaks in it.${take}`,
    );
  } else if (share > MOST_SHARE || share < LEAST_SHARE) {
    plan.word(
      'drill.diameter',
      `A hole of ${plan.say(diameter)} leaves ${Math.round(share)} % of a full thread; ${LEAST_SHARE} to ${MOST_SHARE} % is usual.${take}`,
    );
  }
};

/** In a blind hole the tap's tip stays above the drill's point, with room for chips. `reach`: how deep the tip gets. */
const judgeDepth = (
  plan: BlockPlan,
  reach: number,
  { depth: full }: DrilledHole,
  { depth: wanted = 0 }: HoleNeed,
): void => {
  if (full >= wanted - 1e-9) return;
  if (full < reach - 1e-9) {
    plan.problem(
      'drill.depth',
      `The tap’s tip goes ${plan.say(reach)} deep, and the drill leaves its full diameter only down to ${plan.say(full)}: the tap breaks. Drill to ${plan.say(wanted)}, or tap ${plan.say(wanted - full)} less deep.`,
    );
    return;
  }
  plan.word(
    'drill.depth',
    `Below the tap’s tip ${plan.say(full - reach)} is left for chips; ${plan.say(wanted - reach)} is usual. Drill to ${plan.say(wanted)}.`,
  );
};
