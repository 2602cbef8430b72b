/** Which program calls which: the programs of a text, the calls in each, and who calls it. */
import type { Analysis } from '../checks/analysis.ts';
import type { ProgramUnit } from '../checks/flow/layout.ts';
import type { Configuration } from '../machine/configuration.ts';
import { isWithinUnits, type ProgramCall, programCalls } from './definitionScope.ts';
import { subjectAt } from './definitionSubject.ts';
import { headLineOf, headOfLine } from './referencesNames.ts';
import type { ProgramText, TextSpan } from './referencesText.ts';

/** One program of a text. */
export interface ProgramItem {
  /** −1 for a program without an O number. */
  readonly number: number;
  /** What its first remark says, '' where there is none. */
  readonly remark: string;
  readonly firstLine: number;
  /** Its last line. */
  readonly lastLine: number;
  /** Its O number; the first line's start where it has none. */
  readonly head: TextSpan;
}

/** Lines behind the head that a program's remark is looked for in. */
const REMARK_LINES = 3;

/** A program of a text with its name. */
export const programItem = (text: ProgramText, unit: ProgramUnit): ProgramItem => {
  const headLine = headLineOf(text, unit);
  const line = headLine < 0 ? unit.firstLine : headLine;
  const head = headLine < 0 ? undefined : headOfLine(text, line);
  return {
    number: unit.number,
    remark: remarkFrom(text, line, unit.endLine),
    firstLine: unit.firstLine,
    lastLine: unit.endLine - 1,
    head: { line, column: head?.first ?? 0, endColumn: head?.endColumn ?? 0 },
  };
};

/** The first remark at a line or right behind it. */
const remarkFrom = (text: ProgramText, line: number, endLine: number): string => {
  for (let at = line; at < Math.min(line + REMARK_LINES, endLine); at++) {
    const source = text.lineText(at);
    const remark = /\(([^)]*)\)?|;(.*)/.exec(source);
    if (remark !== null) return (remark[1] ?? remark[2]).trim();
    if (at > line && /^\s*[^\s%]/.test(source)) return '';
  }
  return '';
};

/** The program that is meant at a place: the one that is called there, else the one that the line belongs to. */
export const programMeantAt = (
  analysis: Analysis,
  { profile }: Configuration,
  text: ProgramText,
  line: number,
  column: number,
): ProgramItem | { readonly called: number } | undefined => {
  const subject = subjectAt(analysis, profile, line, column)?.subject;
  if (subject?.kind === 'program' && subject.role === 'call') {
    if (subject.number === undefined) return undefined;
    const unit = text.layout.unitOfNumber(subject.number);
    return unit === undefined ? { called: subject.number } : programItem(text, unit);
  }
  return programItem(text, text.layout.unitOf(line));
};

/** Calls of one program by another. */
export interface CallsOf {
  readonly program: ProgramItem;
  readonly calls: readonly TextSpan[];
}

const spanOf = ({ line, whole }: ProgramCall): TextSpan => ({ line, ...whole });

/** The programs of a text that call a number, each with its calls. */
export function* callersIn(text: ProgramText, number: number): Generator<undefined, CallsOf[]> {
  const calls = (yield* programCalls(text, Number.POSITIVE_INFINITY)).filter((call) => call.number === number);
  const units = new Set(calls.map(({ line }) => text.layout.unitOf(line)));
  return [...units].map((unit) => ({
    program: programItem(text, unit),
    calls: calls.filter(({ line }) => isWithinUnits([unit], line)).map(spanOf),
  }));
}

/** The numbers that the program at a line calls, each with its calls, in their order. */
export function* calledBy(
  text: ProgramText,
  line: number,
): Generator<undefined, { readonly number: number; readonly calls: readonly TextSpan[] }[]> {
  const unit = text.layout.unitOf(line);
  const found = new Map<number, TextSpan[]>();
  for (const call of yield* programCalls(text, Number.POSITIVE_INFINITY)) {
    if (call.number === undefined || !isWithinUnits([unit], call.line)) continue;
    const known = found.get(call.number);
    if (known === undefined) found.set(call.number, [spanOf(call)]);
    else known.push(spanOf(call));
  }
  return [...found].map(([number, calls]) => ({ number, calls }));
}
