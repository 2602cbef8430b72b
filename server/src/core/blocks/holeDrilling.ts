/** Drilling: in one go, in pecks that break the chip, or in pecks that bring it out. */
import { roundLength } from './blockWriter.ts';
import {
  type CycleTask,
  cycleWork,
  type DrilledHole,
  diameterWord,
  type HoleCycle,
  type HoleJob,
  type HoleWork,
  rowOf,
  valuesOf,
} from './holeWork.ts';
import type { BlockPlan } from './plan.ts';
import { short } from './readValues.ts';
import type { Values } from './values.ts';

/** Up to this depth, in diameters, a twist drill needs no pecks (common practice, no source). */
const WITHOUT_PECKS = 3;
/** From this depth on, in diameters, the chips are brought out (the design's page on blocks). */
const DEEP = 8;
/** Beyond this depth, in diameters, a hole drilled in one go packs with chips (common practice, no source). */
const MOST_IN_ONE_GO = 5;

/** Drills the hole of a job. */
export const planDrilling = (job: HoleJob, plan: BlockPlan, hole: DrilledHole): HoleWork | undefined => {
  const own = valuesOf(job, 'drill');
  const row = rowOf(own, job, 'drill', plan);
  const { diameter, isThrough, pointAngle } = hole;
  plan.fact('drill.tip', 'Tip below the top', hole.tip, 'mm');
  plan.fact('drill.point', 'Length of the point', hole.point, 'mm');
  if (isThrough) plan.fact('drill.breakout', 'Full diameter beyond the hole', hole.tip - hole.depth - hole.point, 'mm');
  const way = job.levels.clearance - (job.levels.top - hole.tip);
  const peck = peckOf(own, plan, hole, way);
  const form = formOf(plan, hole, peck);
  plan.fact('drill.form', 'Way', formWords(plan, form, peck));
  const task: CycleTask = {
    operation: 'drill',
    cutter: { kind: 'drill', diameter, cutting: row?.cuttingMaterial ?? 'hss', teeth: row?.teeth ?? 2 },
    description: `DRILL ${diameterWord(diameter, plan)} ${short(pointAngle)}DEG${isThrough ? ' THROUGH' : ''}`,
    width: diameter,
    cycle: () => ({ code: form, bottom: job.levels.top - hole.tip, ...pecking(plan, peck, way) }),
  };
  return cycleWork(own, plan, job, task);
};

const pecking = ({ context }: BlockPlan, peck: number, way: number): Partial<HoleCycle> =>
  peck === 0
    ? {}
    : {
        words: [['Q', peck]],
        again: { count: Math.ceil(way / peck - 1e-9) - 1, above: context.configuration.profile.peckRetract },
      };

/** Depth of one peck, mm; 0 for none. */
const peckOf = (own: Values, plan: BlockPlan, { diameter, depth }: DrilledHole, way: number): number => {
  const given = own.optionalNumber('peck');
  const ratio = depth / diameter;
  const usual = ratio <= WITHOUT_PECKS + 1e-9 ? 0 : isDeep(ratio) ? diameter / 2 : diameter;
  const wanted = given === undefined ? roundPeck(usual, plan.inch) : roundLength(given, plan.inch);
  const times = `${short(ratio, 1)} times the drill’s diameter`;
  if (given !== undefined && given > 0 && given >= way) {
    plan.word(
      'drill.peck',
      `A peck of ${plan.say(given)} is the whole way of ${plan.say(way)}: the hole is drilled in one go. Give less than ${plan.say(way)} for pecks.`,
    );
    return 0;
  }
  if (given === 0 && ratio > MOST_IN_ONE_GO) {
    plan.word(
      'drill.peck',
      `The hole is ${times} deep, and in one go the chips pack in it. Give a peck of ${plan.say(roundPeck(isDeep(ratio) ? diameter / 2 : diameter, plan.inch))} or so.`,
    );
  }
  return wanted < way ? wanted : 0;
};

const isDeep = (ratio: number): boolean => ratio >= DEEP - 1e-9;

/** A peck as people write it, rounded down: tenths of a millimetre, hundredths below 1 mm; thousandths of an inch. */
const roundPeck = (peck: number, inch: boolean): number => {
  const step = inch ? 0.0254 : peck >= 1 ? 0.1 : 0.01;
  return Math.floor(peck / step + 1e-6) * step;
};

/** The cycle: pecks are brought out where the hole is deep, and where the control has no G73. */
const formOf = ({ context }: BlockPlan, { diameter, depth }: DrilledHole, peck: number): string => {
  if (peck === 0) return 'G81';
  const hasChipBreaking = !context.configuration.profile.withoutCodes.includes(730);
  return isDeep(depth / diameter) || !hasChipBreaking ? 'G83' : 'G73';
};

const formWords = (plan: BlockPlan, form: string, peck: number): string => {
  if (form === 'G81') return 'in one go (G81)';
  const pecks = `in pecks of ${plan.say(peck)}`;
  return form === 'G83' ? `${pecks}, out of the hole each time (G83)` : `${pecks}, a short way back each time (G73)`;
};
