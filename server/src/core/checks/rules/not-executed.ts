import { FactKind } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Kinds of things that are read and not executed, with their message. */
const KINDS = ['flow', 'subprogram', 'macro-call', 'radius-unknown', 'probe'];

/** What the path leaves out, said once a kind. */
export const notExecuted = defineRule({
  code: 'not-executed',
  severity: 'hint',
  severities: { limit: 'warning' },
  reason: 'What is not executed here is missing from the path and from the checks.',
  messages: {
    flow: 'Jumps and loops are read and not executed yet: path and checks run straight on. Prove this part on the machine.',
    subprogram:
      'Subprogram calls are read and not executed yet: path and checks leave them out. Prove this part on the machine.',
    'macro-call':
      'Macro calls are read and not executed yet: path and checks leave them out. Prove this part on the machine.',
    'radius-unknown':
      'The cutter’s radius for G41 or G42 is not known here, so the path is the programmed one and nothing is checked on it. Give the diameter in the tool table of blockwright.json, or in the remark of the tool change.',
    probe: 'Probing moves are shown up to their end point: where the probe touches is not known here.',
    limit:
      'The path has more than {moves} moves and ends here; what follows is neither executed nor checked. Split the program, or raise limits.moves in blockwright.json.',
    other: '{kind} is not executed yet: path and checks leave it out. Prove this part on the machine.',
  },
  program(facts, report) {
    if (facts.cutOffLine >= 0) {
      const column = facts.lineText(facts.cutOffLine).length;
      report('limit', facts.cutOffLine, 0, column, { moves: facts.configuration.limits.moves });
    }
    const told = new Set<string>();
    for (const fact of facts.of(FactKind.notExecuted)) {
      if (told.has(fact.text)) continue;
      told.add(fact.text);
      const known = KINDS.includes(fact.text);
      const kind = fact.text.replace(/^code /, '');
      report(known ? fact.text : 'other', fact.line, fact.column, fact.endColumn, known ? {} : { kind });
    }
  },
});
