/** What each holder of a tap takes: feeds in and out, and the limits that refuse a block. */
import type { BlockPlan } from './plan.ts';
import { exactTapFeed, floatTapFeed, GOOD_STROKE, LEAST_FLOAT_PERCENT, readFeed, tapFeedDown } from './tapFeeds.ts';
import type { TapTask } from './tappingOperation.ts';
import type { Values } from './values.ts';

/** Feeds of a tap, mm/min, and how much deeper than it is programmed the tap goes, mm. */
export interface TapFeeds {
  readonly in: number;
  readonly out: number;
  readonly overrun: number;
}

/** Levels of a tap's way in, mm. */
export interface TapLevels {
  readonly from: number;
  readonly top: number;
  readonly bottom: number;
}

/** Feeds by the holder, with the problems and words of their limits; undefined where there are none to be had. */
export const tapFeedsOf = (
  values: Values,
  plan: BlockPlan,
  task: TapTask,
  levels: TapLevels,
  prefix: string,
): TapFeeds | undefined => {
  const found = feedsByHolder(values, plan, task, levels, prefix);
  const top = plan.context.configuration.machine?.topFeed;
  const highest = found === undefined ? 0 : Math.max(found.in, found.out);
  if (found !== undefined) wordOnTable(values, plan, task, found.in, prefix);
  if (top !== undefined && highest > top) {
    const speed = Math.floor((task.speed * top) / highest);
    plan.problem(
      `${prefix}speed`,
      `At ${plan.say(task.speed, 'rev/min')} the tap needs a feed of ${plan.say(highest, 'mm/min')}, and the machine has ${plan.say(top, 'mm/min')}. Give a speed of ${speed} or less.`,
    );
  }
  return found;
};

/** A feed held back by more than this share is asked about by the checks where they do not know that the holder gives. */
const UNASKED = 0.01;

/** A word where tool table and shop's file say of no holder that gives: the checks read the holder there, not in the block. */
const wordOnTable = (values: Values, plan: BlockPlan, task: TapTask, feed: number, prefix: string): void => {
  if (task.holder === 'synchronised' || feed >= task.speed * task.thread.pitch * (1 - UNASKED)) return;
  const { tools, holder } = plan.context.configuration;
  const called = values.optionalNumber('tool-number');
  const row = called === undefined ? plan.context.tool?.row : tools.find(({ number }) => number === called);
  if ((row?.holder?.kind ?? holder) === task.holder) return;
  plan.word(
    `${prefix}holder`,
    'The checks know of a holder by the tool table, and will ask about this feed. Put the tap with its holder into blockwright.json.',
  );
};

const feedsByHolder = (
  values: Values,
  plan: BlockPlan,
  task: TapTask,
  levels: TapLevels,
  prefix: string,
): TapFeeds | undefined => {
  switch (task.holder) {
    case 'synchronised':
      return synchronised(values, plan, task, prefix);
    case 'float':
      return floating(values, plan, task, levels, prefix);
    case 'reversing':
      return reversing(values, plan, task, prefix);
  }
};

/** Left-hand cycles are missing in some controls. */
const needsCycle = (plan: BlockPlan, { hand }: TapTask, prefix: string): void => {
  const { profile } = plan.context.configuration;
  if (hand === 'right' || !profile.withoutCodes.includes(740)) return;
  plan.problem(
    `${prefix}hand`,
    'This control has no G74 for left-hand threads. Mill the thread, or tap it with a self-reversing head.',
  );
};

const synchronised = (values: Values, plan: BlockPlan, task: TapTask, prefix: string): TapFeeds => {
  needsCycle(plan, task, prefix);
  const percent = values.number('infeed-percent');
  if (percent !== 100) {
    plan.problem(
      `${prefix}infeed-percent`,
      `A synchronised holder gives nothing, and ${plan.say(percent, '%')} would hold the tap back. Set it to 100.`,
    );
  }
  const feed = exactTapFeed(task.speed * task.thread.pitch, plan.inch);
  return { in: feed, out: feed, overrun: 0 };
};

