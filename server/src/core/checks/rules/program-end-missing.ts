import { FactKind, type ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A program without M2 or M30 (nor M99 or M17). */
export const programEndMissing = defineRule({
  code: 'program-end-missing',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'Without an end the control alarms at the last block, or leaves spindle, coolant and modes as they are.',
  messages: {
    missing: 'The program has no end: neither M30 nor M2 is reached. Write M30 as its last block.',
  },
  program(facts, report) {
    if (facts.cutOffLine >= 0 || facts.stop !== undefined) return;
    if (facts.of(FactKind.programEnd).length > 0 || facts.of(FactKind.subprogramEnd).length > 0) return;
    const line = lastBlock(facts);
    if (line < 0) return;
    const text = facts.lineText(line);
    if (/^[^(;]*GOTO/i.test(text)) return; // begins again by a jump
    const column = text.length - text.trimStart().length;
    const end = { lineOffset: 0, column: text.length, endColumn: text.length, text: '\nM30' };
    report('missing', line, column, text.trimEnd().length, {}, [
      { title: 'Write M30 as the last block', safe: false, edits: [end] },
    ]);
  },
});

/** The last line that has a word, −1 where the file has none (remarks and tape marks only). */
const lastBlock = (facts: ProgramFacts): number => {
  for (let line = facts.lineCount - 1; line >= 0; line--) {
    const words = facts.lineText(line).replace(/\([^)]*\)?|;.*|^\s*\/\/.*|^\s*%.*/g, '');
    if (/[a-z]\s*[-+.\d[#]/i.test(words)) return line;
  }
  return -1;
};
