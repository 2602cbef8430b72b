/** What the server needs from the place it runs in: Node or a web worker. */
import type { ControlProfile } from '../core/machine/profile.ts';
import type { PathLookup } from './pathHandover.ts';

/** A file, or its start. */
export interface FileStart {
  /** The text of the bytes that were asked for, without byte order mark. */
  readonly text: string;
  /** Bytes of the whole file. */
  readonly size: number;
}

/** The place that the server runs in. */
export interface ServerHost {
  /**
   * Reads a file by its address: its text, undefined where there is none; rejects where it is there but cannot be read.
   * Returns undefined at once for addresses that this place cannot read (a web worker: all); then the client is asked,
   * see `ReadFileRequest`.
   */
  readFile(uri: string): Promise<string | undefined> | undefined;
  /**
   * Names of the files in a folder, undefined where there is none. Returns undefined at once for addresses that this
   * place cannot read; then the client is asked, see `ListFolderRequest`.
   */
  listFolder(uri: string): Promise<readonly string[] | undefined> | undefined;
  /**
   * The first `most` bytes of a file; undefined where there is none, or it leads out of the folder `within` by a link.
   * Returns undefined at once as `listFolder` does.
   */
  readStart(uri: string, most: number, within: string): Promise<FileStart | undefined> | undefined;
  /** The address of a rule's page, for the link behind a finding's code. Left out where the pages are not at hand. */
  readonly rulePage?: (code: string) => string;
  /** The address of the shop's file that holds for all programs, in the place of the nearest one upward. */
  readonly shopFile?: string;
  /** The control that all programs are for, whatever their shop's file says. */
  readonly profile?: ControlProfile;
  /** Lets waiting messages in; resolves in a later turn. */
  pause(): Promise<void>;
  /** Called once: how the path's own channel finds an open program. */
  servePaths?(lookup: PathLookup): void;
}
