import { FactKind } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber } from '../support/numbers.ts';

/** A length without a point on a control that then counts its smallest increments. */
export const decimalPointMissing = defineRule({
  code: 'decimal-point-missing',
  severity: 'warning',
  reason: 'On this control a number without a point is a thousandth of what it looks like (a ten-thousandth in inch).',
  messages: {
    missing:
      '{word} has no decimal point and counts {counts} {unit} here, while other words of the program have points. Write {repaired} if {meant} {unit} are meant.',
  },
  program(facts, report) {
    if (facts.profile.decimalPoint !== 'increment' || facts.of(FactKind.pointUsed).length === 0) return;
    const units = facts.of(FactKind.units);
    for (const fact of facts.of(FactKind.pointMissing)) {
      const word = facts.lineText(fact.line).slice(fact.column, fact.endColumn);
      const edit = { lineOffset: 0, column: fact.endColumn, endColumn: fact.endColumn, text: '.' };
      const before = units.filter(({ line }) => line <= fact.line).at(-1);
      const isInch = (before?.a ?? facts.profile.start.units) === 20;
      const data = { word, repaired: `${word}.`, ...readAs(word, isInch) };
      report('missing', fact.line, fact.column, fact.endColumn, data, [
        { title: `Write ${word}.`, safe: false, edits: [edit] },
      ]);
    }
  },
});

/** What a word without a point counts on such a control, and what it would with one. */
const readAs = (word: string, inInches: boolean) => {
  const meant = Number(word.slice(1).replace(/\s/g, ''));
  const isTurn = /^[ABC]/i.test(word);
  const isInch = inInches && !isTurn;
  return {
    counts: shortNumber(meant * (isInch ? 0.0001 : 0.001), isInch ? 4 : 3),
    meant: shortNumber(meant),
    unit: isTurn ? 'degrees' : isInch ? 'inches' : 'mm',
  };
};
