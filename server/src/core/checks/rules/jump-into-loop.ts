import type { ProgramFacts } from '../facts.ts';
import type { Loop } from '../flow/layout.ts';
import { defineRule } from '../support/gradedRule.ts';
import { jumpsOf } from '../support/jumps.ts';

/** A jump from outside a WHILE loop into the middle of it. */
export const jumpIntoLoop = defineRule({
  code: 'jump-into-loop',
  severity: 'error',
  reason: 'The control meets END without having passed its WHILE: it alarms, or goes on from wherever it last looped.',
  messages: {
    into: 'This leads to N{number} in line {line}, inside the loop of lines {head} to {end}, from outside it. Jump to the WHILE, or take the block out of the loop.',
  },
  program(facts, report) {
    for (const { fact, from } of jumpsOf(facts)) {
      const target = facts.layout.jumpTarget(fact.a, from);
      const loop = target < 0 ? undefined : loopEntered(facts, from, target);
      if (loop === undefined) continue;
      const data = { number: fact.a, line: target + 1, head: loop.head + 1, end: loop.end + 1 };
      report('into', fact.line, fact.column, fact.endColumn, data);
    }
  },
});

/** The outermost loop that holds `target` behind its head and does not hold `from`. */
const loopEntered = (facts: ProgramFacts, from: number, target: number): Loop | undefined =>
  facts.layout.loops.find(({ head, end }) => end >= 0 && head < target && target <= end && (from < head || from > end));
