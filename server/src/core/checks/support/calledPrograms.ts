/** Programs of this file that are called in it, and what their text says. */
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';
import type { ProgramUnit } from '../flow/layout.ts';

/** A program of the file with the first call that leads to it. */
export interface CalledProgram {
  readonly unit: ProgramUnit;
  readonly call: Fact;
}

/** Programs of this file that are called in it, each with its first call. */
export const calledPrograms = (facts: ProgramFacts): readonly CalledProgram[] => {
  const found = new Map<number, CalledProgram>();
  for (const call of facts.of(FactKind.callTarget)) {
    const unit = call.a < 0 || found.has(call.a) ? undefined : facts.layout.unitOfNumber(call.a);
    if (unit !== undefined) found.set(call.a, { unit, call });
  }
  return [...found.values()];
};

/** The words of a line, without remarks and blanks, in capitals. */
export const wordsOf = (text: string): string =>
  text
    .replace(/\([^)]*\)?|;.*|^\s*\/\/.*|^\s*%.*/g, '')
    .replace(/\s+/g, '')
    .toUpperCase();

const RETURNS = /M0*(?:99|17)(?!\d)/;
const ENDS = /M0*(?:30|2)(?!\d)/;

/** Whether a program of the file comes back to its caller (M99, M17), and whether it ends everything (M30, M2). */
export const endingOf = (
  facts: ProgramFacts,
  unit: ProgramUnit,
): { returns: boolean; endsAt: number; lastLine: number } => {
  let [returns, endsAt, lastLine] = [false, -1, unit.firstLine];
  for (let line = unit.firstLine; line < unit.endLine; line++) {
    const words = wordsOf(facts.lineText(line));
    if (words === '') continue;
    lastLine = line;
    if (RETURNS.test(words)) returns = true;
    else if (endsAt < 0 && ENDS.test(words)) endsAt = line;
  }
  return { returns, endsAt, lastLine };
};

/** Columns of a line without the blanks around it. */
export const lineRange = (facts: ProgramFacts, line: number): readonly [number, number] => {
  const text = facts.lineText(line);
  return [text.length - text.trimStart().length, text.trimEnd().length];
};

/** Columns of a call: its words, or the whole line where it stands in another file. */
export const callRange = (facts: ProgramFacts, call: Fact): readonly [number, number] =>
  call.b === 1 ? lineRange(facts, call.line) : [call.column, call.endColumn];
