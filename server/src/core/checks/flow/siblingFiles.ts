/**
 * Which file of a program's folder holds a subprogram: first one whose text begins with its O number, else one whose
 * name is the number. Where two begin with the same number, the one counts that has it in its name too, then the first
 * in the order of the names. Common practice, no source.
 */

/** Endings of the language's files; files without any are looked at too. Held against package.json by a test. */
export const PROGRAM_ENDINGS: readonly string[] = ['.nc', '.cnc', '.tap', '.ngc', '.gcode', '.gc', '.eia', '.ncc'];
/** In folders of more files only names are looked at. */
export const MOST_FILES = 500;
/** A subprogram's file has at most so many bytes. */
export const LARGEST_SUBPROGRAM = 4_000_000;
/** Bytes at the start of a file that its number is looked for in, and lines. */
export const HEAD_BYTES = 65_536;
const HEAD_LINES = 500;
const MOST_CALLED = 100;

/** What stands first in a file: its program number and how it is marked; '' where there is none. */
export interface FileHead {
  readonly mark: 'O' | ':' | '';
  readonly number: number;
}

/** A file that was chosen. */
export interface ChosenFile {
  /** Undefined where there is none. */
  readonly name: string | undefined;
  /** True where the folder has too many files to look into. */
  readonly isCutShort: boolean;
}

const NO_HEAD: FileHead = { mark: '', number: -1 };

/** True for a file that can hold a program, by its name. */
export const isProgramName = (name: string): boolean => {
  const dot = name.lastIndexOf('.');
  if (dot < 0) return name !== '';
  return dot > 0 && PROGRAM_ENDINGS.includes(name.slice(dot).toLowerCase());
};

/** The program number that a file's name says (`O1234.nc`, `1234`), −1 none. */
export const numberOfName = (name: string): number => {
  const dot = name.lastIndexOf('.');
  const digits = /^O?(\d{1,9})$/i.exec(dot < 0 ? name : name.slice(0, dot));
  return digits === null || !isProgramName(name) ? -1 : Number(digits[1]);
};

/** True for text with characters that no program has: no text at all. */
const isBinary = (text: string): boolean => text.includes('\0');

/** The head of a text, read line by line: what is first beside %, empty lines and remarks. */
export const headOfLines = (line: (index: number) => string, lineCount: number): FileHead => {
  for (let i = 0; i < Math.min(lineCount, HEAD_LINES); i++) {
    const bare = line(i)
      .replace(/^\ufeff/, '')
      .replace(/\([^)]*\)?|;.*|\/\/.*/g, '')
      .trim();
    if (bare === '' || bare.startsWith('%')) continue;
    const first = /^\/?\d?\s*([O:])\s*(\d{1,9})(?!\d)/i.exec(bare);
    return first === null ? NO_HEAD : { mark: first[1] === ':' ? ':' : 'O', number: Number(first[2]) };
  }
  return NO_HEAD;
};

/** The head of a file from the text at its start. */
export const headOfText = (text: string): FileHead => {
  if (isBinary(text)) return NO_HEAD;
  const lines = text.split(/\r\n|\r|\n/, HEAD_LINES);
  return headOfLines((index) => lines[index], lines.length);
};

/** Files that are looked into at a time. */
const AT_A_TIME = 32;

/**
 * Chooses the file for a number. Yields names whose heads are wanted; who runs it answers with the heads in the same
 * order. `colonCounts` is true where `:1234` is a program number.
 */
export function* chooseFile(
  names: readonly string[],
  number: number,
  colonCounts: boolean,
): Generator<readonly string[], ChosenFile, readonly FileHead[]> {
  const files = names.filter(isProgramName).sort();
  const byName = files.filter((name) => numberOfName(name) === number);
  const begins = ({ mark, number: own }: FileHead): boolean => own === number && (mark === 'O' || colonCounts);
  const isCutShort = files.length > MOST_FILES;
  const others = isCutShort ? [] : files.filter((name) => numberOfName(name) !== number);
  for (const group of [byName, others]) {
    for (let at = 0; at < group.length; at += AT_A_TIME) {
      const some = group.slice(at, at + AT_A_TIME);
      const name = some[(yield some).findIndex(begins)];
      if (name !== undefined) return { name, isCutShort };
    }
  }
  return { name: byName[0], isCutShort };
}

/** Program numbers that a text calls as far as they are written out, for reading ahead; at most 100. */
export const calledNumbers = (text: string): number[] => {
  const numbers = new Set<number>();
  for (const { index } of text.matchAll(/(?:M\s*0*98|G\s*0*6[56])(?!\d)/gi)) {
    const start = text.lastIndexOf('\n', index) + 1;
    const end = text.indexOf('\n', index);
    const line = text.slice(start, end < 0 ? text.length : end);
    for (const [, digits] of line.matchAll(/P\s*(\d{1,9})/gi)) {
      const number = Number(digits);
      numbers.add(number);
      // With repeats in the first digits, by profile.
      if (number > 9999) numbers.add(number % 10_000);
    }
    if (numbers.size >= MOST_CALLED) break;
  }
  return [...numbers];
};

/** Why a file that was chosen is not used, in words for the user; undefined where it is. */
export const whyNotUsed = (name: string, number: number, text: string, size: number): string | undefined => {
  if (size > LARGEST_SUBPROGRAM) {
    return `${name} is not read as the subprogram O${number}: it has more than ${LARGEST_SUBPROGRAM / 1e6} MB.`;
  }
  return isBinary(text) ? `${name} is not read as the subprogram O${number}: it is no text.` : undefined;
};

/** What is told where a folder has too many files to look into. */
export const toldCutShort = (number: number): string =>
  `O${number} was looked for by the names of files only: the folder has more than ${MOST_FILES} files. Name its file O${number}.nc, or move the subprograms to a smaller folder.`;
