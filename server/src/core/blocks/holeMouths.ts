/** What is done at the mouth of a hole: spot, countersink, counterbore. A cone's depth is (D − tip)/(2·tan(θ/2)), by geometry. */
import { chipLoadRange } from '../reference/chipLoads.ts';
import type { CutterData } from './cuttingData.ts';
import {
  cycleWork,
  type DrilledHole,
  diameterWord,
  type HoleJob,
  type HoleWork,
  needed,
  rowOf,
  valuesOf,
  waitAtBottom,
} from './holeWork.ts';
import type { BlockPlan } from './plan.ts';
import { short } from './readValues.ts';
import type { Values } from './values.ts';

/** Depth of a cone's tip where it is `diameter` wide at the top; `tip` is the flat at its end. Lengths mm, the whole angle in degrees. */
const coneDepth = (diameter: number, angle: number, tip = 0): number =>
  (diameter - tip) / (2 * Math.tan((angle * Math.PI) / 360));

/** Point angles of common spot drills that are as blunt as common twist drills, degrees (common practice, no source). */
const SPOT_ANGLES = [120, 142] as const;
/** How much wider a spot is than the hole, so that a chamfer is left (common practice, no source). */
const CHAMFER_SHARE = 1.05;

/** Spots the holes: as deep as the chamfer that is to be left. */
export const planSpot = (job: HoleJob, plan: BlockPlan): HoleWork | undefined => {
  const own = valuesOf(job, 'spot');
  const row = rowOf(own, job, 'spot', plan);
  const drillAngle = job.drilled?.pointAngle ?? job.values.number('drill.angle');
  const angle = own.optionalNumber('angle') ?? (drillAngle <= SPOT_ANGLES[0] ? SPOT_ANGLES[0] : SPOT_ANGLES[1]);
  const diameter = spotDiameter(job, own, plan);
  if (diameter === undefined) return undefined;
  const depth = coneDepth(diameter, angle);
  plan.fact('spot.diameter', 'Wide at the top', diameter, 'mm');
  plan.fact('spot.angle', 'Point angle', angle, '°');
  plan.fact('spot.depth', 'Depth', depth, 'mm');
  if (job.drilled !== undefined && angle < drillAngle) {
    plan.word(
      'spot.angle',
      `The spot of ${short(angle)}° is steeper than the drill of ${short(drillAngle)}°, so the drill’s corners touch first. Take a spot drill of ${short(drillAngle)}° or more.`,
    );
  }
  if (row?.diameter !== undefined && diameter > row.diameter) {
    plan.problem(
      'spot.diameter',
      `A spot of ${plan.say(diameter)} is wider than its tool of ${plan.say(row.diameter)}. Take ${plan.say(row.diameter)} or less, or a wider tool.`,
    );
  }
  refuseBelow(plan, job.drilled, 'spot.diameter', depth, 0);
  return cycleWork(own, plan, job, {
    operation: 'spot',
    cutter: {
      kind: 'spot-drill',
      diameter,
      cutting: row?.cuttingMaterial ?? 'hss',
      teeth: 2,
      ...chipOfDrill(diameter),
    },
    description: `SPOT DRILL ${short(angle)}DEG`,
    width: diameter,
    cycle: (speed) => ({ code: 'G82', bottom: job.levels.top - depth, dwell: waitAtBottom(speed) }),
  });
};

/** A spot drill is fed like a drill as wide as its spot (common practice, no source). */
const chipOfDrill = (diameter: number): Pick<CutterData, 'chipLoad'> => {
  const chipLoad = chipLoadRange('drill', diameter);
  return chipLoad === undefined ? {} : { chipLoad };
};

/** Feeds a tooth, mm, of tools that the table of chip loads does not have (common practice, no source). */
const SINK_CHIP = [0.02, 0.08] as const;
const SINK_TEETH = 3;

/** As given, else a little wider than the hole will be; as wide as the drill where a countersink or counterbore makes the mouth. */
const spotDiameter = (
  { operations, drilled, thread, values }: HoleJob,
  own: Values,
  plan: BlockPlan,
): number | undefined => {
  const given = own.optionalNumber('diameter');
  if (given !== undefined) return given;
  const widest = Math.max(
    drilled?.diameter ?? 0,
    thread ?? 0,
    operations.includes('ream') ? (values.optionalNumber('ream.diameter') ?? 0) : 0,
    operations.includes('bore') ? (values.optionalNumber('bore.diameter') ?? 0) : 0,
  );
  if (widest === 0) {
    plan.problem(
      'spot.diameter',
      'How wide the spot is at the top is missing, and no drill follows to find it by. Give the chamfer’s diameter.',
    );
    return undefined;
  }
  const isOpenedLater = operations.includes('countersink') || operations.includes('counterbore');
  if (isOpenedLater && drilled !== undefined) return drilled.diameter;
  return Math.ceil(widest * CHAMFER_SHARE * 10 - 1e-6) / 10;
};

/** A cone with a flat of `tip` mm must end above the drill's point. */
const refuseBelow = (
  plan: BlockPlan,
  drilled: DrilledHole | undefined,
  name: string,
  depth: number,
  tip: number,
): void => {
  if (drilled === undefined) return;
  const most = drilled.tip - coneDepth(tip, drilled.pointAngle);
  if (depth <= most + 1e-9) return;
  plan.problem(
    name,
    `The tip of this cone goes ${plan.say(depth)} deep, and the drilled hole has room down to ${plan.say(most)}. Take a smaller diameter, a larger angle, or drill ${plan.say(depth - most)} deeper.`,
  );
};

