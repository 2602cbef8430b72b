/** The cone of a chamfer cutter at a chamfer: how deep it stands and how wide it is there. */
import { feedFor, spindleSpeed } from './cuttingData.ts';
import type { BlockPlan } from './plan.ts';
import { cutterData } from './shapeCutter.ts';
import type { Values } from './values.ts';

/** Lengths mm, speed rev/min, feed mm/min at the edge. */
export interface ChamferCone {
  readonly size: number;
  /** Depth of the chamfer: size/tan(half the point angle). */
  readonly depth: number;
  readonly tipOffset: number;
  /** Radius of the cone at the chamfer's lower and upper edge. The lower one is the way from wall to centre. */
  readonly lower: number;
  readonly upper: number;
  readonly speed: number;
  readonly feed: number;
}

/** Width of the chamfer as seen from above: as given, or from its depth. */
const sizeOf = (values: Values, plan: BlockPlan, slope: number): number | undefined => {
  const size = values.optionalNumber('size');
  const depth = values.optionalNumber('depth');
  if (size === undefined && depth === undefined) {
    plan.problem('depth', 'The chamfer has no measure. Give how deep it goes, or how wide it is from above.');
    return undefined;
  }
  if (size !== undefined && depth !== undefined && Math.abs(size - depth * slope) > 0.001) {
    plan.problem(
      'depth',
      `With this point angle a chamfer ${plan.say(size)} wide goes ${plan.say(size / slope)} down, not ${plan.say(depth)}. Give only one of the two.`,
    );
    return undefined;
  }
  return size ?? (depth ?? 0) * slope;
};

/**
 * Where the cone stands: at a height h over its tip it has the radius tip/2 + h·tan(half the point angle). Geometry of a
 * cone. Undefined with a problem where the cutter is too small.
 */
export const coneOf = (values: Values, plan: BlockPlan): ChamferCone | undefined => {
  const [tool, tip] = [values.number('tool'), values.number('tip')];
  const [angle, tipOffset] = [values.number('point-angle'), values.number('tip-offset')];
  if (tip >= tool) {
    plan.problem(
      'tip',
      `A tip of ${plan.say(tip)} is as large as the cutter of ${plan.say(tool)}. Give the cutter’s largest diameter, and the flat at its tip.`,
    );
    return undefined;
  }
  const slope = Math.tan((angle * Math.PI) / 360);
  const size = sizeOf(values, plan, slope);
  if (size === undefined) return undefined;
  const lower = tip / 2 + tipOffset * slope;
  const upper = lower + size;
  if (upper > tool / 2 + 1e-9) {
    const most = tool / 2 - lower;
    const what = `The chamfer ends where the cutter has to be ${plan.say(2 * upper)} across, and it is ${plan.say(tool)}.`;
    plan.problem(
      values.has('size') ? 'size' : 'depth',
      most > 1e-9
        ? `${what} Give a chamfer of ${plan.say(most)} or less, take a larger cutter, or put the tip less far below it.`
        : `${what} Put the tip less than ${plan.say((tool - tip) / 2 / slope)} below the chamfer, or take a larger cutter.`,
    );
  }
  if (lower <= 1e-9) {
    plan.word(
      'tip-offset',
      `The very tip of the cutter would cut the chamfer’s lower edge, where it hardly moves. Put it ${plan.say(0.3)} or more below.`,
    );
  }
  // The edges are those of an end mill; the largest diameter that cuts decides the speed (common practice, no source).
  const data = cutterData(values, 'end-mill', 2 * upper);
  const speed = spindleSpeed(values, plan, data);
  return { size, depth: size / slope, tipOffset, lower, upper, speed, feed: feedFor(values, plan, data, speed) };
};
