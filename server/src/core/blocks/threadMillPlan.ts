/** Computes a milled thread: what fits, turns and stages, feeds, levels; and writes it. */
import type { ToolRow } from '../machine/configuration.ts';
import { chipLoadRange } from '../reference/chipLoads.ts';
import { tapDrillOf } from '../reference/tapDrills.ts';
import { type BlockWriter, roundFeed } from './blockWriter.ts';
import { centresOf, type Levels, levelsOf } from './commonParameters.ts';
import { type CutterData, feedFor, spindleSpeed } from './cuttingData.ts';
import { onGrid, sayTime } from './helixWay.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import {
  isFineThread,
  leadFromAxis,
  leadFromOutside,
  type MilledThread,
  milledThread,
  passRadii,
  type Turning,
  turningOf,
} from './threadMillShape.ts';
import { lengthOfWay, levelsOfWay, standsOfWay, type ThreadWay, writeThreadWay } from './threadMillWay.ts';
import { handOf } from './threadParameters.ts';
import type { Values } from './values.ts';

/** Largest cutter inside, as a share of the major diameter, for coarse and fine pitches: beyond, the flanks are cut thin (design page, common practice). */
const MOST_OF_COARSE = 0.7;
const MOST_OF_FINE = 0.8;
/** Flutes of a thread mill that no table tells of, and its feed a tooth against an end mill's (common practice, no source). */
const USUAL_FLUTES = 3;
const LOAD_SHARE = 0.5;
/** How far the cutter stays off the turned blank before it leads in, mm. */
const OFF_BLANK = 1;
/** More blocks than this are nothing to read or to keep in a program. */
const MOST_BLOCKS = 5000;

/** The plan of a `thread-mill` block. */
export function planThreadMill(values: Values, plan: BlockPlan): WriteBody | undefined {
  const thread = values.thread('thread');
  if (thread.series === 'npt') {
    plan.problem(
      'thread',
      `${thread.name} is a taper thread, and this block mills cylindrical ones. Tap it, or take a thread such as G.`,
    );
    return undefined;
  }
  const side = values.text('side') === 'external' ? 'external' : 'internal';
  const milled = milledThread(thread, side, handOf(values, plan, thread));
  const tool = values.number('tool');
  const fits = judgeFit(plan, milled, tool);
  const stages = stagesOf(values, plan, milled);
  const { speed, feed } = speedAndFeed(values, plan, tool);
  if (!fits || stages === undefined || !(feed > 0)) return undefined;
  const levels = levelsOf(values);
  const turning = turningOf(milled, values.text('direction'));
  const ways = waysOf(values, plan, { milled, tool, feed, stages, turning, top: levels.top });
  factsOf(plan, { milled, stages, top: levels.top }, ways);
  return writing(values, plan, { milled, tool, ways, levels, speed, feed });
}

/** False where the cutter does not go in at all; a word where it is too wide for true flanks. */
const judgeFit = (plan: BlockPlan, { side, thread, blank }: MilledThread, tool: number): boolean => {
  if (side === 'external') return true;
  const share = isFineThread(thread) ? MOST_OF_FINE : MOST_OF_COARSE;
  const most = share * thread.diameter;
  if (tool >= blank) {
    plan.problem(
      'tool',
      `A cutter of ${plan.say(tool)} does not go into the hole of ${thread.name}, ${plan.say(blank)} wide. Take one of ${plan.say(Math.min(most, 0.95 * blank))} or less.`,
    );
    return false;
  }
  if (tool > most + 1e-9) {
    plan.word(
      'tool',
      `A cutter of ${plan.say(tool)} is ${Math.round((100 * tool) / thread.diameter)} % of the thread, and above ${100 * share} % it cuts the flanks thin. Take one of ${plan.say(most)} or less.`,
    );
  }
  return true;
};

/** Helices one above the other: how many, how far apart in mm, and the turns of each. */
interface Stages {
  readonly count: number;
  readonly step: number;
  readonly turns: number;
  /** Depth of the lowest helix, mm. */
  readonly depth: number;
}

