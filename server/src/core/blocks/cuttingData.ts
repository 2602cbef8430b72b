/**
 * Spindle speed and feed of a block: as given, else from cutting speed and chip load ranges, which are always shown beside
 * and are to be checked against the tool maker's data.
 * n = 1000·Vc/(π·D) and F = n·z·fz are the definitions of cutting speed and feed a tooth (any machining handbook).
 */
import { chipLoadRange } from '../reference/chipLoads.ts';
import { cuttingSpeedRange, highestCuttingSpeed } from '../reference/cuttingSpeeds.ts';
import { cuttingSpeedOf, spindleSpeedFor } from '../reference/threadMeasures.ts';
import type { ToolKind } from '../reference/toolRemark.ts';
import { roundFeed } from './blockWriter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** A cutter as the data is looked up for. Lengths mm. */
export interface CutterData {
  readonly kind: ToolKind;
  readonly diameter: number;
  readonly cutting: 'hss' | 'carbide';
  readonly teeth: number;
  /** Usual feed a tooth, mm, of a kind that the table of chip loads does not have. */
  readonly chipLoad?: readonly [least: number, most: number];
  /** Usual cutting speed, m/min, of work that has nothing to do with the part's material. */
  readonly cuttingSpeeds?: readonly [least: number, most: number];
}

/** The material's name: as given, else the shop's. */
export const materialOf = (values: Values, plan: BlockPlan): string | undefined =>
  values.optionalText('material') ?? plan.context.configuration.material?.name;

/** [least, most] cutting speed in m/min: the shop's own table first, then the built-in one; undefined where neither knows. */
const cuttingSpeedsFor = (
  values: Values,
  plan: BlockPlan,
  { kind, cutting }: CutterData,
): readonly [number, number] | undefined => {
  const name = materialOf(values, plan);
  const own = plan.context.configuration.material;
  if (own !== undefined && own.name === name && kind !== 'tap' && own.cuttingSpeed?.[cutting] !== undefined)
    return own.cuttingSpeed[cutting];
  return name === undefined ? undefined : cuttingSpeedRange(name, kind, cutting);
};

/**
 * Spindle speed in rev/min, whole, within the machine's top speed; 0 with a problem where nothing gives one. Facts: speed and
 * cutting speed with its range.
 */
export const spindleSpeed = (values: Values, plan: BlockPlan, cutter: CutterData, prefix = ''): number => {
  const range = cutter.cuttingSpeeds ?? cuttingSpeedsFor(values, plan, cutter);
  const top = plan.context.configuration.machine?.topSpeed ?? Number.POSITIVE_INFINITY;
  const given = values.optionalNumber('speed');
  const cuttingSpeed =
    values.optionalNumber('cutting-speed') ?? (range === undefined ? undefined : range[0] + (range[1] - range[0]) / 3);
  const wanted = given ?? (cuttingSpeed === undefined ? undefined : spindleSpeedFor(cutter.diameter, cuttingSpeed));
  if (wanted === undefined) {
    plan.problem(
      `${prefix}speed`,
      `${named(prefix)}Speed is missing, and no material is given to find one by. Give the speed, the cutting speed or the material.`,
    );
    return 0;
  }
  if (given !== undefined && given > top) {
    plan.problem(
      `${prefix}speed`,
      `${named(prefix)}Speed ${plan.say(given, 'rev/min')} is over the machine’s ${plan.say(top, 'rev/min')}. Give ${Math.floor(top)} or less.`,
    );
  }
  const speed = Math.max(1, Math.round(Math.min(wanted, top)));
  plan.fact(`${prefix}speed`, 'Spindle speed', speed, 'rev/min');
  const actual = cuttingSpeedOf(cutter.diameter, speed);
  plan.fact(`${prefix}cutting-speed`, 'Cutting speed', `${plan.say(actual, 'm/min')}${usual(plan, range, 'm/min')}`);
  if (given !== undefined || values.isGiven('cutting-speed'))
    judgeSense(values, plan, cutter, { speed, actual, range }, prefix);
  return speed;
};

/** Beyond this many times the highest usual cutting speed a value is a slip of the hand (common practice, no source). */
const BEYOND_SENSE = 2;

/** A word where a given speed is beyond all sense for the material, or for any where none is known. Taps and cutters with ranges of their own are judged elsewhere. */
const judgeSense = (
  values: Values,
  plan: BlockPlan,
  { kind, diameter, cutting, cuttingSpeeds }: CutterData,
  { speed, actual, range }: { speed: number; actual: number; range: readonly [number, number] | undefined },
  prefix: string,
): void => {
  if (kind === 'tap' || cuttingSpeeds !== undefined) return;
  const most = range?.[1] ?? highestCuttingSpeed(kind, cutting);
  if (most === undefined || actual <= most * BEYOND_SENSE) return;
  const where = range === undefined ? 'in the softest material' : `in ${materialOf(values, plan)}`;
  plan.word(
    `${prefix}${values.has('speed') ? 'speed' : 'cutting-speed'}`,
    `${named(prefix)}${plan.say(speed, 'rev/min')} is ${plan.say(actual, 'm/min')} with ${plan.say(diameter)}, more than twice the ${plan.say(most, 'm/min')} that ${cutting === 'hss' ? 'high-speed steel' : 'carbide'} stands ${where}. Check the number: ${Math.floor(spindleSpeedFor(diameter, most))} or less is usual.`,
  );
};

/** "Drill: " of `drill.`, so that a message says which of several operations it speaks of. */
const named = (prefix: string): string => (prefix === '' ? '' : `${prefix[0].toUpperCase()}${prefix.slice(1, -1)}: `);

/** Feed in mm/min: as given, else speed × teeth × a chip load in the lower part of the usual range. Facts: feed, feed a tooth. */
export const feedFor = (values: Values, plan: BlockPlan, cutter: CutterData, speed: number, prefix = ''): number => {
  const range = cutter.chipLoad ?? chipLoadRange(cutter.kind, cutter.diameter);
  const given = values.optionalNumber('feed');
  const perTooth = range === undefined ? undefined : Math.sqrt(range[0] * range[1]);
  if (given === undefined && perTooth === undefined) {
    plan.problem(`${prefix}feed`, `${named(prefix)}Feed is missing. Give it in the unit beside the field.`);
    return 0;
  }
  const feed = given ?? roundFeed(speed * cutter.teeth * (perTooth ?? 0), plan.inch);
  const top = plan.context.configuration.machine?.topFeed ?? Number.POSITIVE_INFINITY;
  if (given !== undefined && given > top) {
    plan.problem(
      `${prefix}feed`,
      `${named(prefix)}Feed ${plan.say(given, 'mm/min')} is over the machine’s ${plan.say(top, 'mm/min')}. Give ${plan.say(top, 'mm/min')} or less.`,
    );
  }
  plan.fact(`${prefix}feed`, 'Feed', Math.min(feed, top), 'mm/min');
  if (speed > 0) {
    plan.fact(
      `${prefix}chip-load`,
      'Feed a tooth',
      `${plan.say(Math.min(feed, top) / (speed * cutter.teeth), 'mm/tooth')}${usual(plan, range, 'mm/tooth')}`,
    );
  }
  return Math.min(feed, top);
};

/** " (usual 60 to 120 m/min; the tool maker's data comes first)". */
const usual = (plan: BlockPlan, range: readonly [number, number] | undefined, unit: 'm/min' | 'mm/tooth'): string => {
  if (range === undefined) return '';
  const least = plan.say(range[0], unit).split(' ')[0];
  return ` (usual ${least} to ${plan.say(range[1], unit)}; the tool maker’s data comes first)`;
};
