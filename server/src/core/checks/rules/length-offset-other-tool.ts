import { type Fact, FactKind, type ProgramFacts, type ProgramReport } from '../facts.ts';
import type { Fix } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { lengthRegisterOf, linesOnce, toolSessions } from '../support/toolSessions.ts';

const NO_LENGTH = 49;

/** A length register that is not the tool's. */
export const lengthOffsetOtherTool = defineRule({
  code: 'length-offset-other-tool',
  severity: 'warning',
  reason: 'With the length of another tool every Z is wrong by the difference of the two.',
  messages: {
    other: 'H{register} is the length of tool {other}, and tool {tool} is in the spindle. Write H{right}.',
    unlike: 'H{register} is called for tool {tool}, whose length is in H{right} by its number. Write H{right}.',
    kept: 'Tool {tool} cuts with H{register}, which was called before the tool change. Write G43 H{right} before its first move of Z.',
  },
  program(facts, report) {
    if (facts.profile.lengthRegisterFree) return;
    const sessions = toolSessions(facts);
    const calls = sessions.flatMap((session) => session.calls).filter(({ b: tool }) => tool >= 0);
    const shift = commonShift(facts, calls);
    const rightFor = (tool: number): number => lengthRegisterOf(facts, tool) ?? tool + shift;
    const isNew = linesOnce();
    for (const call of calls) judgeCall(facts, report, calls, call, rightFor, isNew);
    // The first session of a tool, and the one before any tool change, have nothing to keep.
    for (const session of sessions.slice(2)) {
      const cut = session.cuts[0];
      if (session.calls.length > 0 || cut === undefined || cut.b === NO_LENGTH || cut.a < 0 || cut.c <= 0) continue;
      const { a: tool, c: register, line, column, endColumn } = cut;
      const right = rightFor(tool);
      if (register !== right && isNew(line)) report('kept', line, column, endColumn, { tool, register, right });
    }
  },
});

const judgeCall = (
  facts: ProgramFacts,
  report: ProgramReport,
  calls: readonly Fact[],
  call: Fact,
  rightFor: (tool: number) => number,
  isNew: (line: number) => boolean,
): void => {
  const { a: register, b: tool, line, column, endColumn, text } = call;
  const right = rightFor(tool);
  if (register === 0 || register === right) return;
  const other = ownerOf(facts, register, tool, rightFor);
  // A second length beside the tool's own.
  if (other === undefined && calls.some(({ a, b }) => b === tool && a === right)) return;
  if (!isNew(line)) return;
  const fixes = text === '' ? [registerFix(facts, call, right)] : [];
  const data = { register, tool, right, other: other ?? tool };
  report(other === undefined ? 'unlike' : 'other', line, column, endColumn, data, fixes);
};

/** What a shop adds to every tool's number to get its register (H21 for T1); 0 where that is not the same for all. */
const commonShift = (facts: ProgramFacts, calls: readonly Fact[]): number => {
  const free = calls.filter(({ a, b }) => a !== 0 && lengthRegisterOf(facts, b) === undefined);
  const shifts = new Set(free.map(({ a: register, b: tool }) => register - tool));
  const tools = new Set(free.map(({ b: tool }) => tool));
  return shifts.size === 1 && tools.size > 1 ? [...shifts][0] : 0;
};

/** Another tool of the program or the tool table whose length the register holds. */
const ownerOf = (
  facts: ProgramFacts,
  register: number,
  tool: number,
  rightFor: (tool: number) => number,
): number | undefined => {
  const changed = facts.of(FactKind.toolChange).map(({ a }) => a);
  const known = [...changed, ...facts.configuration.tools.map(({ number }) => number)];
  return known.find((other) => other > 0 && other !== tool && rightFor(other) === register);
};

const registerFix = (facts: ProgramFacts, { line, column, endColumn }: Fact, right: number): Fix => {
  const written = facts.lineText(line).slice(column, endColumn);
  const isPadded = /^H\s*0\d/i.test(written);
  const text = `${written[0]}${isPadded ? String(right).padStart(2, '0') : right}`;
  return { title: `Write ${text}`, safe: false, edits: [{ lineOffset: 0, column, endColumn, text }] };
};
