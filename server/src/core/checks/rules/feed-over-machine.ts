import { Mode } from '../../machine/modes.ts';
import { AXIS_BITS } from '../../machine/planes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { feedPerMinute, feedPlace, isOverMachine } from '../support/feedLimits.ts';
import { defineRule } from '../support/gradedRule.ts';

const F = letterIndex('F');
const S = letterIndex('S');

/** A feed that the axes do not reach, told where F (or under G95 S) is written. */
export const feedOverMachine = defineRule({
  code: 'feed-over-machine',
  severity: 'warning',
  reason: 'The control alarms, or cuts slower than written and the cutter rubs.',
  messages: {
    over: 'F{feed} is over the machine’s top feed of {top} {unit}/min. Write F{right} or less.',
    'over-per-turn':
      'F{feed} a turn at S{speed} is {actual} {unit}/min, over the machine’s top feed of {top} {unit}/min. Write F{right} or less.',
  },
  wanted: (configuration) => configuration.machine?.topFeed !== undefined,
  codes(context) {
    // A block that moves is judged with its move.
    if ((context.block.present & AXIS_BITS) === 0) judge(context);
  },
  rapid: (context) => judge(context),
  idle: (context) => !isOverMachine(context),
  cut: (context) => judge(context),
});

/** To so many steps a unit as feeds are written with. */
const roundDown = (value: number, steps: number): number => Math.floor(value * steps + 1e-6) / steps;

const judge = (context: RuleContext): void => {
  const { modes, unit, block, configuration } = context;
  const top = configuration.machine?.topFeed;
  const isPerTurn = modes[Mode.feedMode] === 95;
  if (top === undefined || !(block.has(F) || (isPerTurn && block.has(S))) || !isOverMachine(context)) return;
  const [start, end] = feedPlace(context);
  const speed = modes[Mode.speed];
  context.report(isPerTurn ? 'over-per-turn' : 'over', start, end, {
    feed: modes[Mode.feed] / unit,
    speed,
    actual: feedPerMinute(context) / unit,
    top: roundDown(top / unit, 10),
    right: roundDown(top / (isPerTurn ? speed : 1) / unit, isPerTurn ? 1e3 : unit === 1 ? 1 : 10),
    unit: unit === 1 ? 'mm' : 'in',
  });
};
