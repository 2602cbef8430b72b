/** A round hole cut by a cutter that goes down a helix and round at the bottom. */
import type { BlockKind } from './blockKind.ts';
import { number, yesNo } from './commonParameters.ts';
import { feedFor, spindleSpeed } from './cuttingData.ts';
import { turnFormOf } from './formsOfTurns.ts';
import { cutterOf, HELIX_CUTTER, type HelixCutter, wordOnFlutes } from './helixCutter.ts';
import { leadOf, RAMP_LIMIT } from './helixLead.ts';
import {
  depthOf,
  depthParameters,
  factsOfWays,
  leastDistance,
  PASS_PARAMETERS,
  passRadii,
  waysDown,
  writePasses,
  writtenCentres,
} from './helixPasses.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

export const helicalBore: BlockKind = {
  name: 'helical-bore',
  title: 'Helical bore',
  summary: 'Cuts a round hole with an end mill that goes down a helix and round at the bottom.',
  prefix: 'helical',
  parameters: [
    number('bore', 'Bore', 'mm', 'Diameter of the finished hole.', { needed: true, above: 0, group: 'Hole' }),
    ...depthParameters('Hole'),
    number('pilot', 'Pilot hole', 'mm', 'Diameter of a hole that is there already, to the full depth. 0: none.', {
      least: 0,
      fallback: '0',
      group: 'Hole',
    }),
    ...HELIX_CUTTER,
    {
      ...yesNo('centre-cutting', 'Cuts over its centre', 'Whether the cutter’s end cuts to its middle.', 'yes'),
      group: 'Tool',
    },
    RAMP_LIMIT,
    ...PASS_PARAMETERS,
  ],
  plan: (values, plan) => planBore(values, plan),
};

/** A bore this much wider than the cutter leaves room for chips and for the helix (common practice, no source). */
const ROOM = 1.15;

const planBore = (values: Values, plan: BlockPlan): WriteBody | undefined => {
  const bore = values.number('bore');
  const cutter = cutterOf(values, plan);
  const speed = spindleSpeed(values, plan, cutter);
  const wallFeed = feedFor(values, plan, cutter, speed);
  const levels = depthOf(values, plan);
  const centres = writtenCentres(values, plan);
  factsOfWalls(plan, centres, bore);
  wordOnFlutes(plan, cutter, levels.depth, 'depth');
  if (!fits(values, plan, bore, cutter)) return undefined;
  const radii = passRadii(values, plan, firstReach(values, cutter), (bore - cutter.diameter) / 2);
  if (radii === undefined) return undefined;
  judgeCore(values, plan, cutter, radii);
  judgePilot(values, plan, cutter, radii);
  const even = leadOf(values, plan, { depth: levels.depth, radius: radii[0], tool: cutter.diameter });
  if (even === undefined) return undefined;
  const shape = { from: levels.top, to: levels.bottom, turns: even.turns, away: 0 };
  const ways = waysDown(values, plan, cutter, radii, wallFeed, shape);
  factsOfWays(values, plan, cutter, ways, centres.length);
  const form = turnFormOf(values, plan, even.turns * ways.length * centres.length);
  const { radius } = ways[ways.length - 1];
  for (const centre of centres) plan.limits.push({ centre, radius, side: 'inside', below: levels.top });
  plan.caution(...cautionsOf(values, plan, cutter));
  return writePasses(values, cutter, speed, form, centres, ways);
};

const cautionsOf = (values: Values, plan: BlockPlan, { diameter }: HelixCutter): string[] => {
  const said = (length: number): string => plan.say(length).toUpperCase();
  const pilot = values.number('pilot');
  const breakout = values.isYes('through') ? values.number('breakout') : 0;
  return [
    `PROVE IN THE AIR FIRST. FOR A CUTTER OF ${said(diameter)}.`,
    ...(pilot > 0 ? [`A PILOT HOLE OF ${said(pilot)} MUST BE THERE.`] : []),
    ...(breakout > 0 ? [`GOES ${said(breakout)} THROUGH: SEE WHAT IS BELOW.`] : []),
  ];
};

const fits = (values: Values, plan: BlockPlan, bore: number, { diameter }: HelixCutter): boolean => {
  const most = plan.say(roundDown(bore / ROOM, plan));
  if (diameter >= bore) {
    plan.problem(
      'tool',
      `A cutter of ${plan.say(diameter)} does not fit into a bore of ${plan.say(bore)}. Take one of ${most} or less.`,
    );
    return false;
  }
  if (bore < diameter * ROOM) {
    plan.word(
      'tool',
      `The bore of ${plan.say(bore)} is less than ${ROOM} times the cutter of ${plan.say(diameter)}: chips have little room, and the helix is steep. A cutter of ${most} or less is better.`,
    );
  }
  const pilot = values.number('pilot');
  if (pilot >= bore) {
    plan.problem(
      'pilot',
      `A pilot hole of ${plan.say(pilot)} is as wide as the bore of ${plan.say(bore)} or wider. Give what is there before boring, or 0.`,
    );
    return false;
  }
  return true;
};

