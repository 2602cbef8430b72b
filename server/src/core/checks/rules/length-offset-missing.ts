import { defineRule } from '../support/gradedRule.ts';
import { lengthRegisterOf, linesOnce, toolSessions } from '../support/toolSessions.ts';

/** How many other tools a message names. */
const NAMED = 3;
const NO_LENGTH = 49;

/** A tool that cuts without G43 in a program whose other tools have it. */
export const lengthOffsetMissing = defineRule({
  code: 'length-offset-missing',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'Without its length a tool goes as far below the written Z as it is long, into the work.',
  messages: {
    missing:
      'Tool {tool} cuts here without its length, and {others} G43. Write G43 H{register} with its first move of Z.',
  },
  program(facts, report) {
    const sessions = toolSessions(facts);
    const compensated = sessions.flatMap(({ cuts }) => cuts.filter(({ a, b }) => b !== NO_LENGTH && a >= 0));
    const withLength = [...new Set(compensated.map(({ a }) => a))];
    if (withLength.length === 0) return;
    const isNew = linesOnce();
    for (const { cuts } of sessions) {
      // A length that was cancelled later is another rule's.
      if (cuts.length === 0 || cuts[0].b !== NO_LENGTH) continue;
      const { a: tool, line, column, endColumn, text } = cuts[0];
      if (tool < 0 || text === 'probe' || !isNew(line)) continue;
      const register = lengthRegisterOf(facts, tool) ?? tool;
      report('missing', line, column, endColumn, { tool, register, others: named(withLength) });
    }
  },
});

const named = (tools: readonly number[]): string => {
  if (tools.length === 1) return `tool ${tools[0]} has`;
  if (tools.length > NAMED) return `${tools.length} other tools have`;
  return `tools ${tools.slice(0, -1).join(', ')} and ${tools[tools.length - 1]} have`;
};
