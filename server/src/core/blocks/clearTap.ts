/** A broken tap cut out of its hole by a small carbide end mill, turn by turn and in stages. Lengths mm. */
import type { Thread } from '../reference/threadName.ts';
import type { BlockKind } from './blockKind.ts';
import { CUTTING_SPEEDS, cautionsOf, chipLoadsFor, judgeCutter, judgeSpeeds } from './clearTapAdvice.ts';
import { factsOfStages, stagesOf, writeStages } from './clearTapStages.ts';
import {
  CENTRE_PARAMETERS,
  CLEARANCE,
  choice,
  levelsOf,
  number,
  RETRACT,
  SPEED_AND_FEED,
  TOP,
} from './commonParameters.ts';
import { feedFor, spindleSpeed } from './cuttingData.ts';
import { FORM, turnFormOf } from './formsOfTurns.ts';
import { centreFeed, cutterOf, FEED_AT, HELIX_CUTTER, type HelixCutter, wordOnFlutes } from './helixCutter.ts';
import { writtenCentres } from './helixPasses.ts';
import { roundLengthDown } from './helixWay.ts';
import type { Parameter } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

const THREAD: Parameter = {
  kind: 'thread',
  name: 'thread',
  label: 'Thread',
  help: 'Thread of the broken tap; no taper threads.',
  needed: true,
  group: 'Thread',
};

const TAP_PARAMETERS: readonly Parameter[] = [
  THREAD,
  number('broken-at', 'Broken at', 'mm', 'How deep below the top the highest point of the fracture is.', {
    needed: true,
    least: 0,
    group: 'Thread',
  }),
  number('length', 'Length', 'mm', 'How far down from there the tap is to be cut away.', {
    needed: true,
    least: 0.01,
    group: 'Thread',
  }),
  number(
    'clearance-on-diameter',
    'Clear of the thread',
    'mm',
    'By how much the cleared diameter stays under the thread’s minor diameter.',
    { least: 0.05, fallback: '0.3', group: 'Thread' },
  ),
];

const HOW_PARAMETERS: readonly Parameter[] = [
  number(
    'lead',
    'Lead a turn',
    'mm',
    'How far it goes down a turn at most. Left out: 1 % of the cutter, 0.05 at most.',
    {
      least: 0.003,
      group: 'How',
    },
  ),
  number('stage', 'Stage', 'mm', 'Depth after which the cutter comes out, to blow out and look.', {
    least: 0.05,
    fallback: '1',
    group: 'How',
  }),
  choice(
    'stop',
    'Stop between stages',
    'Always (M0), or optional (M1), which the control passes over unless its switch is on.',
    [
      ['always', 'Always (M0)'],
      ['optional', 'Optional (M1)'],
    ],
  ),
  number('air-turns', 'Turns in the air', '', 'Turns above the fracture before it begins to cut, since it is jagged.', {
    whole: true,
    least: 1,
    most: 50,
    fallback: '3',
    group: 'How',
  }),
  FORM,
].map((parameter): Parameter => ({ ...parameter, group: 'How' }));

const SPEEDS: readonly Parameter[] = SPEED_AND_FEED.map((parameter) =>
  parameter.name === 'material'
    ? { ...parameter, help: 'What the part is of. It changes nothing here: the tap is harder than any.' }
    : parameter.name === 'coolant'
      ? {
          ...parameter,
          help: 'Mist (M7) where that is the air blast, or none (M9). Never flood: a cutter in hardened steel cracks of it. Left out: none, where flood is on before the block.',
        }
      : parameter,
);

export const clearTap: BlockKind = {
  name: 'clear-tap',
  title: 'Clear a broken tap',
  summary:
    'Cuts a broken tap of high-speed steel out of its hole with a small carbide end mill, and stays clear of the thread.',
  prefix: 'cleartap',
  parameters: [
    ...TAP_PARAMETERS,
    ...HELIX_CUTTER,
    ...HOW_PARAMETERS,
    ...SPEEDS,
    FEED_AT,
    ...CENTRE_PARAMETERS,
    TOP,
    CLEARANCE,
    RETRACT,
  ],
  plan: (values, plan) => planClearing(values, plan),
};

/** Minor diameter of the nut thread: D − 1.0825·P for 60° threads (ISO 724), D − 1.2807·P for G threads (ISO 228-1). */
const minorDiameter = ({ series, diameter, pitch }: Thread): number =>
  diameter - (series === 'pipe-g' ? 1.2807 : 1.0825) * pitch;