/** Countersinks the holes. */
export const planCountersink = (job: HoleJob, plan: BlockPlan): HoleWork | undefined => {
  const own = valuesOf(job, 'countersink');
  const row = rowOf(own, job, 'countersink', plan);
  const diameter = needed(own, plan, 'countersink', 'diameter', 'The countersink’s diameter');
  if (diameter === undefined) return undefined;
  const [angle, tip] = [own.number('angle'), own.number('tip')];
  if (!fitsMouth(job, plan, diameter, tip)) return undefined;
  const depth = coneDepth(diameter, angle, tip);
  plan.fact('countersink.depth', 'Tip below the top', depth, 'mm');
  refuseBelow(plan, job.drilled, 'countersink.diameter', depth, tip);
  refuseOnFloor(job, plan, diameter, angle, tip);
  return cycleWork(own, plan, job, {
    operation: 'countersink',
    cutter: {
      kind: 'countersink',
      diameter,
      cutting: row?.cuttingMaterial ?? 'hss',
      teeth: row?.teeth ?? SINK_TEETH,
      chipLoad: SINK_CHIP,
    },
    description: `COUNTERSINK ${short(angle)}DEG`,
    width: diameter,
    cycle: (speed) => ({ code: 'G82', bottom: job.levels.top - depth, dwell: waitAtBottom(speed) }),
  });
};

/** A countersink is wider than the hole and the counterbore at its mouth, and its flat goes into the hole. */
const fitsMouth = (
  { drilled, operations, values }: HoleJob,
  plan: BlockPlan,
  diameter: number,
  tip: number,
): boolean => {
  const counterbore = operations.includes('counterbore') ? (values.optionalNumber('counterbore.diameter') ?? 0) : 0;
  const mouth = Math.max(drilled?.diameter ?? 0, counterbore);
  if (tip >= diameter) {
    plan.problem(
      'countersink.tip',
      `A flat tip of ${plan.say(tip)} leaves no cone in ${plan.say(diameter)}. Take a tip of less than ${plan.say(diameter)}.`,
    );
    return false;
  }
  if (diameter <= mouth) {
    const what = counterbore >= (drilled?.diameter ?? 0) ? 'counterbore' : 'hole';
    plan.problem(
      'countersink.diameter',
      `A countersink of ${plan.say(diameter)} cuts nothing at a ${what} of ${plan.say(mouth)}. Take more than ${plan.say(mouth)}.`,
    );
    return false;
  }
  if (drilled !== undefined && tip > drilled.diameter) {
    plan.problem(
      'countersink.tip',
      `The flat tip of ${plan.say(tip)} does not go into the hole of ${plan.say(drilled.diameter)}. Take a countersink with a tip of ${plan.say(drilled.diameter)} or less.`,
    );
    return false;
  }
  return true;
};

/** A countersink at a counterbore's mouth must not reach the edge of the hole in its floor. */
const refuseOnFloor = (
  { drilled, operations, values }: HoleJob,
  plan: BlockPlan,
  diameter: number,
  angle: number,
  tip: number,
): void => {
  const floor = operations.includes('counterbore') ? values.optionalNumber('counterbore.depth') : undefined;
  if (floor === undefined) return;
  const hole = Math.max(drilled?.diameter ?? tip, tip);
  const reach = coneDepth(diameter, angle, hole);
  if (reach <= floor + 1e-9) return;
  plan.problem(
    'countersink.diameter',
    `The countersink is wider than ${plan.say(hole)} down to ${plan.say(reach)}, below the counterbore’s floor at ${plan.say(floor)}. Take a smaller diameter, or a larger tip.`,
  );
};

/** Counterbores the holes, with a wait of some turns so that the floor comes out flat. */
export const planCounterbore = (job: HoleJob, plan: BlockPlan): HoleWork | undefined => {
  const own = valuesOf(job, 'counterbore');
  const row = rowOf(own, job, 'counterbore', plan);
  const diameter = needed(own, plan, 'counterbore', 'diameter', 'The counterbore’s diameter');
  const depth = needed(own, plan, 'counterbore', 'depth', 'The counterbore’s depth');
  if (diameter === undefined || depth === undefined) return undefined;
  const { drilled } = job;
  if (drilled !== undefined && diameter <= drilled.diameter) {
    plan.problem(
      'counterbore.diameter',
      `A counterbore of ${plan.say(diameter)} cuts nothing in a hole of ${plan.say(drilled.diameter)}. Take more than ${plan.say(drilled.diameter)}.`,
    );
  }
  if (drilled !== undefined && depth >= drilled.depth) {
    plan.problem(
      'counterbore.depth',
      `The counterbore is ${plan.say(depth)} deep and the hole ${plan.say(drilled.depth)}, so no shoulder is left. Take less than ${plan.say(drilled.depth)}.`,
    );
  }
  return cycleWork(own, plan, job, {
    operation: 'counterbore',
    cutter: {
      kind: 'countersink',
      diameter,
      cutting: row?.cuttingMaterial ?? 'hss',
      teeth: row?.teeth ?? SINK_TEETH,
      chipLoad: SINK_CHIP,
    },
    description: `COUNTERBORE ${diameterWord(diameter, plan)}`,
    width: diameter,
    cycle: (speed) => ({ code: 'G82', bottom: job.levels.top - depth, dwell: waitAtBottom(speed) }),
  });
};
