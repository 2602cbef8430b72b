import { FactKind, type ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { isAmbiguous, jumpsOf } from '../support/jumps.ts';

/** A sequence number that a jump goes to and that stands more than once in its program. */
export const sequenceNumberRepeated = defineRule({
  code: 'sequence-number-repeated',
  severity: 'warning',
  reason: 'A jump goes to one of the blocks with this number, and not every control finds the same one.',
  messages: {
    repeated: 'N{number} stands here and in line {line}, and a jump goes to it. Give each block its own number.',
  },
  program(facts, report) {
    const starts = facts.of(FactKind.programNumber).map((fact) => fact.line);
    const judged = new Set<string>();
    // Where controls find different blocks, the jump is told of (jump-target-twice).
    for (const jump of jumpsOf(facts)) {
      if (isAmbiguous(jump)) judged.add(`${jump.fact.a} ${programOf(starts, jump.from)}`);
    }
    for (const target of facts.of(FactKind.jumpTarget)) {
      const program = programOf(starts, target.line);
      const key = `${target.a} ${program}`;
      if (judged.has(key)) continue;
      judged.add(key);
      const lines = facts.linesOfSequenceNumber(target.a).filter((line) => programOf(starts, line) === program);
      for (const line of lines.slice(1)) {
        const [column, endColumn] = placeOf(facts, line, target.a);
        report('repeated', line, column, endColumn, { number: target.a, line: lines[0] + 1 });
      }
    }
  },
});

/** Which program of the file a line belongs to, counted by the O numbers above it. */
const programOf = (starts: readonly number[], line: number): number => starts.filter((start) => start <= line).length;

const placeOf = (facts: ProgramFacts, line: number, number: number): [number, number] => {
  const text = facts.lineText(line);
  const match = new RegExp(`N\\s*0*${number}(?!\\d)`, 'i').exec(text);
  return match === null ? [0, text.length] : [match.index, match.index + match[0].length];
};