/** A length that people ask for: whole tenths, or thousandths of an inch. */
const shopStep = ({ inch }: BlockPlan): number => (inch ? 0.0254 : 0.1);
const roundDown = (length: number, plan: BlockPlan): number =>
  Math.floor(length / shopStep(plan) + 1e-9) * shopStep(plan);
const roundUp = (length: number, plan: BlockPlan): number => Math.ceil(length / shopStep(plan) - 1e-9) * shopStep(plan);

/** Where the passes begin: on the axis, or where the cutter touches the wall of a pilot hole that is wider than it is. */
const firstReach = (values: Values, { diameter }: HelixCutter): number =>
  Math.max(0, (values.number('pilot') - diameter) / 2);

/** Nothing may stand: the flat end joins the first pass on to the axis or the pilot hole, and each later one on to the one before. */
const judgeCore = (values: Values, plan: BlockPlan, cutter: HelixCutter, radii: readonly number[]): void => {
  const { diameter, cornerRadius, flat } = cutter;
  if (flat === 0) return;
  const [passes, finish, bore] = [values.number('passes'), values.number('finish'), values.number('bore')];
  const pilot = values.number('pilot');
  const from = firstReach(values, cutter);
  const way = (bore - diameter) / 2 - finish - from;
  const fewest = Math.ceil(way / Math.min(flat, (pilot + flat) / 2 - from) - 1e-9);
  const core = 2 * radii[0] - flat;
  if (core > pilot + 1e-6) {
    const least = roundUp((bore - pilot) / 2 - finish + cornerRadius, plan);
    const instead = passes === 1 ? `Take one of ${plan.say(least)} or more, or s` : 'S';
    const first = passes === 1 ? '' : ` on the first of ${passes} passes`;
    plan.problem(
      passes === 1 ? 'tool' : 'passes',
      `A cutter of ${plan.say(diameter)} leaves a core of ${plan.say(core)} standing in a bore of ${plan.say(bore)}${first}. ${instead}et passes to ${fewest}.`,
    );
  } else if (passes > 1 && way / passes > flat + 1e-6) {
    plan.problem(
      'passes',
      `${passes} passes take ${plan.say(way / passes)} a side each, and the cutter’s end covers ${plan.say(flat)}: a ring would stand. Set passes to ${fewest}.`,
    );
  } else if (finish > flat) {
    plan.problem(
      'finish',
      `A finishing allowance of ${plan.say(finish)} is more than the ${plan.say(flat)} that the cutter’s end covers, and a ring would stand. Take a smaller one.`,
    );
  }
};

/** What often does not cut of a cutter that does not cut over its centre: a part of its diameter (common practice, no source). */
const BLUNT_SHARE = 1 / 3;

/** A cutter that does not cut over its centre must have its middle over a hole all the way round. */
const judgePilot = (values: Values, plan: BlockPlan, { diameter }: HelixCutter, radii: readonly number[]): void => {
  if (values.isYes('centre-cutting')) return;
  const pilot = values.number('pilot');
  const path = 2 * radii[0];
  const wanted = path + diameter * BLUNT_SHARE;
  if (pilot >= wanted - 1e-9) return;
  const isWide = pilot > 1.5 * diameter;
  const more = isWide ? 'Take more passes' : `Drill a pilot hole of ${plan.say(roundUp(wanted, plan))}`;
  const need = `${more}, or take a cutter that cuts over its centre.`;
  if (pilot <= path) {
    const found = pilot === 0 ? 'no pilot hole is given' : `the pilot hole is ${plan.say(pilot)}`;
    plan.problem(
      'pilot',
      `The middle of the cutter does not cut and goes round on a circle of ${plan.say(path)}, and ${found}. ${need}`,
    );
  } else {
    plan.word(
      'pilot',
      `The middle of the cutter does not cut, often a third of its diameter, and the pilot hole of ${plan.say(pilot)} is little more than the ${plan.say(path)} it goes round on. ${need}`,
    );
  }
};

/** Walls that are left: between neighbours, and to the edge of the blank where the shop's file has one. */
const factsOfWalls = (plan: BlockPlan, centres: readonly Place[], bore: number): void => {
  const between = leastDistance(centres) - bore;
  if (Number.isFinite(between)) {
    plan.fact('wall', 'Wall between bores', Math.max(0, between), 'mm');
    if (between <= 0)
      plan.word(
        'at',
        `Two bores run into each other by ${plan.say(-between)}. Check their centres if that is not meant.`,
      );
  }
  const { stock } = plan.context.configuration;
  if (stock === undefined) return;
  const edges = centres.map(([x, y]) =>
    stock.shape === 'cylinder'
      ? stock.diameter / 2 - Math.hypot(x - stock.centre[0], y - stock.centre[1])
      : Math.min(x - stock.min[0], stock.max[0] - x, y - stock.min[1], stock.max[1] - y),
  );
  const edge = Math.min(...edges) - bore / 2;
  plan.fact('edge', 'Wall to the blank’s edge', edge > 0 ? plan.say(edge) : 'none: the bore runs out of the blank');
};
