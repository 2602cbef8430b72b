import { Given, Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { cycleCode, cycleName } from '../support/cycleWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { type Tap, tapInSpindle } from '../support/tapInSpindle.ts';

/** A tapping cycle with the spindle turning the wrong way, or not at all where the cycle does not start it. */
export const spindleForCycle = defineRule({
  code: 'spindle-for-cycle',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'A tapping cycle turns the spindle round at the bottom, so it must turn into the thread before.',
  messages: {
    'wrong-way':
      '{cycle} taps a {hand} thread with {right}, and {found} is on. Write {right} before it, or {other} for a {otherHand} thread.',
    stopped: '{cycle} taps with the spindle stopped, and does not start it here. Write S and {right} before it.',
  },
  cycle(context) {
    const { modes, block } = context;
    const cycle = modes[Mode.cycle];
    if (cycle !== 840 && cycle !== 740) return;
    const place = cycleCode(context);
    if (place < 0) return;
    const tap = tapInSpindle(context);
    const message = judge(context, cycle === 840, tap);
    if (message === undefined) return;
    const isRight = cycle === 840;
    context.report(message, block.starts[place], block.ends[place], {
      cycle: cycleName(context),
      right: isRight ? 'M3' : 'M4',
      found: isRight ? 'M4' : 'M3',
      hand: isRight ? 'right-hand' : 'left-hand',
      other: isRight ? 'G74' : 'G84',
      otherHand: isRight ? 'left-hand' : 'right-hand',
    });
  },
});

const judge = (context: RuleContext, isRight: boolean, tap: Tap | undefined): 'wrong-way' | 'stopped' | undefined => {
  const { modes, profile } = context;
  const spindle = modes[Mode.spindle];
  // Synchronised tapping brings its own direction; a self-reversing head has no business in these cycles at all.
  if (tap?.holder?.kind === 'synchronised' || tap?.holder?.kind === 'reversing') return undefined;
  // Of a float holder's tap whose hand is known `tap-spindle-direction` speaks.
  const isToldElsewhere = tap?.holder?.kind === 'float' && tap.thread !== undefined;
  if (spindle === (isRight ? 4 : 3)) return isToldElsewhere ? undefined : 'wrong-way';
  if (spindle === 3 || spindle === 4) return undefined;
  const startsItself = profile.synchronisedTappingCode >= 0 && tap?.holder?.kind !== 'float';
  if (startsItself) return undefined;
  const isUsed = (modes[Mode.given] & (Given.spindleStarted | Given.toolChanged)) !== 0;
  return isUsed ? 'stopped' : undefined;
};
