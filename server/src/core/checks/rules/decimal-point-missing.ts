import { FactKind } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A length without a point on a control that then counts its smallest increments. */
export const decimalPointMissing = defineRule({
  code: 'decimal-point-missing',
  severity: 'warning',
  reason: 'On this control a number without a point is a thousandth of what it looks like (a ten-thousandth in inch).',
  messages: {
    missing:
      '{word} has no decimal point and counts smallest increments, while other words of the program have points. Write {repaired} if whole units are meant.',
  },
  program(facts, report) {
    if (facts.profile.decimalPoint !== 'increment' || facts.of(FactKind.pointUsed).length === 0) return;
    for (const fact of facts.of(FactKind.pointMissing)) {
      const word = facts.lineText(fact.line).slice(fact.column, fact.endColumn);
      const edit = { lineOffset: 0, column: fact.endColumn, endColumn: fact.endColumn, text: '.' };
      report('missing', fact.line, fact.column, fact.endColumn, { word, repaired: `${word}.` }, [
        { title: `Write ${word}.`, safe: false, edits: [edit] },
      ]);
    }
  },
});
