import { LeftOver, Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { isTapping, reportBlock } from '../support/carriedValue.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A cut with the spindle on, or in step with it, and no S. */
export const speedMissing = defineRule({
  code: 'speed-missing',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'The spindle runs at the speed of another program, or not at all.',
  messages: {
    'no-speed': '{code} starts the spindle and no S was given before this cut. Write S with the speed beside {code}.',
    zero: 'The spindle is on at S0 in this cut. Write S with the speed that is meant.',
    'in-step': 'This block moves in step with the spindle and no S was given before it. Write S with the speed.',
  },
  firstCut(context) {
    const message = missing(context);
    if (message === undefined) return;
    if ((context.modes[Mode.leftOver] & LeftOver.speedComplained) !== 0) return;
    context.noteLeftOver(LeftOver.speedComplained);
    reportBlock(context, message, { code: `M${context.modes[Mode.spindle]}` });
  },
});

/** Which message holds, if one does. A program that never starts the spindle itself says nothing of speeds. */
const missing = ({ modes }: RuleContext): 'no-speed' | 'zero' | 'in-step' | undefined => {
  if (modes[Mode.speed] > 0 || Number.isNaN(modes[Mode.speed])) return undefined;
  const isOn = modes[Mode.spindle] === 3 || modes[Mode.spindle] === 4;
  if (modes[Mode.speed] === 0) return isOn ? 'zero' : undefined;
  if (isOn) return 'no-speed';
  const isInStep = modes[Mode.feedMode] === 95 || modes[Mode.motion] === 330 || isTapping(modes);
  return isInStep && modes[Mode.spindle] !== 19 ? 'in-step' : undefined;
};
