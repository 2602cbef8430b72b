import { FactKind, type ProgramFacts } from '../facts.ts';
import { lineRange } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Calls inside calls, more than the limit. */
export const callTooDeep = defineRule({
  code: 'call-too-deep',
  severity: 'error',
  reason: 'The control alarms where it can nest no more calls, mostly after four.',
  messages: {
    itself:
      'From this call on O{number} calls itself again and again, more than {depth} deep: the control alarms, and path and checks end here. Correct the number behind P where it does, or repeat by L or WHILE instead.',
    deep: 'Calls are nested more than {depth} deep here: path and checks end. Look which of the called programs calls back, or raise limits.depth in blockwright.json.',
  },
  program(facts, report) {
    const { stop } = facts;
    if (stop?.kind !== 'depth') return;
    const number = callsItself(facts);
    const [column, endColumn] = lineRange(facts, stop.line);
    const data = { depth: stop.number ?? facts.configuration.limits.depth, number };
    report(number < 0 ? 'deep' : 'itself', stop.line, column, endColumn, data);
  },
});

/** Number of a program that a call leads back to from itself, −1 where there is none in this file. */
const callsItself = (facts: ProgramFacts): number => {
  const calls = new Map<number, Set<number>>();
  for (const { line, a } of facts.of(FactKind.callTarget)) {
    const from = facts.layout.unitOf(line).number;
    calls.set(from, (calls.get(from) ?? new Set()).add(a));
  }
  const reaches = (from: number, to: number, seen: Set<number>): boolean => {
    for (const next of calls.get(from) ?? []) {
      if (next === to) return true;
      if (seen.has(next)) continue;
      seen.add(next);
      if (reaches(next, to, seen)) return true;
    }
    return false;
  };
  for (const number of calls.keys()) if (number >= 0 && reaches(number, number, new Set())) return number;
  return -1;
};
