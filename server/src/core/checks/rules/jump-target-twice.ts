import { defineRule } from '../support/gradedRule.ts';
import { isAmbiguous, jumpsOf } from '../support/jumps.ts';

/** A jump whose number stands both before and behind it: which block it finds is the control's choice. */
export const jumpTargetTwice = defineRule({
  code: 'jump-target-twice',
  severity: 'warning',
  reason: 'Controls that search on from the jump run another block than those that search from the top.',
  messages: {
    twice:
      'N{number} stands in line {before} and in line {behind}, and controls differ in which of them they jump to; the path goes to line {behind}. Give one of them a number of its own, and write it here if that one is meant.',
  },
  program(facts, report) {
    for (const jump of jumpsOf(facts)) {
      if (!isAmbiguous(jump)) continue;
      const { fact, from, lines } = jump;
      const behind = lines.find((line) => line > from) ?? lines[0];
      const data = { number: fact.a, before: lines[0] + 1, behind: behind + 1 };
      report('twice', fact.line, fact.column, fact.endColumn, data);
    }
  },
});
