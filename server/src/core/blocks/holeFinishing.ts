/** Reaming and boring of drilled holes. */
import { finishingDepth } from './holeChain.ts';
import type { OperationName } from './holeParameters.ts';
import {
  cycleWork,
  diameterWord,
  type HoleCycle,
  type HoleJob,
  type HoleWork,
  needed,
  rowOf,
  valuesOf,
  waitAtBottom,
} from './holeWork.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** Feeds a tooth, mm, and teeth of tools that the table of chip loads does not have (common practice, no source). */
const REAM_CHIP = [0.015, 0.06] as const;
const REAM_TEETH = 6;
const BAR_CHIP = [0.03, 0.12] as const;

/** What a reamer usually takes out on the diameter, least and most, mm (common practice, no source). */
const REAM_STOCK = [0.05, 0.5] as const;

/** Reams the holes: in and out at feed, the spindle turning the same way (G85). */
export const planReaming = (job: HoleJob, plan: BlockPlan): HoleWork | undefined => {
  const own = valuesOf(job, 'ream');
  const row = rowOf(own, job, 'ream', plan);
  const diameter = needed(own, plan, 'ream', 'diameter', 'The reamer’s diameter');
  const depth = depthOf(job, own, plan, 'ream');
  if (diameter === undefined || depth === undefined) return undefined;
  const before = job.operations.includes('bore') ? job.values.optionalNumber('bore.diameter') : job.drilled?.diameter;
  if (before !== undefined && isWider(plan, 'ream', diameter, before)) judgeStock(plan, diameter, before);
  return cycleWork(own, plan, job, {
    operation: 'ream',
    cutter: {
      kind: 'reamer',
      diameter,
      cutting: row?.cuttingMaterial ?? 'hss',
      teeth: row?.teeth ?? REAM_TEETH,
      chipLoad: REAM_CHIP,
    },
    description: `REAMER ${diameterWord(diameter, plan)}${throughWord(job)}`,
    width: diameter,
    cycle: () => ({ code: 'G85', bottom: job.levels.top - depth, feedsOut: true }),
  });
};

const throughWord = ({ drilled }: HoleJob): string => (drilled?.isThrough === true ? ' THROUGH' : '');

/** Bores the holes with a bar set to size. */
export const planBoring = (job: HoleJob, plan: BlockPlan): HoleWork | undefined => {
  const own = valuesOf(job, 'bore');
  const row = rowOf(own, job, 'bore', plan);
  const diameter = needed(own, plan, 'bore', 'diameter', 'The bore’s diameter');
  const depth = depthOf(job, own, plan, 'bore');
  if (diameter === undefined || depth === undefined) return undefined;
  if (job.drilled !== undefined) isWider(plan, 'bore', diameter, job.drilled.diameter);
  const code = `G${own.text('cycle')}`;
  if (code === 'G76' && !mayShift(own, plan, diameter)) return undefined;
  if (code === 'G76') plan.caution('G76: CHECK WHICH WAY THE BAR MOVES OFF THE WALL');
  return cycleWork(own, plan, job, {
    operation: 'bore',
    cutter: { kind: 'boring-bar', diameter, cutting: row?.cuttingMaterial ?? 'carbide', teeth: 1, chipLoad: BAR_CHIP },
    description: `BORING BAR ${diameterWord(diameter, plan)}${throughWord(job)}`,
    width: diameter,
    cycle: (speed) => boringCycle(own, code, job.levels.top - depth, speed),
  });
};

const boringCycle = (own: Values, code: string, bottom: number, speed: number): HoleCycle => {
  switch (code) {
    case 'G86':
      return { code, bottom, dwell: waitAtBottom(speed) };
    case 'G89':
      return { code, bottom, dwell: waitAtBottom(speed), feedsOut: true };
    case 'G76':
      return { code, bottom, words: [['Q', own.number('shift')]], aside: own.number('shift') };
    default:
      return { code, bottom, feedsOut: true };
  }
};

/** A tenth of the bore is more than a bar moves aside without its back touching the wall (common practice, no source). */
const MOST_ASIDE = 0.1;

const mayShift = (own: Values, plan: BlockPlan, diameter: number): boolean => {
  if (plan.context.configuration.profile.withoutCodes.includes(760)) {
    plan.problem('bore.cycle', 'This control has no G76. Take 85, 86 or 89.');
    return false;
  }
  const shift = own.number('shift');
  if (shift > diameter * MOST_ASIDE) {
    plan.problem(
      'bore.shift',
      `${plan.say(shift)} off the wall is too far in a bore of ${plan.say(diameter)}: the bar’s back touches. Take ${plan.say(diameter * MOST_ASIDE)} or less.`,
    );
    return false;
  }
  return true;
};

const nounOf = (operation: OperationName): string => (operation === 'ream' ? 'The reamer' : 'The bar');

/** Depth as given, else by the drilled hole; a problem where it goes into the drill's point, or nothing tells it. */
const depthOf = ({ drilled }: HoleJob, own: Values, plan: BlockPlan, operation: OperationName): number | undefined => {
  const given = own.optionalNumber('depth');
  const noun = nounOf(operation);
  if (drilled === undefined) return given ?? needed(own, plan, operation, 'depth', `${noun}’s depth`);
  const depth = given ?? finishingDepth(drilled);
  const most = drilled.isThrough ? Number.POSITIVE_INFINITY : drilled.depth;
  if (depth > most) {
    plan.problem(
      `${operation}.depth`,
      `${noun} goes ${plan.say(depth)} deep, and the drill leaves its full diameter only down to ${plan.say(most)}. Take ${plan.say(most)} or less, or drill ${plan.say(depth - most)} deeper.`,
    );
  } else if (depth <= 0) {
    plan.problem(
      `${operation}.depth`,
      `The hole of ${plan.say(drilled.depth)} leaves no depth for ${noun.toLowerCase()}. Drill deeper, or give its depth.`,
    );
    return undefined;
  }
  plan.fact(`${operation}.depth`, 'Depth', depth, 'mm');
  return depth;
};

const isWider = (plan: BlockPlan, operation: OperationName, diameter: number, before: number): boolean => {
  if (diameter > before + 1e-9) return true;
  plan.problem(
    `${operation}.diameter`,
    `${nounOf(operation)} of ${plan.say(diameter)} cuts nothing in a hole of ${plan.say(before)}. Make the hole narrower than ${plan.say(diameter)}.`,
  );
  return false;
};

const judgeStock = (plan: BlockPlan, diameter: number, before: number): void => {
  const stock = diameter - before;
  plan.fact('ream.stock', 'Taken out on the diameter', stock, 'mm');
  if (stock >= REAM_STOCK[0] - 1e-9 && stock <= REAM_STOCK[1] + 1e-9) return;
  const [least, most] = REAM_STOCK.map((limit) => plan.say(diameter - limit));
  plan.word(
    'ream.diameter',
    `The reamer takes ${plan.say(stock)} out on the diameter; ${plan.say(0.1)} to ${plan.say(0.3)} is usual. Make the hole before it ${most} to ${least}.`,
  );
};
