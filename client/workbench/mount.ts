// What the served folder may do: read and write inside itself, never outside, never through a symbolic link that leaves.
import { constants, type Stats } from 'node:fs';
import { lstat, mkdir, open, readdir, readFile, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, sep } from 'node:path';

/** The request cannot be carried out; `status` is the HTTP status that says why. */
export class MountError extends Error {
  readonly status: number;
  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

/** What an answer carries: plain data as JSON, or a file's bytes. */
export type MountAnswer = { readonly json: unknown } | { readonly bytes: Uint8Array };

const fileType = { unknown: 0, file: 1, folder: 2, link: 64 } as const;

/** A folder of the disk, reached by paths that begin with `/`. Throws MountError. */
export class Mount {
  readonly #root: string;

  private constructor(root: string) {
    this.#root = root;
  }

  /** Opens a folder; its own path may go through links, what lies inside may not lead out. */
  static async open(folder: string): Promise<Mount> {
    return new Mount(await realpath(folder));
  }

  /** Carries out one verb: stat, list, read, write, folder, delete, rename. */
  async run(verb: string, query: URLSearchParams, body: Uint8Array): Promise<MountAnswer> {
    const path = query.get('path') ?? '';
    switch (verb) {
      case 'stat':
        return { json: describe(await stat(await this.#existing(path))) };
      case 'list':
        return { json: await this.#list(await this.#existing(path)) };
      case 'read':
        return { bytes: await readFile(await this.#existing(path)) };
      case 'write':
        await this.#write(path, body, query.get('create') === 'true', query.get('overwrite') === 'true');
        return { json: true };
      case 'folder':
        await mkdir(await this.#place(path));
        return { json: true };
      case 'delete':
        await this.#delete(path, query.get('recursive') === 'true');
        return { json: true };
      case 'rename':
        await this.#rename(path, query.get('to') ?? '', query.get('overwrite') === 'true');
        return { json: true };
      default:
        throw new MountError(404, `no such request: ${verb}`);
    }
  }

  /** Path on disk of something that exists, links resolved. */
  async #existing(path: string): Promise<string> {
    return this.#inside(await realpath(this.#plain(path)));
  }

  /** Path on disk of something that may not exist yet; its parent must, and a link in its place must stay inside. */
  async #place(path: string): Promise<string> {
    const plain = this.#plain(path);
    if (plain === this.#root) {
      throw new MountError(403, 'the folder itself cannot be replaced');
    }
    const parent = this.#inside(await realpath(dirname(plain)));
    return join(parent, basename(plain));
  }

  #plain(path: string): string {
    const parts = path.split('/').filter((part) => part !== '' && part !== '.');
    const bad = (part: string): boolean => part === '..' || part.includes('\\') || part.includes('\0');
    const drive = sep === '\\' && parts.some((part) => part.includes(':'));
    if (!path.startsWith('/') || parts.some(bad) || drive) {
      throw new MountError(403, 'the path leaves the served folder');
    }
    return join(this.#root, ...parts);
  }

  #inside(real: string): string {
    if (real !== this.#root && !real.startsWith(this.#root.endsWith(sep) ? this.#root : this.#root + sep)) {
      throw new MountError(403, 'the path leaves the served folder');
    }
    return real;
  }

  async #list(folder: string): Promise<[string, number][]> {
    const entries = await readdir(folder, { withFileTypes: true });
    const shown = entries.filter((entry) => entry.name !== '.git' && entry.name !== 'node_modules');
    return shown.map((entry) => [entry.name, typeOf(entry)]);
  }

  async #write(path: string, body: Uint8Array, create: boolean, overwrite: boolean): Promise<void> {
    const place = await this.#place(path);
    const there = await lstat(place).catch(absentAsUndefined);
    if (there && !overwrite) {
      throw new MountError(409, 'there is a file of that name already');
    }
    if (!there && !create) {
      throw new MountError(404, 'no such file');
    }
    if (there?.isSymbolicLink()) {
      await writeFile(await this.#existing(path), body);
      return;
    }
    const noFollow = constants.O_NOFOLLOW ?? 0;
    const file = await open(place, constants.O_WRONLY | constants.O_CREAT | constants.O_TRUNC | noFollow, 0o644);
    await file.writeFile(body).finally(() => file.close());
  }

  async #delete(path: string, recursive: boolean): Promise<void> {
    const place = await this.#place(path);
    const there = await lstat(place);
    if (there.isDirectory() && !recursive && (await readdir(place)).length > 0) {
      throw new MountError(403, 'the folder is not empty');
    }
    await rm(place, { recursive: there.isDirectory() });
  }

  async #rename(from: string, to: string, overwrite: boolean): Promise<void> {
    const target = await this.#place(to);
    if (!overwrite && (await lstat(target).catch(absentAsUndefined))) {
      throw new MountError(409, 'there is a file of that name already');
    }
    await rename(await this.#place(from), target);
  }
}

function absentAsUndefined(error: NodeJS.ErrnoException): undefined {
  if (error.code !== 'ENOENT') {
    throw error;
  }
  return undefined;
}

function typeOf(entry: { isFile(): boolean; isDirectory(): boolean; isSymbolicLink(): boolean }): number {
  if (entry.isSymbolicLink()) {
    return fileType.link;
  }
  return entry.isFile() ? fileType.file : entry.isDirectory() ? fileType.folder : fileType.unknown;
}

function describe(found: Stats): object {
  return { type: typeOf(found), size: found.size, ctime: found.ctimeMs, mtime: found.mtimeMs };
}
