/** Jumps to sequence numbers with the places that they lead from and to. */
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';
import type { ProgramUnit } from '../flow/layout.ts';

/** A jump as one program of the file makes it; M99 P jumps in each program that calls its own. */
export interface Jump {
  readonly fact: Fact;
  /** Line that the jump counts from: its own, or that of the call that comes back. */
  readonly from: number;
  /** The program whose sequence numbers it searches. */
  readonly unit: ProgramUnit;
  /** Lines of that program with the number, ascending. */
  readonly lines: readonly number[];
}

/** All jumps of the file, each once. */
export const jumpsOf = (facts: ProgramFacts): readonly Jump[] => {
  const found: Jump[] = [];
  const told = new Set<string>();
  for (const fact of facts.of(FactKind.jumpTarget)) {
    for (const from of startsOf(facts, fact)) {
      const key = `${fact.line} ${fact.column} ${fact.a} ${from}`;
      if (told.has(key)) continue;
      told.add(key);
      const unit = facts.layout.unitOf(from);
      found.push({ fact, from, unit, lines: linesIn(facts, unit, fact.a) });
    }
  }
  return found;
};

/** Lines of a program of the file that carry a sequence number. */
const linesIn = (facts: ProgramFacts, { firstLine, endLine }: ProgramUnit, number: number): number[] =>
  facts.linesOfSequenceNumber(number).filter((line) => line >= firstLine && line < endLine);

/** The lines a jump counts from: a return by M99 P from each call in this file, none where it is called from elsewhere. */
const startsOf = (facts: ProgramFacts, fact: Fact): number[] => {
  if (fact.text !== 'return') return [fact.line];
  const unit = facts.layout.unitOf(fact.line);
  const calls = facts.of(FactKind.callTarget).filter(({ a, b }) => a === unit.number && b === 0);
  if (calls.length > 0) return calls.map(({ line }) => line);
  const isCalled = facts.isSubprogramFile || facts.of(FactKind.jumpTarget).some(({ text }) => text === 'call');
  return isCalled || unit !== facts.layout.units[0] ? [] : [fact.line];
};

/** True where a control that searches from the program's start finds another block than one that searches on from the jump. */
export const isAmbiguous = ({ from, lines }: Jump): boolean => {
  const onwards = lines.find((line) => line > from);
  return onwards !== undefined && onwards !== lines[0];
};
