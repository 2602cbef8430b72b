/** The cutter of a pocket, a slot, a faced surface or a chamfer: its data, speed, feeds and what it cannot do. */
import { roundFeed } from './blockWriter.ts';
import { type CutterData, feedFor, spindleSpeed } from './cuttingData.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** Lengths mm, feed mm/min at the wall, speed rev/min. */
export interface ShapeCutter {
  readonly diameter: number;
  readonly radius: number;
  /** Radius of its corners. */
  readonly cornerRadius: number;
  readonly speed: number;
  /** At the wall; on straight ways also the centre's. */
  readonly feed: number;
}

/** Reads cutter, speed and feed; problems and facts go to the plan. `kind` is what cutting data is looked up for. */
export const shapeCutter = (values: Values, plan: BlockPlan, kind: CutterData['kind'] = 'end-mill'): ShapeCutter => {
  const diameter = values.number('tool');
  const cornerRadius = values.optionalNumber('corner-radius') ?? 0;
  if (cornerRadius > diameter / 2 + 1e-9) {
    plan.problem(
      'corner-radius',
      `A corner radius of ${plan.say(cornerRadius)} is more than half the cutter of ${plan.say(diameter)}. The most is ${plan.say(diameter / 2)}, for a ball nose.`,
    );
  }
  const data = cutterData(values, kind, diameter);
  const speed = spindleSpeed(values, plan, data);
  const feed = feedFor(values, plan, data, speed);
  return { diameter, radius: diameter / 2, cornerRadius, speed, feed };
};

/** What cutting data is looked up for, at a cutting diameter in mm. */
export const cutterData = (values: Values, kind: CutterData['kind'], diameter: number): CutterData => ({
  kind,
  diameter,
  cutting: values.text('cutting-material') === 'hss' ? 'hss' : 'carbide',
  teeth: values.number('flutes'),
});

/**
 * Feed of the centre on an arc with the wall around it, mm/min, rounded down: F·(D − d)/D, where D = 2·(path + reach) is the
 * wall's diameter and `reach` the cutter's radius there. Geometry: wall and centre turn by the same angle in the same time.
 */
export const feedInside = (feed: number, path: number, reach: number, inch: boolean): number =>
  roundFeed((feed * path) / (path + reach), inch);

/** The same with the wall within the arc: F·(D + d)/D, D = 2·(path − reach). */
export const feedOutside = (feed: number, path: number, reach: number, inch: boolean): number =>
  roundFeed((feed * path) / (path - reach), inch);

/** Words on cuts that are deeper than the flutes are long; `depth` is the whole depth, `cut` that of one level; mm. */
export const judgeFlutes = (values: Values, plan: BlockPlan, depth: number, cut: number): void => {
  const flutes = values.optionalNumber('cutting-length');
  if (flutes === undefined) return;
  if (cut > flutes + 1e-9) {
    plan.word(
      'stepdown',
      `A level of ${plan.say(cut)} is ${plan.say(cut - flutes)} deeper than the flutes of ${plan.say(flutes)} are long. Set the depth of cut to ${plan.say(flutes)} or less.`,
    );
  } else if (depth > flutes + 1e-9) {
    plan.word(
      'depth',
      `The depth of ${plan.say(depth)} is ${plan.say(depth - flutes)} more than the flutes of ${plan.say(flutes)}. The shank must be thinner than the cutter, or it rubs on the wall.`,
    );
  }
};

/** Steepness of helix and ramp, degrees: as given within the cutter's limit, else 3° (common practice, no source) or the limit if less. */
export const rampAngle = (values: Values, plan: BlockPlan): number => {
  const limit = values.optionalNumber('ramp-limit') ?? Number.POSITIVE_INFINITY;
  const given = values.optionalNumber('ramp-angle');
  if (given !== undefined && given > limit + 1e-9) {
    plan.problem(
      'ramp-angle',
      `A ramp of ${plan.say(given, '°', 2)} is ${plan.say(given - limit, '°', 2)} over the cutter’s limit. Give ${plan.say(limit, '°', 2)} or less.`,
    );
  }
  return Math.min(given ?? 3, limit);
};

/**
 * Feed of the centre on its way down, mm/min: as given, else a share of the feed (common practice, no source), and in both
 * cases `most` at most.
 */
export const plungeFeed = (
  values: Values,
  plan: BlockPlan,
  feed: number,
  isStraight: boolean,
  most: number,
): number => {
  const given = values.optionalNumber('plunge-feed');
  if (given !== undefined && feed > 0 && given > feed) {
    plan.word(
      'plunge-feed',
      `The plunge feed of ${plan.say(given, 'mm/min')} is more than the feed of ${plan.say(feed, 'mm/min')}. Going down usually takes half of it or less.`,
    );
  } else if (given !== undefined && given > most) {
    plan.word(
      'plunge-feed',
      `The plunge feed of ${plan.say(given, 'mm/min')} would be more than the feed at the wall of the helix. ${plan.say(most, 'mm/min')} is taken.`,
    );
  }
  const used = Math.min(given ?? roundFeed(feed / (isStraight ? 3 : 2), plan.inch), most);
  plan.fact('plunge-feed', 'Plunge feed', used, 'mm/min');
  return used;
};