const stagesOf = (values: Values, plan: BlockPlan, { thread }: MilledThread): Stages | undefined => {
  const { pitch } = thread;
  // Through: the cutter's end comes out by a pitch, so that the last thread is whole.
  const depth = values.number('depth') + (values.text('hole') === 'through' ? pitch : 0);
  if (values.text('teeth') === 'single') {
    const turns = Math.ceil(depth / pitch - 1e-9);
    const blocks = turns * values.number('passes');
    if (blocks > MOST_BLOCKS) {
      plan.problem(
        'depth',
        `The thread takes ${blocks} turns, a block for each; ${MOST_BLOCKS} are the most. Take less depth or fewer passes.`,
      );
      return undefined;
    }
    return { count: 1, step: 0, turns, depth };
  }
  const length = values.optionalNumber('cutting-length');
  if (length === undefined) {
    plan.problem(
      'cutting-length',
      'The cutting length of the cutter of many forms is missing. Give the length of its teeth.',
    );
    return undefined;
  }
  const teeth = Math.floor(length / pitch + 1e-9);
  if (teeth < 2) {
    plan.problem(
      'cutting-length',
      `A cutting length of ${plan.say(length)} is less than two pitches of ${plan.say(pitch)}. Set the teeth to single, or give ${plan.say(2 * pitch)} or more.`,
    );
    return undefined;
  }
  // Each stage takes the last thread of the one before it once more, so that none is left out between them.
  const step = (teeth - 1) * pitch;
  const count = 1 + Math.max(0, Math.ceil((depth - teeth * pitch) / step - 1e-9));
  return { count, step, turns: 1, depth };
};

const speedAndFeed = (values: Values, plan: BlockPlan, tool: number): { speed: number; feed: number } => {
  const row = rowOf(values, plan);
  const load = chipLoadRange('end-mill', tool);
  const known = values.optionalNumber('flutes') ?? row?.teeth;
  plan.fact('flutes', 'Flutes', `${known ?? USUAL_FLUTES}${known === undefined ? ' (usual)' : ''}`);
  const cutter: CutterData = {
    kind: 'thread-mill',
    diameter: tool,
    cutting: row?.cuttingMaterial ?? 'carbide',
    teeth: known ?? USUAL_FLUTES,
    ...(load === undefined ? {} : { chipLoad: [load[0] * LOAD_SHARE, load[1] * LOAD_SHARE] as const }),
  };
  const speed = spindleSpeed(values, plan, cutter);
  return { speed, feed: feedFor(values, plan, cutter, speed) };
};

const rowOf = (values: Values, { context }: BlockPlan): ToolRow | undefined => {
  const called = values.optionalNumber('tool-number');
  const row =
    called === undefined ? context.tool?.row : context.configuration.tools.find(({ number: own }) => own === called);
  return row?.kind === 'thread-mill' ? row : undefined;
};

/** What the ways of a thread are computed from. `feed`: at the wall. */
interface Task {
  readonly milled: MilledThread;
  readonly tool: number;
  readonly feed: number;
  readonly stages: Stages;
  readonly turning: Turning;
  readonly top: number;
}

/** All helices of one thread in the order that they are cut: pass by pass, each along the way that the cutter goes. */
const waysOf = (values: Values, plan: BlockPlan, { milled, tool, feed, stages, turning, top }: Task): ThreadWay[] => {
  const { side, thread, blank } = milled;
  const clear = (blank + tool) / 2 + OFF_BLANK;
  const topFeed = plan.context.configuration.machine?.topFeed ?? Number.POSITIVE_INFINITY;
  return passRadii(milled, tool, values.number('passes'), plan.inch).flatMap(({ radius, wall }) => {
    const lead = side === 'internal' ? leadFromAxis(radius) : leadFromOutside(radius, clear, plan.inch);
    // The wall and the cutter's centre go round in the same time: F_centre = F_wall · 2·radius/wall.
    const centreFeed = roundFeed(Math.min((feed * 2 * radius) / wall, topFeed), plan.inch);
    const ways = Array.from(
      { length: stages.count },
      (_, i): ThreadWay => ({
        radius,
        lead,
        turning,
        pitch: thread.pitch,
        bottom: top - stages.depth + i * stages.step,
        turns: stages.turns,
        feed: centreFeed,
      }),
    );
    return turning.isUp ? ways : ways.reverse();
  });
};

