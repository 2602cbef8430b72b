/** The texts of the programs in a folder, open in an editor or on disk, for answers that look at all of them. */
import { LARGEST_SUBPROGRAM } from '../core/checks/flow/siblingFiles.ts';
import { type ProgramText, textOfAnalysis, textOfFile } from '../core/features/referencesText.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';

/** One file beside a program. */
export interface SiblingText {
  readonly uri: string;
  readonly name: string;
  /** Version of the text in its editor; null for a file on disk. */
  readonly version: number | null;
  readonly text: ProgramText;
}

/** Characters of all files together that are read at most. */
const MOST_CHARACTERS = 64_000_000;

/** The other files of a program's folder; `isWhole` is false where some were not read. Read under the program's profile. */
export async function siblingTexts(
  server: Server,
  program: Program,
): Promise<{ readonly texts: readonly SiblingText[]; readonly isWhole: boolean }> {
  const { files, isWhole: isListed } = await server.subprograms.filesBeside(program);
  const { profile } = program.configuration;
  const texts: SiblingText[] = [];
  let isWhole = isListed;
  let characters = 0;
  for (const { uri, name, program: open, read } of files) {
    if (open !== undefined) {
      texts.push({ uri, name, version: open.version, text: textOfAnalysis(open.analysis, profile) });
      continue;
    }
    if (characters > MOST_CHARACTERS) return { texts, isWhole: false };
    const start = await read().catch(() => undefined);
    characters += start?.text.length ?? 0;
    if (start === undefined || start.size > LARGEST_SUBPROGRAM) isWhole = false;
    else if (!start.text.includes('\0'))
      texts.push({ uri, name, version: null, text: textOfFile(start.text, profile) });
  }
  return { texts, isWhole };
}

/** Those of the files that call a number of another file, and not one of their own. */
export const callersAmong = (texts: readonly SiblingText[], number: number): SiblingText[] =>
  texts.filter(({ text }) => text.layout.unitOfNumber(number) === undefined);

/** True where other files find a program of this text by its number: it is the first one. */
export const isFoundByNumber = ({ layout }: ProgramText, number: number): boolean =>
  number >= 0 && layout.units[0].number === number;
