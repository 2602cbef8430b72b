/**
 * Renaming of variables, sequence numbers and programs. What would change what a program does, or cannot be told not to,
 * is refused in words. Reads the whole program and the files that it has to do with, so it pauses now and then.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { subjectAt } from './definitionSubject.ts';
import { type ProgramText, type TextSpan, textOfAnalysis } from './referencesText.ts';
import { renameProgram } from './renameProgram.ts';
import { renameSequence } from './renameSequence.ts';
import { renameVariable, variableKept, writtenVariable } from './renameVariable.ts';

/** A text that takes the place of another. */
export interface RenameEdit extends TextSpan {
  readonly text: string;
}

/** Another file of the program's folder. */
export interface OtherText {
  readonly name: string;
  readonly text: ProgramText;
}

/** Edits of the program and of other files by their place in the list; or why there are none. */
export type Renamed =
  | { readonly own: readonly RenameEdit[]; readonly others: ReadonlyMap<OtherText, readonly RenameEdit[]> }
  | { readonly refusal: string };

/** What renaming looks at. */
export interface RenameInput {
  readonly analysis: Analysis;
  readonly configuration: Configuration;
  readonly text: ProgramText;
  readonly line: number;
  /** The other files of the folder; `isWhole` is false where some could not be read. */
  readonly others: readonly OtherText[];
  readonly isWhole: boolean;
}

/** What can be renamed at a place, with its present name. */
export type RenamePlace =
  | { readonly column: number; readonly endColumn: number; readonly placeholder: string }
  | { readonly refusal: string };

/** The name at a place; undefined where nothing there has one. The analysis must be up to date. */
export const renamePlaceAt = (
  analysis: Analysis,
  { profile }: Configuration,
  line: number,
  column: number,
): RenamePlace | undefined => {
  const subject = subjectAt(analysis, profile, line, column)?.subject;
  if (subject === undefined) return undefined;
  const { column: from, endColumn } = subject;
  if (subject.kind === 'variable') {
    if (subject.name === undefined) return { refusal: COMPUTED_VARIABLE };
    const refusal = variableKept(subject.name, profile);
    if (refusal !== undefined) return { refusal };
    return { column: from, endColumn, placeholder: writtenVariable(subject.name) };
  }
  if (subject.kind !== 'sequence' && subject.kind !== 'program') return undefined;
  const written = analysis.lineText(line).slice(from, endColumn);
  if (!/^[\d \t]+$/.test(written)) return { refusal: COMPUTED_NUMBER };
  return { column: from, endColumn, placeholder: String(Number(written.replace(/[ \t]+/g, ''))) };
};

const COMPUTED_VARIABLE = 'The number of this variable is computed, so it has no one name that could be changed.';
const COMPUTED_NUMBER = 'This number is computed. Put the cursor on the number where it is written out.';

/** The edits that give what stands at a place another name. */
export function* renameAt(
  input: Omit<RenameInput, 'text'>,
  column: number,
  newName: string,
): Generator<undefined, Renamed | undefined> {
  const { analysis, configuration, line } = input;
  const place = renamePlaceAt(analysis, configuration, line, column);
  const subject = subjectAt(analysis, configuration.profile, line, column)?.subject;
  if (place === undefined || subject === undefined || 'refusal' in place) return place as Renamed | undefined;
  const whole = { ...input, text: textOfAnalysis(analysis, configuration.profile) };
  if (subject.kind === 'variable' && subject.name !== undefined)
    return yield* renameVariable(whole, subject.name, newName.trim());
  if (subject.kind === 'sequence' && subject.number !== undefined)
    return yield* renameSequence(whole, subject.number, subject.role, newName.trim());
  if (subject.kind === 'program' && subject.number !== undefined)
    return yield* renameProgram(whole, subject.number, newName.trim());
  return undefined;
}