const planClearing = (values: Values, plan: BlockPlan): WriteBody | undefined => {
  const thread = values.thread('thread');
  const table = cutterOf(values, plan);
  const cutter: HelixCutter = { ...table, cuttingSpeeds: CUTTING_SPEEDS, chipLoad: chipLoadsFor(table.diameter) };
  const speed = spindleSpeed(values, plan, cutter);
  const wallFeed = feedFor(values, plan, cutter, speed);
  if (writtenCentres(values, plan).length > 1) {
    plan.problem('at', 'A broken tap is picked up and cleared on its own. Give one centre.');
  }
  const radius = pathRadius(values, plan, thread, cutter);
  if (radius === undefined) return undefined;
  const wall = 2 * radius + cutter.diameter;
  judgeCutter(values, plan, cutter, wall);
  wordOnFlutes(plan, cutter, values.number('broken-at') + values.number('length'), 'length');
  const feed = centreFeed(values, plan, wallFeed, radius, wall);
  judgeSpeeds(plan, cutter, speed, (feed * wall) / (2 * radius));
  const ways = stagesOf(values, plan, { radius, feed, clockwise: cutter.hand === 'left' }, cutter.diameter);
  factsOfStages(values, plan, cutter, ways, wallFeed);
  const turns = ways.reduce((sum, way) => sum + way.turns + way.levelTurns, 0);
  const form = turnFormOf(values, plan, turns);
  plan.caution(...cautionsOf(plan, thread.diameter));
  chooseCoolant(values, plan);
  const [centre] = writtenCentres(values, plan);
  const { top, retract } = levelsOf(values);
  plan.endHeight = retract;
  plan.limits.push({ centre, radius, side: 'inside', below: top });
  return (writer) => {
    const toolNumber = values.optionalNumber('tool-number');
    const { hand, row } = cutter;
    writer.section({ toolNumber, description: row?.description ?? '', speed, hand, at: centre, retract });
    writeStages(writer, values, { form, centre, ways, wallFeed, speed, hand });
  };
};

/** No flood on a hot cutter in hardened steel (common practice, no source): the program's own is turned off. */
const chooseCoolant = (values: Values, plan: BlockPlan): void => {
  const coolant = values.optionalText('coolant');
  if (coolant === 'flood')
    plan.problem(
      'coolant',
      'Flood quenches the hot edges in the hardened tap, and they crack. Set coolant to none and blow air, or to mist where M7 is the air blast.',
    );
  const on = plan.context.entry.coolant ?? 0;
  if (coolant === undefined && (on & 2) > 0) plan.coolant = (on & 1) > 0 ? 'mist' : 'none';
};

/** Radius that the centre goes round on, rounded down so that the cutter never comes beyond; undefined, with a problem, where it does not fit. */
const pathRadius = (values: Values, plan: BlockPlan, thread: Thread, cutter: HelixCutter): number | undefined => {
  if (thread.series === 'npt') {
    plan.problem(
      'thread',
      `${thread.name} is a taper thread and gets narrower with depth. Only cylindrical threads are cleared.`,
    );
    return undefined;
  }
  const minor = minorDiameter(thread);
  const clear = minor - values.number('clearance-on-diameter');
  const { diameter } = cutter;
  const radius = roundLengthDown((clear - diameter) / 2, plan.inch);
  plan.fact('minor', 'Minor diameter of the thread', minor, 'mm');
  const thinnest = Math.max(0.55 * clear, clear / 2 + cutter.cornerRadius);
  const [least, most] = [plan.say(Math.ceil(thinnest * 10 - 1e-9) / 10), plan.say(Math.floor(clear * 8 + 1e-9) / 10)];
  if (radius < 0.01) {
    plan.problem(
      'tool',
      `A cutter of ${plan.say(diameter)} ${diameter < clear ? 'has no room to go round' : 'would touch the thread'}: ${plan.say(clear)} is free in ${thread.name}, its minor diameter ${plan.say(minor)} less the clearance. Take one of ${least} to ${most}.`,
    );
    return undefined;
  }
  const core = 2 * radius - cutter.flat;
  if (cutter.flat > 0 && core > 1e-6) {
    plan.problem(
      'tool',
      `A cutter of ${plan.say(diameter)} leaves a core of ${plan.say(core)} standing in the ${plan.say(clear)} that is free in ${thread.name}. Take one of ${least} to ${most}.`,
    );
  }
  plan.fact('cleared', 'Cleared diameter', 2 * radius + diameter, 'mm');
  plan.fact('left', 'Left of the tap at the thread’s crests', (minor - 2 * radius - diameter) / 2, 'mm');
  plan.fact('web', 'Web of the tap, about', thread.diameter / 2, 'mm', plan.inch ? 3 : 1);
  return radius;
};
