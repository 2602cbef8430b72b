import { Mode } from '../../machine/modes.ts';
import { defineRule } from '../support/gradedRule.ts';
import { tapInSpindle } from '../support/tapInSpindle.ts';
import { findCode } from '../support/words.ts';

/** Cycles (G number × 10) that leave the hole at rapid. */
const LEAVES_AT_RAPID = [730, 760, 810, 820, 830, 860];

/** A tap in a cycle that pulls it out at rapid. */
export const tapInDrillingCycle = defineRule({
  code: 'tap-in-drilling-cycle',
  severity: 'error',
  reason: 'Pulled out at rapid, a tap tears the thread and breaks.',
  messages: {
    rapid:
      'A tap is in the spindle ({source}) and {code} leaves the hole at rapid. Tap with {tapping} at F = S × pitch, or call the drill if that is meant.',
  },
  cycle(context) {
    const cycle = context.modes[Mode.cycle];
    const word = findCode(context.block, LEAVES_AT_RAPID);
    if (word < 0 || !LEAVES_AT_RAPID.includes(cycle)) return;
    const tap = tapInSpindle(context);
    if (tap === undefined) return;
    const { block } = context;
    context.report('rapid', block.starts[word], block.ends[word], {
      source: tap.source,
      code: `G${cycle / 10}`,
      tapping:
        tap.holder?.kind === 'reversing' ? 'moves in and out at feed' : tap.thread?.hand === 'left' ? 'G74' : 'G84',
    });
  },
});
