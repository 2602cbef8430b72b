import { FactKind, type ProgramFacts } from '../facts.ts';
import type { Fix } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** `%` at one end of the program only. */
export const tapeMarkUnpaired = defineRule({
  code: 'tape-mark-unpaired',
  severity: 'warning',
  reason: 'A control that reads from % to % waits for the second one, or drops what lies outside.',
  messages: {
    'end-missing': 'The program begins with % and no % closes it. Write % as the last line.',
    'start-missing': 'The program ends with % and no % opens it. Write % as the first line.',
  },
  program(facts, report) {
    if (facts.cutOffLine >= 0) return;
    const marks = facts.of(FactKind.tapeMark);
    if (marks.length % 2 === 0) return;
    const last = marks[marks.length - 1];
    const opens = hasTextBehind(facts, last.line);
    const message = opens ? 'end-missing' : 'start-missing';
    const fix = opens ? markAtEnd(facts, last.line) : markAtStart(last.line);
    report(message, last.line, last.column, last.endColumn, {}, [fix]);
  },
});

const hasTextBehind = (facts: ProgramFacts, line: number): boolean => {
  for (let i = line + 1; i < facts.lineCount; i++) if (facts.lineText(i).trim() !== '') return true;
  return false;
};

const markAtEnd = (facts: ProgramFacts, line: number): Fix => {
  let last = facts.lineCount - 1;
  while (last > 0 && facts.lineText(last).trim() === '') last--;
  const column = facts.lineText(last).length;
  const edit = { lineOffset: last - line, column, endColumn: column, text: '\n%' };
  return { title: 'Write % as the last line', safe: true, edits: [edit] };
};

const markAtStart = (line: number): Fix => {
  const edit = { lineOffset: -line, column: 0, endColumn: 0, text: '%\n' };
  return { title: 'Write % as the first line', safe: true, edits: [edit] };
};
