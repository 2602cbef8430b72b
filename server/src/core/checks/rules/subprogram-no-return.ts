import type { ProgramFacts, ProgramReport } from '../facts.ts';
import { type CalledProgram, calledPrograms, endingOf, lineRange, wordsOf } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A program that is called and does not come back. */
export const subprogramNoReturn = defineRule({
  code: 'subprogram-no-return',
  severity: 'error',
  severities: { 'ends-all': 'warning' },
  reason: 'Behind the called program’s last block the control alarms, or what follows the call is never run.',
  messages: {
    'no-return':
      'O{number} is called in line {line} and has no M99: it does not come back. Write M99 as its last block.',
    'runs-out':
      'What is called here runs to the end of its program without meeting M99, and the path ends. Bring the run to an M99.',
    'ends-all':
      'O{number} is called in line {line} and ends with {code}: the whole job ends here, and nothing behind the call is run. Write M99 to come back.',
  },
  program(facts, report) {
    const told = new Set<number>();
    for (const called of calledPrograms(facts)) judgeEnd(facts, called, told, report);
    const { stop } = facts;
    if (stop?.kind !== 'no-return' || told.has(stop.number ?? -1)) return;
    const [column, endColumn] = lineRange(facts, stop.line);
    report('runs-out', stop.line, column, endColumn);
  },
});

const judgeEnd = (
  facts: ProgramFacts,
  { unit, call }: CalledProgram,
  told: Set<number>,
  report: ProgramReport,
): void => {
  const { returns, endsAt, lastLine } = endingOf(facts, unit);
  const isOwn = call.line >= unit.firstLine && call.line < unit.endLine;
  if (returns || isOwn) return;
  told.add(unit.number);
  const data = { number: unit.number, line: call.line + 1 };
  if (endsAt < 0) {
    const [column, endColumn] = lineRange(facts, unit.firstLine);
    const behind = facts.lineText(lastLine).length;
    const edits = [{ lineOffset: lastLine - unit.firstLine, column: behind, endColumn: behind, text: '\nM99' }];
    report('no-return', unit.firstLine, column, endColumn, data, [
      { title: `Write M99 as the last block of O${unit.number}`, safe: false, edits },
    ]);
  } else if (!isLastBlock(facts, call.line)) {
    const code = /M0*(?:30|2)(?!\d)/.exec(wordsOf(facts.lineText(endsAt)))?.[0] ?? 'M30';
    const [column, endColumn] = lineRange(facts, endsAt);
    report('ends-all', endsAt, column, endColumn, { ...data, code });
  }
};

/** True if nothing but the program's end stands behind a line in its program. */
const isLastBlock = (facts: ProgramFacts, line: number): boolean => {
  for (let at = line + 1; at < facts.layout.unitOf(line).endLine; at++) {
    if (!/^(?:N\d+)?(?:M0*(?:30|2|99)(?!\d))?$/.test(wordsOf(facts.lineText(at)))) return false;
  }
  return true;
};
