import { argumentWords, macroCallWord } from '../../machine/calls.ts';
import { Block } from '../../syntax/block.ts';
import { BlockReader } from '../../syntax/reader.ts';
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';
import { wordsOf } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A word of a macro call whose variable the called program never reads. */
export const argumentUnused = defineRule({
  code: 'argument-unused',
  severity: 'hint',
  reason: 'A value that is given and never used is mostly one given by the wrong letter.',
  messages: {
    unused:
      '{word} gives #{variable}, which O{number} never reads. Take the word out, or give the value by the letter that is meant.',
    'no-variable':
      '{word} gives no variable to the called program: {letter} is no argument. Give the value by another letter.',
  },
  program(facts, report) {
    const reader = new BlockReader(facts.profile);
    const block = new Block();
    const told = new Set<number>();
    for (const call of facts.of(FactKind.callTarget)) {
      if (call.b === 1 || told.has(call.line)) continue;
      told.add(call.line);
      const text = facts.lineText(call.line);
      reader.read(text, 0, text.length, block, undefined);
      if (macroCallWord(block) < 0) continue;
      const reads = variablesRead(facts, call);
      for (const { word, variable } of argumentWords(block)) {
        if (variable > 0 && (reads === undefined || reads.has(variable))) continue;
        const letter = String.fromCharCode(65 + block.letters[word]);
        const data = { word: block.wordText(word), letter, variable, number: call.a };
        report(variable > 0 ? 'unused' : 'no-variable', call.line, block.starts[word], block.ends[word], data);
      }
    }
  },
});

/** Numbers of the variables that a called program reads; undefined where its text is not at hand, computes numbers, or calls on with its own variables. */
const variablesRead = (facts: ProgramFacts, { a }: Fact): ReadonlySet<number> | undefined => {
  const { localCallCode } = facts.profile;
  const reads = new Set<number>();
  for (const line of linesOf(facts, a) ?? ['#[']) {
    const words = wordsOf(line);
    if (/#[[#]/.test(words) || CALLS_ON.test(words)) return undefined;
    if (localCallCode >= 0 && words.includes(`M${localCallCode}`)) return undefined;
    for (const [, number] of words.matchAll(/#(\d+)(?!\d|=)/g)) reads.add(Number(number));
  }
  return reads;
};

const CALLS_ON = /M0*98(?!\d)/;

/** The lines of a program: in this text, or its whole file. */
const linesOf = (facts: ProgramFacts, number: number): readonly string[] | undefined => {
  const unit = facts.layout.unitOfNumber(number);
  if (unit === undefined) return facts.fileOfProgram(number)?.split(/\r\n|\r|\n/);
  return Array.from({ length: unit.endLine - unit.firstLine }, (_, i) => facts.lineText(unit.firstLine + i));
};
