/**
 * Finds the `blockwright.json` nearest upward of a program. What stands in an editor counts before it is saved. A file
 * that is wrong leaves the last good one in force.
 */
import type { Configuration } from '../core/machine/configuration.ts';
import { configurationFor, type ShopConfiguration } from '../core/machine/configurationFile.ts';
import type { ConfigurationProblem } from '../core/machine/configurationText.ts';
import { readShopFile } from './shopFileReading.ts';

/** The name of the shop's file. */
const SHOP_FILE = 'blockwright.json';

/** What is known of one shop's file. */
export interface ShopFile {
  readonly uri: string;
  /** The last good one; undefined if there never was one. */
  readonly configuration: ShopConfiguration | undefined;
  readonly problems: readonly ConfigurationProblem[];
}

/** Folders are searched upward at most this far. */
const MAX_DEPTH = 64;

/** The shop's files by address. */
export class ShopFiles {
  private readonly readFile: (uri: string) => Promise<string | undefined>;
  private readonly fromDisk = new Map<string, Promise<string | Error | undefined>>();
  private readonly inEditor = new Map<string, string>();
  private readonly lastGood = new Map<string, ShopConfiguration>();
  /** Files that profiles are read from, as they compare. */
  private readonly profiles = new Set<string>();
  private readonly only: string | undefined;
  private readonly foundProfile: (uri: string) => void;

  /**
   * @param foundProfile hears once of each file that a profile is read from
   * @param only the file that holds for all programs, in the place of the nearest one upward
   */
  constructor(
    readFile: (uri: string) => Promise<string | undefined>,
    foundProfile: (uri: string) => void,
    only: string | undefined,
  ) {
    this.readFile = readFile;
    this.only = only;
    this.foundProfile = foundProfile;
  }

  /** True for the address of a shop's file. */
  is(uri: string): boolean {
    return uri.endsWith(`/${SHOP_FILE}`) || (this.only !== undefined && comparable(uri) === comparable(this.only));
  }

  /** The file's text in an editor; undefined when it was closed there. */
  setEditorText(uri: string, text: string | undefined): void {
    if (text === undefined) this.inEditor.delete(uri);
    else this.inEditor.set(uri, text);
    this.fromDisk.delete(uri);
  }

  /** True for a file that a shop's file or a profile was read from: what hangs on it must be read again. */
  concerns(uri: string): boolean {
    return this.is(uri) || this.profiles.has(comparable(uri));
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
    for (const uri of this.only === undefined ? candidates(programUri) : [this.only]) {
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
    const { configuration, problems, profiles } = await readShopFile(uri, text, this.readFile);
    for (const profile of profiles) {
      if (this.profiles.has(comparable(profile))) continue;
      this.profiles.add(comparable(profile));
      this.foundProfile(profile);
    }
    if (configuration) this.lastGood.set(uri, configuration);
    return { uri, configuration: configuration ?? this.lastGood.get(uri), problems };
  }
}

/** What the shop's file says for a program; undefined where it was never right. */
export function configurationOf(shop: ShopFile, programUri: string): Configuration | undefined {
  return shop.configuration && configurationFor(shop.configuration, pathBelow(shop.uri, programUri));
}

/** The way from a shop's file's folder down to a program; of one that lies elsewhere only the name counts. */
export function pathBelow(shopUri: string, programUri: string): string {
  const folder = shopUri.slice(0, shopUri.lastIndexOf('/') + 1);
  const program = programUri.replace(/[?#].*$/, '');
  if (program.startsWith(folder)) return decoded(program.slice(folder.length));
  return `../${decoded(program.slice(program.lastIndexOf('/') + 1))}`;
}

const decoded = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/** Editors write the same address in several ways (%3A for a colon, a drive in capitals). */
const comparable = (uri: string): string => decoded(uri).toLowerCase();

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
