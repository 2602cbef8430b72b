import { Given, Mode } from '../../machine/modes.ts';
import { chipLoadRange } from '../../reference/chipLoads.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { feedPerMinute, feedPlace, isOverMachine } from '../support/feedLimits.ts';
import { defineRule } from '../support/gradedRule.ts';
import { toolInSpindle } from '../support/toolInSpindle.ts';

const X = letterIndex('X');
const Y = letterIndex('Y');

/** A feed a tooth that the cutter does not stand, or that only rubs. F = S · teeth · feed a tooth is its definition. */
export const chipLoadOutOfRange = defineRule({
  code: 'chip-load-out-of-range',
  severity: 'hint',
  reason: 'Too much a tooth breaks the cutter, and too little rubs instead of cutting.',
  messages: {
    high: 'F{feed} at S{speed} with {teeth} teeth is {actual} {unit} a tooth, more than the {least} to {most} {unit} usual for a diameter of {diameter} {unit}. F{right} would be the most.',
    low: 'F{feed} at S{speed} with {teeth} teeth is {actual} {unit} a tooth, less than the {least} to {most} {unit} usual for a diameter of {diameter} {unit}. F{right} would be the least.',
  },
  wanted: (configuration) => configuration.material !== undefined,
  idle(context) {
    if (!isJudgedMotion(context)) return true;
    const load = loadOf(context);
    return load === undefined || isInRange(load) !== isTold(context);
  },
  cut(context) {
    if (!isJudged(context)) return;
    const load = loadOf(context);
    if (load === undefined) return;
    if (isInRange(load)) {
      if (isTold(context)) context.takeBack(Given.chipLoadTold);
      return;
    }
    if (isTold(context)) return;
    report(context, load);
    context.give(Given.chipLoadTold);
  },
});

/** Straight cuts along the work and drilling. Arcs run faster at the wall than F says, and a plunge is slower. */
const isJudged = (context: RuleContext): boolean => {
  const { modes, block } = context;
  return isJudgedMotion(context) && (modes[Mode.cycle] !== 0 || block.has(X) || block.has(Y));
};

const isJudgedMotion = ({ modes }: RuleContext): boolean => {
  const cycle = modes[Mode.cycle];
  if (cycle !== 0) return cycle === 810 || cycle === 820 || cycle === 830 || cycle === 730;
  return modes[Mode.motion] === 10;
};

const isTold = ({ modes }: RuleContext): boolean => (modes[Mode.given] & Given.chipLoadTold) !== 0;

const isInRange = ({ actual, least, most }: Load): boolean => actual >= least && actual <= most;

interface Load {
  readonly actual: number;
  readonly least: number;
  readonly most: number;
  readonly teeth: number;
  readonly diameter: number;
}

/** The load; undefined where it is not known, or the machine does not reach the feed anyway. */
const loadOf = (context: RuleContext): Load | undefined => {
  const { modes } = context;
  if (isOverMachine(context)) return undefined;
  const tool = modes[Mode.tool] < 0 || modes[Mode.speedMode] !== 97 ? undefined : toolInSpindle(context);
  if (tool?.diameter === undefined) return undefined;
  const isDrilling = modes[Mode.cycle] !== 0;
  if ((tool.kind === 'drill') !== isDrilling) return undefined;
  const teeth = tool.teeth ?? (tool.kind === 'drill' ? 2 : Number.NaN);
  const range = chipLoadRange(tool.kind, tool.diameter);
  const actual = feedPerMinute(context) / (modes[Mode.speed] * teeth);
  if (range === undefined || !(actual > 0) || !(modes[Mode.speed] > 0)) return undefined;
  return { actual, least: range[0], most: range[1], teeth, diameter: tool.diameter };
};

const report = (context: RuleContext, { actual, least, most, teeth, diameter }: Load): void => {
  const { modes, unit } = context;
  const speed = modes[Mode.speed];
  const isHigh = actual > most;
  const perMinute = ((isHigh ? most : least) * teeth * speed) / unit;
  const turns = modes[Mode.feedMode] === 95 ? speed : 1;
  const places = turns !== 1 ? 1e3 : unit === 1 ? 1 : 10;
  const [start, end] = feedPlace(context);
  context.report(isHigh ? 'high' : 'low', start, end, {
    feed: modes[Mode.feed] / unit,
    speed,
    teeth,
    actual: actual / unit,
    least: least / unit,
    most: most / unit,
    unit: unit === 1 ? 'mm' : 'inch',
    diameter: diameter / unit,
    right: (isHigh ? Math.floor((perMinute / turns) * places) : Math.ceil((perMinute / turns) * places)) / places,
  });
};
