import type { ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { type Jump, jumpsOf } from '../support/jumps.ts';

/** A jump to a sequence number that its program does not have. */
export const jumpTargetMissing = defineRule({
  code: 'jump-target-missing',
  severity: 'error',
  reason: 'The control alarms at the jump, with the tool where it happens to stand.',
  messages: {
    missing:
      'This leads to N{number}, and the program has no such block. Give the block that is meant its number, or jump to another.',
    'other-program':
      'This leads to N{number}, which stands only in another program of the file, in line {line}: a jump finds blocks of its own program alone. Put the number into this program, or call the other one.',
    return:
      'M99 goes back to N{number}, and the program that calls in line {line} has no such block. Give the block that is meant its number, or leave P out.',
  },
  program(facts, report) {
    for (const jump of jumpsOf(facts)) {
      if (jump.lines.length > 0) continue;
      const { fact } = jump;
      const [message, line] = messageOf(facts, jump);
      report(message, fact.line, fact.column, fact.endColumn, { number: fact.a, line });
    }
  },
});

const messageOf = (facts: ProgramFacts, { fact, from }: Jump): [string, number] => {
  if (fact.text === 'return' && from !== fact.line) return ['return', from + 1];
  const elsewhere = facts.linesOfSequenceNumber(fact.a);
  return elsewhere.length > 0 ? ['other-program', elsewhere[0] + 1] : ['missing', 0];
};
