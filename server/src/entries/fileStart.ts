/** Starts of files on disk, for subprograms; what is no plain file, or lies outside, is not there. */

/** Starts of files on disk, for subprograms; what is no plain file, or lies outside, is not there. */
import fs, { constants, type Dirent } from 'node:fs';
import { open, readdir, realpath, stat } from 'node:fs/promises';
import { sep } from 'node:path';
import type { FileStart } from '../lsp/host.ts';

/** Opens no pipe for ever. */
const TO_READ = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);

const liesIn = (realPath: string, realFolder: string): boolean =>
  realPath.startsWith(realFolder.endsWith(sep) ? realFolder : `${realFolder}${sep}`);

const decoded = (bytes: Uint8Array, size: number): FileStart => ({ text: new TextDecoder().decode(bytes), size });

/**
 * The first `most` bytes of a file; undefined where there is no such plain file, it may not be read, or it leads out of
 * the folder `within` (by a link).
 */
export async function fileStart(path: string, most: number, within: string): Promise<FileStart | undefined> {
  try {
    const real = await realpath(path);
    if (!liesIn(real, await realpath(within)) || !(await stat(real)).isFile()) return undefined;
    const file = await open(real, TO_READ);
    try {
      const { size } = await file.stat();
      const bytes = new Uint8Array(Math.min(most, size));
      let length = 0;
      for (let read = 1; read > 0 && length < bytes.length; length += read) {
        read = (await file.read(bytes, length, bytes.length - length, length)).bytesRead;
      }
      return decoded(bytes.subarray(0, length), size);
    } finally {
      await file.close();
    }
  } catch {
    return undefined;
  }
}

/** The same at once. */
export function fileStartSync(path: string, most: number, within: string): FileStart | undefined {
  let descriptor: number | undefined;
  try {
    const real = fs.realpathSync(path);
    if (!liesIn(real, fs.realpathSync(within)) || !fs.statSync(real).isFile()) return undefined;
    descriptor = fs.openSync(real, TO_READ);
    const { size } = fs.fstatSync(descriptor);
    const bytes = new Uint8Array(Math.min(most, size));
    let length = 0;
    for (let read = 1; read > 0 && length < bytes.length; length += read) {
      read = fs.readSync(descriptor, bytes, length, bytes.length - length, length);
    }
    return decoded(bytes.subarray(0, length), size);
  } catch {
    return undefined;
  } finally {
    if (descriptor !== undefined) fs.closeSync(descriptor);
  }
}

const filesAndLinks = (entries: readonly Dirent[]): string[] =>
  entries.filter((entry) => entry.isFile() || entry.isSymbolicLink()).map(({ name }) => name);

/** Names of the files (and links) in a folder; undefined where there is no such folder, or it may not be read. */
export async function namesIn(folder: string): Promise<string[] | undefined> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => undefined);
  return entries && filesAndLinks(entries);
}

/** The same at once. */
export function namesInSync(folder: string): string[] | undefined {
  try {
    return filesAndLinks(fs.readdirSync(folder, { withFileTypes: true }));
  } catch {
    return undefined;
  }
}