const factsOf = (
  plan: BlockPlan,
  { milled, stages, top }: Pick<Task, 'milled' | 'stages' | 'top'>,
  ways: readonly ThreadWay[],
): void => {
  const { side, thread, wall, blank } = milled;
  const [first, last] = [ways[0], ways[ways.length - 1]];
  const feeds = [...new Set(ways.map(({ feed }) => plan.say(feed, 'mm/min')))];
  const { clockwise, isUp } = first.turning;
  plan.fact('way', 'Way', `${clockwise ? 'G2' : 'G3'} ${isUp ? 'upward' : 'downward'}`);
  plan.fact('path', 'Circle of the cutter’s centre', 2 * last.radius, 'mm');
  plan.fact('centre-feed', 'Feed of the centre', feeds.join(', '));
  plan.fact(
    'turns',
    'Turns',
    ways.reduce((sum, { turns }) => sum + turns, 0),
  );
  if (stages.count > 1) {
    plan.fact('stages', 'Stages', `${stages.count}, ${plan.say(stages.step)} apart`);
  }
  if (side === 'internal') {
    plan.fact('minor', 'Minor diameter', blank, 'mm');
    const drill = tapDrillOf(thread);
    if (drill !== undefined) plan.fact('core-hole', 'Hole before it', `${plan.say(drill.diameter)}, as for a tap`);
  } else {
    plan.fact('root', 'Root diameter', wall, 'mm');
    plan.fact('blank', 'Blank turned to', blank, 'mm');
  }
  const lowest = Math.min(...ways.map((way) => Math.min(levelsOfWay(way).start, levelsOfWay(way).end)));
  plan.fact('end-depth', 'Cutter’s end below the top', top - lowest, 'mm');
  const seconds = ways.reduce((sum, way) => sum + (lengthOfWay(way) / way.feed) * 60, 0);
  plan.fact('time', 'Time in the thread, each', sayTime(seconds));
};

/** What is written. */
interface Job {
  readonly milled: MilledThread;
  readonly tool: number;
  readonly ways: readonly ThreadWay[];
  readonly levels: Levels;
  readonly speed: number;
  /** At the wall, mm/min. */
  readonly feed: number;
}

const writing = (values: Values, plan: BlockPlan, { milled, tool, ways, levels, speed, feed }: Job): WriteBody => {
  const centres = centresOf(values).map((centre) => onGrid(centre, plan.inch));
  const ends = ways.flatMap((way) => Object.values(levelsOfWay(way)));
  // With a large pitch the helix begins or ends above the clearance.
  const clearance = Math.max(levels.clearance, ...ends);
  const safe = Math.max(levels.retract, clearance);
  plan.endHeight = safe;
  plan.lowest = Math.min(...ends);
  const inside = milled.side === 'internal';
  const radii = ways.map(({ radius }) => radius);
  if (centres.length === 1) {
    const radius = inside ? Math.max(...radii) : Math.min(...radii);
    plan.limits.push({ centre: centres[0], radius, side: inside ? 'inside' : 'outside', below: levels.top });
  }
  plan.caution(
    ...(inside ? ['BORE THE HOLE FIRST, CHIPS OUT'] : ['TURN THE BLANK FIRST, NOTHING ROUND IT']),
    'PROVE IN THE AIR FIRST, THEN GAUGE',
  );
  const description = descriptionOf(milled, plan, tool);
  const toolNumber = values.optionalNumber('tool-number');
  return (writer) => {
    if (toolNumber === undefined) writer.remark(description);
    writer.section({ toolNumber, description, speed, at: standsOfWay(centres[0], ways[0]).before, retract: safe });
    for (const [index, centre] of centres.entries()) {
      if (index > 0) goTo(writer, standsOfWay(centre, ways[0]).before);
      writer.rapid(['Z', clearance]);
      writeWays(writer, centre, { ways, clearance, feed });
      if (writer.height !== safe) writer.rapid(['Z', safe]);
    }
  };
};

const goTo = (writer: BlockWriter, place: Place): void => writer.rapid(['X', place[0]], ['Y', place[1]]);

/**
 * All ways of one thread, from the clearance over the first one's stand. Inside, the cutter goes from way to way on the axis;
 * outside it goes up first, since nobody knows what stands beside the blank.
 */
const writeWays = (
  writer: BlockWriter,
  centre: Place,
  { ways, clearance, feed }: { readonly ways: readonly ThreadWay[]; readonly clearance: number; readonly feed: number },
): void => {
  for (const [index, way] of ways.entries()) {
    if (index > 0 && way.lead.along > 0) {
      writer.rapid(['Z', clearance]);
      goTo(writer, standsOfWay(centre, way).before);
    }
    const { start } = levelsOfWay(way);
    if (Math.abs((writer.height ?? Number.NaN) - start) > 1e-9) writer.cut(feed, ['Z', start]);
    writeThreadWay(writer, centre, way);
  }
};

const descriptionOf = ({ thread, hand }: MilledThread, plan: BlockPlan, tool: number): string => {
  const size = plan.say(tool).split(' ')[0];
  return `THREAD MILL D${size} ${thread.name}${hand === 'left' ? ' LH' : ''}`;
};
