import { FactKind } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** G and M codes that the profile does not know. */
export const unknownCode = defineRule({
  code: 'unknown-code',
  severity: 'warning',
  severities: { 'unknown-m': 'hint' },
  reason: 'A code that the control does not know is an alarm; one that is not known here is left out of the path.',
  messages: {
    'unknown-g':
      '{code} is not known for the control {profile} and is not executed here. Correct it, or name it in extraG of the profile in blockwright.json if your control has it.',
    'unknown-m':
      'M{code} is not known here and the path leaves it out. Correct it, or name it in extraM of the profile in blockwright.json if your machine has it.',
  },
  fault(context, fault) {
    context.report(fault.message, fault.start, fault.end, { ...fault.data, profile: context.profile.name });
  },
  program(facts, report) {
    const told = new Set<number>();
    for (const fact of facts.of(FactKind.unknownM)) {
      if (told.has(fact.a)) continue;
      told.add(fact.a);
      report('unknown-m', fact.line, fact.column, fact.endColumn, { code: fact.a });
    }
  },
});
