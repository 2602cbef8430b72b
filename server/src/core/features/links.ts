/** Calls of programs that are in files of their own. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { programCalls } from './definitionScope.ts';
import { type TextSpan, textOfAnalysis } from './referencesText.ts';

/** A call that leads to another file. */
export interface FileLink extends TextSpan {
  readonly program: number;
}

/** More links than these nobody follows. */
const MOST = 10_000;

/** All of them in the order of lines. The analysis must be up to date. */
export function* fileLinks(analysis: Analysis, { profile }: Configuration): Generator<undefined, FileLink[]> {
  const calls = yield* programCalls(textOfAnalysis(analysis, profile), MOST);
  const isInFile = new Map<number, boolean>();
  return calls.flatMap(({ line, whole, number }) => {
    if (number === undefined) return [];
    const known = isInFile.get(number) ?? analysis.whereIsProgram(number) === 'file';
    isInFile.set(number, known);
    return known ? [{ line, ...whole, program: number }] : [];
  });
}
