/**
 * Finds the `blockwright.json` nearest upward of a program. What stands in an editor counts before it is saved. A file
 * that is wrong leaves the last good one in force.
 */
import type { Configuration } from '../core/machine/configuration.ts';
import type { ConfigurationProblem } from '../core/machine/configurationFile.ts';
import { readShopFile } from './shopFileReading.ts';

/** The name of the shop's file. */
const SHOP_FILE = 'blockwright.json';

/** True for the address of a shop's file. */
export const isShopFile = (uri: string): boolean => uri.endsWith(`/${SHOP_FILE}`);

/** What is known of one shop's file. */
export interface ShopFile {
  readonly uri: string;
  /** The last good one; undefined if there never was one. */
  readonly configuration: Configuration | undefined;
  readonly problems: readonly ConfigurationProblem[];
  /** True if the JSON schema alone tells of the problems. */
  readonly schemaTells: boolean;
}

/** Folders are searched upward at most this far. */
const MAX_DEPTH = 64;

/** The shop's files by address. */
export class ShopFiles {
  private readonly readFile: (uri: string) => Promise<string | undefined>;
  private readonly fromDisk = new Map<string, Promise<string | Error | undefined>>();
  private readonly inEditor = new Map<string, string>();
  private readonly lastGood = new Map<string, Configuration>();

  constructor(readFile: (uri: string) => Promise<string | undefined>) {
    this.readFile = readFile;
  }

  /** The file's text in an editor; undefined when it was closed there. */
  setEditorText(uri: string, text: string | undefined): void {
    if (text === undefined) this.inEditor.delete(uri);
    else this.inEditor.set(uri, text);
    this.fromDisk.delete(uri);
  }

  /** Reads the file from disk again when it is next wanted. */
  forget(uri: string): void {
    this.fromDisk.delete(uri);
  }

  /** Forgets all that was read from disk; for clients that do not watch files. */
  forgetAll(): void {
    this.fromDisk.clear();
  }

  /** The nearest file upward from a program; undefined where there is none. */
  async nearest(programUri: string): Promise<ShopFile | undefined> {
    for (const uri of candidates(programUri)) {
      const text = this.inEditor.get(uri) ?? (await this.textOnDisk(uri));
      if (text !== undefined) return this.read(uri, text);
    }
    return undefined;
  }

  /** One file as it stands in its editor; undefined where it is not open. */
  async opened(uri: string): Promise<ShopFile | undefined> {
    const text = this.inEditor.get(uri);
    return text === undefined ? undefined : this.read(uri, text);
  }

  private textOnDisk(uri: string): Promise<string | Error | undefined> {
    const known = this.fromDisk.get(uri);
    if (known) return known;
    const reading = this.readFile(uri).catch((error: unknown) =>
      error instanceof Error ? error : new Error(String(error)),
    );
    this.fromDisk.set(uri, reading);
    return reading;
  }

  private async read(uri: string, text: string | Error): Promise<ShopFile> {
    const { configuration, problems, schemaTells } = await readShopFile(uri, text, this.readFile);
    if (configuration) this.lastGood.set(uri, configuration);
    return { uri, configuration: configuration ?? this.lastGood.get(uri), problems, schemaTells };
  }
}

/** The addresses to try, nearest first. */
function candidates(programUri: string): string[] {
  const match = /^([a-z][a-z0-9+.-]*:(?:\/\/[^/?#]*)?)(\/[^?#]*)/i.exec(programUri);
  if (!match) return [];
  const [, root, path] = match;
  const found: string[] = [];
  let folder = path;
  while (folder !== '' && found.length < MAX_DEPTH) {
    folder = folder.slice(0, folder.lastIndexOf('/'));
    found.push(`${root}${folder}/${SHOP_FILE}`);
  }
  return found;
}
