import type { Fact } from '../facts.ts';
import { FactKind } from '../facts.ts';
import type { Fix } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** G41 or G42 without a D, where the program gives one elsewhere. */
export const radiusOffsetMissing = defineRule({
  code: 'radius-offset-missing',
  severity: 'error',
  severities: { carried: 'warning' },
  silentInSubprograms: true,
  reason: 'Without its own D the control stops, or leads the cutter past the contour by another tool’s radius.',
  messages: {
    missing:
      '{code} has no D, and none is in force, while the program gives one elsewhere ({other}). Write the D of this tool’s radius beside it.',
    carried:
      '{code} has no D, and the one in force is D{register} of tool {register}, while tool {tool} is in the spindle. Write the D of this tool’s radius beside it.',
  },
  program(facts, report) {
    // Without a D the report (NIST IR 6556, from memory) takes the tool's own.
    if (facts.profile.order === 'report') return;
    const all = facts.of(FactKind.radiusCompensation);
    const named = all.filter(({ c }) => c === 1);
    if (named.length === 0) return;
    const byTool = named.every(({ a, b }) => a === b);
    let before: Fact | undefined;
    for (const fact of all) {
      const { line, column, endColumn, a, b, c, text } = fact;
      const fixes = byTool && b > 0 ? [addRegister(endColumn, b)] : [];
      if (a < 0) {
        const other = `${named[0].text} D${named[0].a}`;
        report('missing', line, column, endColumn, { code: text, other }, fixes);
      } else if (c === 0 && before !== undefined && isOthers(fact, before)) {
        report('carried', line, column, endColumn, { code: text, register: a, tool: b }, fixes);
      }
      if (c === 1) before = fact;
    }
  },
});

/** True if the D in force was given for another tool, by that tool's number. */
const isOthers = (fact: Fact, before: Fact): boolean =>
  fact.a === before.a && before.a === before.b && fact.b >= 0 && fact.b !== before.b;

const addRegister = (column: number, tool: number): Fix => ({
  title: `Add D${tool}`,
  safe: false,
  edits: [{ lineOffset: 0, column, endColumn: column, text: ` D${tool}` }],
});
