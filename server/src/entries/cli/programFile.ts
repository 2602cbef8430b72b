/** Reads programs from disk or standard input, and writes repaired ones. */
import { isUtf8 } from 'node:buffer';
import { randomUUID } from 'node:crypto';
import * as fs from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { UsageError } from './output.ts';

/** A program as read. */
export interface ProgramFile {
  /** As given on the command line; `-` is standard input. */
  readonly name: string;
  readonly text: string;
  /** The file began with a byte order mark, which is not part of the text. */
  readonly hasMark: boolean;
  /** Line and column (from 0) of the first bytes that are no UTF-8; undefined where all is. */
  readonly badBytes: { readonly line: number; readonly column: number } | undefined;
  /** Of the file when it was read; undefined for standard input. */
  readonly stats: fs.Stats | undefined;
}

/** More cannot be held as one text by Node 20. */
const LARGEST = 500_000_000;
const MARK = '\ufeff';

/** Says at once which of the files cannot be read at all, before any work is done. @throws UsageError */
export function ensureReadable(names: readonly string[]): void {
  for (const name of names) {
    if (name === '-') continue;
    try {
      const stats = fs.statSync(name);
      if (stats.isDirectory()) throw new UsageError(`${name} is a folder; name the programs in it`);
      if (stats.size > LARGEST) throw tooLarge(name);
      // A pipe is not opened here: it can be read only once.
      if (stats.isFile()) fs.closeSync(fs.openSync(name, 'r'));
    } catch (error) {
      throw unreadable(name, error);
    }
  }
}

/** Reads a program whole. @throws UsageError */
export async function readProgram(name: string): Promise<ProgramFile> {
  if (name === '-') return decode(name, await readStandardInput(), undefined);
  try {
    const descriptor = fs.openSync(name, 'r');
    try {
      return decode(name, fs.readFileSync(descriptor), fs.fstatSync(descriptor));
    } finally {
      fs.closeSync(descriptor);
    }
  } catch (error) {
    throw unreadable(name, error);
  }
}

const tooLarge = (name: string): UsageError =>
  new UsageError(`${name} has more than ${LARGEST / 1e6} MB, which cannot be read`);

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'there is no such file',
  EACCES: 'you may not read it',
  EPERM: 'you may not read it',
  EISDIR: 'it is a folder',
  EMFILE: 'too many files are open',
};

function unreadable(name: string, error: unknown): UsageError {
  if (error instanceof UsageError) return error;
  const { code = '', message } = error as NodeJS.ErrnoException;
  return new UsageError(`${name} cannot be read: ${REASONS[code] ?? message}`);
}

async function readStandardInput(): Promise<Buffer> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of process.stdin) {
    parts.push(part as Buffer);
    size += (part as Buffer).length;
    if (size > LARGEST) throw tooLarge('standard input');
  }
  return Buffer.concat(parts);
}

function decode(name: string, bytes: Buffer, stats: fs.Stats | undefined): ProgramFile {
  const whole = bytes.toString('utf8');
  const hasMark = whole.startsWith(MARK);
  const text = hasMark ? whole.slice(1) : whole;
  return { name, text, hasMark, stats, badBytes: isUtf8(bytes) ? undefined : firstBadBytes(bytes, hasMark) };
}

const LF = 10;
const CR = 13;

/** Line by line, since a line end is never part of a longer character in UTF-8. */
function firstBadBytes(bytes: Buffer, hasMark: boolean): { line: number; column: number } {
  let line = 0;
  for (let start = hasMark ? 3 : 0; start < bytes.length; line++) {
    let end = start;
    while (end < bytes.length && bytes[end] !== LF && bytes[end] !== CR) end++;
    const content = bytes.subarray(start, end);
    if (!isUtf8(content)) return { line, column: Math.max(0, content.toString('utf8').indexOf('\ufffd')) };
    start = end + (bytes[end] === CR && bytes[end + 1] === LF ? 2 : 1);
  }
  return { line: 0, column: 0 };
}

/** A repaired program that waits beside the old one. */
export interface Replacement {
  readonly file: ProgramFile;
  readonly target: string;
  readonly temporary: string;
}

/**
 * Writes a repaired program beside the old one, with its rights. Nothing of the old file is touched.
 * @throws UsageError where the file may not be written
 */
export function prepareReplacement(file: ProgramFile, text: string): Replacement {
  try {
    const target = fs.realpathSync(file.name);
    fs.accessSync(target, fs.constants.W_OK);
    const temporary = join(dirname(target), `.${basename(target)}.${randomUUID()}.tmp`);
    const descriptor = fs.openSync(temporary, 'wx', file.stats?.mode);
    try {
      fs.writeFileSync(descriptor, (file.hasMark ? MARK : '') + text);
      keepOwner(descriptor, file.stats);
      fs.fsyncSync(descriptor);
    } catch (error) {
      fs.rmSync(temporary, { force: true });
      throw error;
    } finally {
      fs.closeSync(descriptor);
    }
    return { file, target, temporary };
  } catch (error) {
    throw new UsageError(`${file.name} cannot be written: ${(error as Error).message}`);
  }
}

function keepOwner(descriptor: number, stats: fs.Stats | undefined): void {
  if (!stats) return;
  fs.fchmodSync(descriptor, stats.mode & 0o7777);
  try {
    fs.fchownSync(descriptor, stats.uid, stats.gid);
  } catch {
    // Only the administrator may give files away; the content is what counts.
  }
}

/** Puts repaired programs in the place of the old ones. @throws UsageError where one was changed by somebody meanwhile */
export function commitReplacements(replacements: readonly Replacement[]): void {
  try {
    for (const { file, target } of replacements) {
      const now = fs.statSync(target);
      if (now.mtimeMs !== file.stats?.mtimeMs || now.size !== file.stats?.size) {
        throw new UsageError(`${file.name} was changed by somebody else meanwhile; nothing is repaired, try again`);
      }
    }
    for (const { target, temporary } of replacements) fs.renameSync(temporary, target);
  } catch (error) {
    dropReplacements(replacements);
    throw error instanceof UsageError
      ? error
      : new UsageError(`a repaired program cannot be put in place: ${(error as Error).message}`);
  }
}

/** Forgets repaired programs that were not put in place. */
export function dropReplacements(replacements: readonly Replacement[]): void {
  for (const { temporary } of replacements) fs.rmSync(temporary, { force: true });
}
