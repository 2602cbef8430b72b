import { FactKind, type ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A tool that the shop's tool table does not have. */
export const toolUnknown = defineRule({
  code: 'tool-unknown',
  severity: 'hint',
  reason: 'What depends on the tool is not checked for it, and the magazine may not hold it.',
  messages: {
    unknown: 'Tool {tool} is not in the tool table of blockwright.json ({count} tools). Add it, or call one that is.',
  },
  program(facts, report) {
    const { tools } = facts.configuration;
    if (tools.length === 0) return;
    const known = new Set(tools.map(({ number }) => number));
    for (const change of facts.of(FactKind.toolChange)) {
      const tool = change.a;
      // T0 empties the spindle.
      if (!(tool > 0) || known.has(tool)) continue;
      known.add(tool);
      const [column, endColumn] = placeOf(facts, change.line, tool) ?? [change.column, change.endColumn];
      report('unknown', change.line, column, endColumn, { tool, count: tools.length });
    }
  },
});

/** Columns of the T word, where it stands in the block of the tool change. */
const placeOf = (facts: ProgramFacts, line: number, tool: number): [number, number] | undefined => {
  const words = facts.lineText(line).replace(/\([^)]*\)?|;.*/g, (remark) => ' '.repeat(remark.length));
  const match = new RegExp(`T\\s*0*${tool}(?![\\d.])`, 'i').exec(words);
  return match === null ? undefined : [match.index, match.index + match[0].length];
};
