import { defineRule } from '../support/gradedRule.ts';
import { isTold, unsetStarts } from '../support/startModes.ts';

/** A first cut with neither G20 nor G21 before it. */
export const unitsUnset = defineRule({
  code: 'units-unset',
  severity: 'hint',
  silentInSubprograms: true,
  reason: 'In the other unit every length and feed is wrong by 25.4 times.',
  messages: {
    unset:
      'Neither G21 nor G20 was given before this first cut, so it counts in what the program before left on. Write G21 (millimetres) or G20 (inches) in the start block.',
  },
  program(facts, report) {
    for (const start of unsetStarts(facts)) {
      if (isTold(start, 'units')) report('unset', start.cut.line, start.cut.column, start.cut.endColumn);
    }
  },
});
