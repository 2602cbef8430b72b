/** A round boss left standing by a cutter that goes down a helix round it. */
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
import { roundLengthUp } from './helixWay.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

export const helicalBoss: BlockKind = {
  name: 'helical-boss',
  title: 'Helical boss',
  summary: 'Leaves a round boss standing: an end mill goes down a helix round it, in and out beside the stock.',
  prefix: 'boss',
  parameters: [
    number('boss', 'Boss', 'mm', 'Diameter of the finished boss.', { needed: true, above: 0, group: 'Boss' }),
    number(
      'stock',
      'Stock',
      'mm',
      'Diameter of what stands round the boss now. The cutter goes down and up outside it.',
      {
        needed: true,
        above: 0,
        group: 'Boss',
      },
    ),
    ...depthParameters('Boss'),
    ...HELIX_CUTTER,
    {
      ...yesNo('centre-cutting', 'Cuts over its centre', 'Whether the cutter’s end cuts to its middle.', 'yes'),
      group: 'Tool',
    },
    RAMP_LIMIT,
    ...PASS_PARAMETERS,
  ],
  plan: (values, plan) => planBoss(values, plan),
};

const planBoss = (values: Values, plan: BlockPlan): WriteBody | undefined => {
  const [boss, stock] = [values.number('boss'), values.number('stock')];
  const cutter = cutterOf(values, plan);
  const speed = spindleSpeed(values, plan, cutter);
  const wallFeed = feedFor(values, plan, cutter, speed);
  const levels = depthOf(values, plan);
  wordOnFlutes(plan, cutter, levels.depth, 'depth');
  if (stock <= boss) {
    plan.problem(
      'stock',
      `A stock of ${plan.say(stock)} leaves nothing to cut round a boss of ${plan.say(boss)}. Give the diameter that stands there now.`,
    );
    return undefined;
  }
  plan.fact('wall', 'To be cut a side', (stock - boss) / 2, 'mm');
  const half = cutter.diameter / 2;
  const radii = passRadii(values, plan, stock / 2 + half, boss / 2 + half);
  if (radii === undefined) return undefined;
  judgeSteps(values, plan, cutter, radii);
  const away = roundLengthUp(stock / 2 + half + values.number('clearance'), plan.inch);
  const centres = writtenCentres(values, plan);
  judgeNeighbours(plan, centres, boss, away + boss / 2 + half);
  const even = leadOf(values, plan, { depth: levels.depth, radius: Math.min(...radii), tool: cutter.diameter });
  if (even === undefined) return undefined;
  const shape = { from: levels.top, to: levels.bottom, turns: even.turns, away };
  const ways = waysDown(values, plan, cutter, radii, wallFeed, shape);
  plan.fact('stand', 'Down and up beside the stock', `${plan.say(away)} from the centre, on the X+ side`);
  factsOfWays(values, plan, cutter, ways, centres.length);
  const form = turnFormOf(values, plan, even.turns * ways.length * centres.length);
  const { radius } = ways[ways.length - 1];
  for (const centre of centres) plan.limits.push({ centre, radius, side: 'outside', below: levels.top });
  plan.caution(...cautionsOf(values, plan, cutter, away));
  return writePasses(values, cutter, speed, form, centres, ways);
};

/** No ring may stand outside: each pass joins on to the one before, the first on to the air beside the stock. */
const judgeSteps = (values: Values, plan: BlockPlan, cutter: HelixCutter, radii: readonly number[]): void => {
  const [boss, stock] = [values.number('boss'), values.number('stock')];
  const { diameter, flat } = cutter;
  const finish = values.number('finish');
  const passes = values.number('passes');
  const way = (stock - boss) / 2 - finish;
  const step = way / passes;
  // In front of a middle that does not cut there may be nothing: the cutter reaches in by half its diameter at most.
  const most = values.isYes('centre-cutting') ? flat : Math.min(flat, diameter / 2);
  const fewest = Math.ceil(way / most - 1e-9);
  if (flat === 0 || radii.length === 0) return;
  if (step > flat + 1e-6) {
    plan.problem(
      'passes',
      `${passes === 1 ? 'One pass takes' : `${passes} passes take`} ${plan.say(step)} a side each, and the cutter’s end covers ${plan.say(flat)}: a ring would stand. Set passes to ${fewest}.`,
    );
  } else if (step > most + 1e-6) {
    plan.problem(
      'centre-cutting',
      `The middle of the cutter does not cut, and with ${plan.say(step)} a side it comes down on the stock. Set passes to ${fewest}, or take a cutter that cuts over its centre.`,
    );
  } else if (finish > most) {
    plan.problem(
      'finish',
      `A finishing allowance of ${plan.say(finish)} is more than the ${plan.say(most)} that the cutter can take from the side. Take a smaller one.`,
    );
  }
};

/** Beside one boss the cutter must not reach into the next. */
const judgeNeighbours = (plan: BlockPlan, centres: readonly Place[], boss: number, needed: number): void => {
  const distance = leastDistance(centres);
  if (!Number.isFinite(distance)) return;
  plan.fact('between', 'Between bosses', Math.max(0, distance - boss), 'mm');
  if (distance >= needed) return;
  plan.problem(
    'at',
    `Two bosses are ${plan.say(distance)} apart, and the cutter on its way beside one would cut into the other. They must be ${plan.say(needed)} apart, or be cut one by one with a smaller stock.`,
  );
};

const cautionsOf = (values: Values, plan: BlockPlan, { diameter }: HelixCutter, away: number): string[] => {
  const said = (length: number): string => plan.say(length).toUpperCase();
  const breakout = values.isYes('through') ? values.number('breakout') : 0;
  return [
    `PROVE IN THE AIR FIRST. FOR A CUTTER OF ${said(diameter)}.`,
    `NEEDS ROOM ${said(away + diameter / 2)} ROUND THE CENTRE: SEE CLAMPS.`,
    ...(breakout > 0 ? [`GOES ${said(breakout)} THROUGH: SEE WHAT IS BELOW.`] : []),
  ];
};