const floating = (values: Values, plan: BlockPlan, task: TapTask, levels: TapLevels, prefix: string): TapFeeds => {
  needsCycle(plan, task, prefix);
  const percent = values.number('infeed-percent');
  if (percent < LEAST_FLOAT_PERCENT) {
    plan.problem(
      `${prefix}infeed-percent`,
      `A feed in of ${plan.say(percent, '%')} draws the float out too far. Set ${LEAST_FLOAT_PERCENT} to 100.`,
    );
  }
  const { pitch } = task.thread;
  const feed = floatTapFeed(task.speed * pitch, Math.max(percent, LEAST_FLOAT_PERCENT), plan.inch);
  const read = readFeed(feed, task.speed, levels, plan.context);
  const drawn = Math.max(0, 1 - feed / (task.speed * pitch)) * (read?.depth ?? task.tip);
  const runOn = (read?.runOn ?? 0) * pitch;
  judgeStroke(values, plan, { drawn, runOn, way: read?.depth ?? task.tip }, prefix);
  return { in: feed, out: feed, overrun: drawn + runOn };
};

/** What a float has to give, mm. */
interface Stroke {
  readonly drawn: number;
  readonly runOn: number;
  readonly way: number;
}

const judgeStroke = (values: Values, plan: BlockPlan, { drawn, runOn, way }: Stroke, prefix: string): void => {
  const stroke = values.optionalNumber('float');
  const machine = plan.context.configuration.machine;
  const isRunOnKnown = machine?.spindleRunUp !== undefined && machine.topSpeed !== undefined;
  const all = drawn + runOn;
  const part = isRunOnKnown
    ? ` (${plan.say(runOn)} of it by spindle run-on)`
    : ', and the spindle’s run-on, which the machine’s run-up time would tell';
  plan.fact(
    `${prefix}float-needed`,
    'Float needed',
    `${plan.say(all)}${part}${stroke === undefined ? '' : `; the holder has ${plan.say(stroke)}`}`,
  );
  if (stroke === undefined) {
    plan.word(`${prefix}float`, `The float’s stroke is not given. It must be ${plan.say(all / GOOD_STROKE)} or more.`);
    return;
  }
  if (drawn > stroke * GOOD_STROKE) {
    const percent = Math.min(100, Math.ceil(100 - (100 * stroke * GOOD_STROKE) / way + 0.2));
    plan.problem(
      `${prefix}infeed-percent`,
      `Over ${plan.say(way)} the float is drawn out ${plan.say(drawn)}, more than two thirds of its ${plan.say(stroke)}. Set the feed in to ${percent} % or more.`,
    );
  } else if (all > stroke) {
    plan.problem(
      `${prefix}speed`,
      `The float is drawn out ${plan.say(all)}, ${plan.say(runOn)} of it by spindle run-on, and it has ${plan.say(stroke)}. Give a lower speed.`,
    );
  }
};

const reversing = (values: Values, plan: BlockPlan, task: TapTask, prefix: string): TapFeeds | undefined => {
  const ratio = values.optionalNumber('ratio');
  const selfFeed = values.optionalNumber('self-feed');
  if (ratio === undefined) {
    plan.problem(
      `${prefix}ratio`,
      'The ratio of the self-reversing head is missing, and there is none that suits all. Read it on the head’s nameplate, such as 1.75.',
    );
  }
  if (selfFeed === undefined) {
    plan.problem(
      `${prefix}self-feed`,
      'The self-feed of the self-reversing head is missing, and there is none that suits all. Take it from the head’s data sheet, in mm.',
    );
  }
  if (ratio === undefined || selfFeed === undefined) return undefined;
  if (values.optionalNumber('free-up') === undefined) {
    plan.word(
      `${prefix}free-up`,
      'How far the head has to go further out until the tap is free is not given; the rapid begins at the clearance level.',
    );
  }
  const full = task.speed * task.thread.pitch;
  const feed = tapFeedDown((full * values.number('infeed-percent')) / 100, plan.inch);
  judgeAhead(plan, task, feed / full, selfFeed, prefix);
  return { in: feed, out: tapFeedDown(full * ratio, plan.inch), overrun: selfFeed };
};

/** A head that is fed too slowly lets go before the depth is reached. `share`: of speed × pitch. */
const judgeAhead = (plan: BlockPlan, task: TapTask, share: number, selfFeed: number, prefix: string): void => {
  const ahead = (1 - share) * task.tip;
  if (ahead <= 0 || ahead < selfFeed) return;
  const percent = Math.min(100, Math.ceil(100 - (100 * selfFeed) / task.tip + 0.3));
  plan.problem(
    `${prefix}infeed-percent`,
    `Over ${plan.say(task.tip)} the tap gets ${plan.say(ahead)} ahead, and the head lets go after ${plan.say(selfFeed)}: the thread ends short. Set the feed in to ${percent} % or more.`,
  );
};
