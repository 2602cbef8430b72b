/** Where the variables, sequence numbers and programs of a text are named. */
import type { ProgramUnit } from '../checks/flow/layout.ts';
import type { VariableName } from '../syntax/variables.ts';
import { isWithinUnits, programCalls } from './definitionScope.ts';
import { type ProgramText, type TextSpan, visitBlocks } from './referencesText.ts';
import { headToken, type JumpToken, jumpTokens, variableTokens } from './referencesTokens.ts';

/** A place where something is set (written, defined), or used. */
export interface NamedPlace extends TextSpan {
  readonly isSet: boolean;
}

const T = 19;
const O = 14;

/** Uses of a variable in some programs of a text; at most `most` and one more. */
export function* variablePlaces(
  text: ProgramText,
  name: VariableName,
  units: readonly ProgramUnit[],
  most: number,
): Generator<undefined, NamedPlace[]> {
  const found: NamedPlace[] = [];
  yield* visitBlocks(
    text,
    (digest) => digest.hasVariables,
    /#/,
    (block, line) => {
      if (!isWithinUnits(units, line)) return false;
      for (const token of variableTokens(block)) {
        const { column, endColumn, isSet } = token;
        if (token.name === name) found.push({ line, column, endColumn, isSet });
      }
      return found.length > most;
    },
  );
  return found;
}

/** A jump to a sequence number, with its line. */
export type Jump = JumpToken & { readonly line: number };

/** All jumps to, and calls of, sequence numbers in a text. */
export function* jumpsOf(text: ProgramText): Generator<undefined, Jump[]> {
  const found: Jump[] = [];
  const { localCallCode, flow } = text.profile;
  if (!flow) return found;
  const code = localCallCode >= 0 ? `|${localCallCode}` : '';
  yield* visitBlocks(
    text,
    (digest) =>
      (digest.hasLetter(T) && digest.hasLetter(O)) ||
      digest.hasM(99) ||
      (localCallCode >= 0 && digest.hasM(localCallCode)),
    new RegExp(`G[ \\t]*O[ \\t]*T[ \\t]*O|M[ \\t]*0*(?:99${code})(?!\\d)`, 'i'),
    (block, line) => {
      found.push(...jumpTokens(block, text.profile).map((jump) => ({ ...jump, line })));
      return false;
    },
  );
  return found;
}

/** The blocks with a sequence number in the program of a line, and what leads to them. */
export function* sequencePlaces(
  text: ProgramText,
  line: number,
  number: number,
  most: number,
): Generator<undefined, NamedPlace[]> {
  const { layout } = text;
  const unit = layout.unitOf(line);
  const labels = layout.linesOfSequenceNumber(number).filter((at) => isWithinUnits([unit], at));
  const found = headPlaces(text, labels.slice(0, most + 1), number);
  const jumps = yield* jumpsOf(text);
  const calls = jumps.some(({ kind }) => kind === 'return') ? yield* programCalls(text, Number.POSITIVE_INFINITY) : [];
  const called = new Set(calls.filter((call) => isWithinUnits([unit], call.line)).map((call) => call.number));
  for (const jump of jumps) {
    if (jump.number !== number) continue;
    const from = layout.unitOf(jump.line);
    const comesBack = jump.kind === 'return' && (from === unit ? unit === layout.units[0] : called.has(from.number));
    if (jump.kind === 'return' ? !comesBack : from !== unit) continue;
    found.push({ line: jump.line, column: jump.column, endColumn: jump.endColumn, isSet: false });
  }
  return found.sort((a, b) => a.line - b.line);
}

/** The digits of the sequence or program number that lines begin with. */
const headPlaces = (text: ProgramText, lines: readonly number[], number: number): NamedPlace[] =>
  lines.flatMap((line) => {
    const head = headOfLine(text, line);
    return head?.number === number ? [{ line, column: head.column, endColumn: head.endColumn, isSet: true }] : [];
  });

/** The number at the start of a line. */
export const headOfLine = (text: ProgramText, line: number): ReturnType<typeof headToken> => {
  const source = text.lineText(line);
  return headToken({ source, start: 0, end: source.length }, text.profile);
};

/** The lines that begin a program with an O number. */
export const programHeads = (text: ProgramText, number: number): number[] =>
  text.layout.units
    .filter((unit) => unit.number === number)
    .map((unit) => headLineOf(text, unit))
    .filter((line) => line >= 0);

/** The line of a program's O number, which may stand behind remarks and empty lines; −1 where it has none. */
export const headLineOf = (text: ProgramText, { number, firstLine, endLine }: ProgramUnit): number => {
  if (number < 0) return -1;
  for (let line = firstLine; line < endLine; line++) {
    const head = headOfLine(text, line);
    if (head?.isProgram && head.number === number) return line;
  }
  return -1;
};

/** The O number of a program and its calls in one text. */
export function* programPlaces(text: ProgramText, number: number, most: number): Generator<undefined, NamedPlace[]> {
  const found = headPlaces(text, programHeads(text, number), number);
  for (const call of yield* programCalls(text, Number.POSITIVE_INFINITY)) {
    if (call.number !== number || found.length > most) continue;
    const column = call.column + call.repeats.length;
    found.push({ line: call.line, column, endColumn: call.endColumn, isSet: false });
  }
  return found.sort((a, b) => a.line - b.line);
}
