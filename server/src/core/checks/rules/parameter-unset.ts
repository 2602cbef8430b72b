import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';
import { endingOf } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A variable of the program's own that is read and that nothing set. */
export const parameterUnset = defineRule({
  code: 'parameter-unset',
  severity: 'warning',
  silentInSubprograms: true,
  reason:
    'A word whose variable holds nothing is left out by many controls, and counts as 0 on others: the tool goes elsewhere.',
  messages: {
    unset:
      'Nothing has set {name} before it is read here: it holds nothing, or what another program left. Set it first, or correct the number.',
    'unset-name': 'Nothing has set {name} before it is read here. Set it first, or correct its spelling.',
  },
  program(facts, report) {
    const told = new Set<string>();
    for (const fact of facts.of(FactKind.parameterUnset)) {
      const unit = facts.layout.unitOf(fact.line);
      const key = `${fact.text} ${unit.firstLine}`;
      if (told.has(key) || isCalledFromElsewhere(facts, fact)) continue;
      told.add(key);
      const message = fact.text.startsWith('#<') ? 'unset-name' : 'unset';
      report(message, fact.line, fact.column, fact.endColumn, { name: fact.text });
    }
  },
});

/** True in a further program of the file that ends with M99 and that nothing here calls: what holds when it begins is its caller's. */
const isCalledFromElsewhere = (facts: ProgramFacts, { line }: Fact): boolean => {
  const { layout } = facts;
  const unit = layout.unitOf(line);
  if (unit === layout.units[0] || !endingOf(facts, unit).returns) return false;
  return !facts.of(FactKind.callTarget).some(({ a }) => a === unit.number);
};
