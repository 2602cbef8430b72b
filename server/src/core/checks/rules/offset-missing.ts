import { defineRule } from '../support/gradedRule.ts';
import { isTold, unsetStarts } from '../support/startModes.ts';

/** A first cut with no work offset chosen before it. */
export const offsetMissing = defineRule({
  code: 'offset-missing',
  severity: 'hint',
  silentInSubprograms: true,
  reason: 'The part is cut from the zero of another job where a program before chose another offset.',
  messages: {
    unset:
      'No work offset was chosen before this first cut, so it counts from the one that is left on. Write the offset of this part, such as G54, before it.',
  },
  program(facts, report) {
    for (const start of unsetStarts(facts)) {
      if (isTold(start, 'offset')) report('unset', start.cut.line, start.cut.column, start.cut.endColumn);
    }
  },
});
