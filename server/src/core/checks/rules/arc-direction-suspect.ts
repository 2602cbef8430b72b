import { FactKind } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { linesOnce } from '../support/toolSessions.ts';

/** An arc that doubles back at both ends, where the other direction would run smoothly through. */
export const arcDirectionSuspect = defineRule({
  code: 'arc-direction-suspect',
  severity: 'hint',
  repairedBySearch: true,
  reason: 'G2 for G3 bulges the cut into the part, or the cutter out of it.',
  messages: {
    suspect:
      'This {direction} arc doubles back on the cuts before and behind it, and the other direction would join both smoothly. Check G2 against G3.',
  },
  program(facts, report) {
    const isNew = linesOnce();
    for (const fact of facts.of(FactKind.arcAgainst)) {
      if (!isNew(fact.line)) continue;
      const text = facts.lineText(fact.line);
      const code = /G\s*0*[23](?![\d.])/i.exec(text);
      const column = code?.index ?? text.length - text.trimStart().length;
      const endColumn = code === null ? text.trimEnd().length : column + code[0].length;
      report('suspect', fact.line, column, endColumn, { direction: fact.text });
    }
  },
});
