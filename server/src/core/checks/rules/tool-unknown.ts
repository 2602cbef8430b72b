import { FactKind, type ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A tool that the shop's tool table does not have. */
export const toolUnknown = defineRule({
  code: 'tool-unknown',
  severity: 'hint',
  reason: 'What depends on the tool is not checked for it, and the magazine may not hold it.',
  messages: {
    unknown:
      'T{tool} is not in the tool table of blockwright.json, which has {known}. Correct the number, or add the tool to the table.',
  },
  program(facts, report) {
    const { tools } = facts.configuration;
    if (tools.length === 0) return;
    const inTable = numbersText(tools.map(({ number }) => number));
    const known = new Set(tools.map(({ number }) => number));
    for (const change of facts.of(FactKind.toolChange)) {
      const tool = change.a;
      // T0 empties the spindle.
      if (!(tool > 0) || known.has(tool)) continue;
      known.add(tool);
      const [column, endColumn] = placeOf(facts, change.line, tool) ?? [change.column, change.endColumn];
      report('unknown', change.line, column, endColumn, { tool, known: inTable });
    }
  },
});

/** Most tools that a message names. */
const MOST_NAMED = 6;

/** `T1, T2 and T5`, or the first few and how many more. */
const numbersText = (numbers: readonly number[]): string => {
  const names = [...numbers].sort((a, b) => a - b).map((number) => `T${number}`);
  if (names.length === 1) return `T${numbers[0]} only`;
  const more = names.length - MOST_NAMED;
  if (more > 1) return `${names.slice(0, MOST_NAMED).join(', ')} and ${more} more`;
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
};

/** Columns of the T word, where it stands in the block of the tool change. */
const placeOf = (facts: ProgramFacts, line: number, tool: number): [number, number] | undefined => {
  const words = facts.lineText(line).replace(/\([^)]*\)?|;.*/g, (remark) => ' '.repeat(remark.length));
  const match = new RegExp(`T\\s*0*${tool}(?![\\d.])`, 'i').exec(words);
  return match === null ? undefined : [match.index, match.index + match[0].length];
};
