import { FactKind } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Blocks behind M2 or M30 that do not belong to another program. */
export const textAfterEnd = defineRule({
  code: 'text-after-end',
  severity: 'hint',
  reason: 'Blocks behind the end never run; often they are a rest of editing.',
  messages: {
    unused: 'This stands behind the program’s end and never runs. Take it out, or move the end.',
  },
  program(facts, report) {
    const first = facts.of(FactKind.afterEnd)[0];
    if (first === undefined || /^\s*[O:]\s*\d/i.test(facts.lineText(first.line))) return;
    report('unused', first.line, first.column, first.endColumn);
  },
});
