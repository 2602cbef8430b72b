import { Mode } from '../../machine/modes.ts';
import { defineRule } from '../support/gradedRule.ts';
import { findWord } from '../support/words.ts';

/** A speed that the spindle does not reach. */
export const speedOverMachine = defineRule({
  code: 'speed-over-machine',
  severity: 'warning',
  reason: 'The control alarms, or the spindle turns slower than written and the feed a tooth grows.',
  messages: {
    over: 'S{speed} is over the machine’s top speed of {top} rev/min. Write S{top} or less, and an F that goes with it.',
  },
  codes(context) {
    const top = context.configuration.machine?.topSpeed;
    if (top === undefined || context.modes[Mode.speedMode] !== 97) return;
    const word = findWord(context.block, 'S');
    const speed = context.modes[Mode.speed];
    if (word < 0 || !(speed > top)) return;
    context.report('over', context.block.starts[word], context.block.ends[word], { speed, top });
  },
});
