/** Starts of files on disk, for programs and their subprograms; what is no plain file, or lies outside, is not there. */
import fs from 'node:fs';
import { sep } from 'node:path';

/** A file, or its start. */
export interface FileStart {
  /** The text of the bytes that were asked for, without byte order mark. */
  readonly text: string;
  /** Bytes of the whole file. */
  readonly size: number;
}

/** True if a real path lies in a real folder. */
const liesIn = (path: string, folder: string): boolean =>
  path.startsWith(folder.endsWith(sep) ? folder : `${folder}${sep}`);

/**
 * The first `most` bytes of a file; undefined where there is no such plain file, it may not be read, or it leads out of
 * the folder `within` (by a link).
 */
export function fileStart(path: string, most: number, within: string): FileStart | undefined {
  let descriptor: number | undefined;
  try {
    const real = fs.realpathSync(path);
    if (!liesIn(real, fs.realpathSync(within)) || !fs.statSync(real).isFile()) return undefined;
    descriptor = fs.openSync(real, fs.constants.O_RDONLY | (fs.constants.O_NONBLOCK ?? 0));
    const { size } = fs.fstatSync(descriptor);
    const bytes = Buffer.alloc(Math.min(most, size));
    let length = 0;
    for (let read = 1; read > 0 && length < bytes.length; length += read) {
      read = fs.readSync(descriptor, bytes, length, bytes.length - length, length);
    }
    return { text: bytes.toString('utf8', 0, length).replace(/^\ufeff/, ''), size };
  } catch {
    return undefined;
  } finally {
    if (descriptor !== undefined) fs.closeSync(descriptor);
  }
}

/** Names of the files (and links) in a folder; undefined where there is no such folder, or it may not be read. */
export function namesIn(folder: string): string[] | undefined {
  try {
    const entries = fs.readdirSync(folder, { withFileTypes: true });
    return entries.filter((entry) => entry.isFile() || entry.isSymbolicLink()).map(({ name }) => name);
  } catch {
    return undefined;
  }
}
