/** From the text of a shop's file to what is in force and what is wrong with it. */
import { profileFilesOf, readConfigurationFile, type ShopConfiguration } from '../core/machine/configurationFile.ts';
import type { ConfigurationProblem } from '../core/machine/configurationText.ts';

/** A shop's file as read. */
interface ShopFileReading {
  /** Undefined where the file is wrong. */
  readonly configuration: ShopConfiguration | undefined;
  readonly problems: readonly ConfigurationProblem[];
  /** Addresses of the files that profiles are read from. */
  readonly profiles: readonly string[];
}

/** Reads the text at `uri`, and the profiles in files of their own that it names. An error stands for a file that cannot be read. */
export async function readShopFile(
  uri: string,
  text: string | Error,
  readFile: (uri: string) => Promise<string | undefined>,
): Promise<ShopFileReading> {
  if (typeof text !== 'string') {
    const message = `This file cannot be read (${text.message}). The last good one stays in force.`;
    const problem = { message, line: 0, column: 0, endLine: 0, endColumn: 0, bySchema: false };
    return { configuration: undefined, problems: [problem], profiles: [] };
  }
  const plain = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  const addresses = new Map<string, string>();
  const texts = new Map<string, string | undefined>();
  for (const name of profileFilesOf(plain)) {
    const address = addressOf(name, uri);
    if (address === undefined) continue;
    addresses.set(name, address);
    texts.set(name, await readFile(address).catch(() => undefined));
  }
  const { shop, problems } = readConfigurationFile(plain, (name) => texts.get(name));
  return { configuration: shop, problems, profiles: [...addresses.values()] };
}

/** The address of a file named in the file at `uri`; undefined where the name is none. */
function addressOf(name: string, uri: string): string | undefined {
  const path = name.replaceAll('\\', '/');
  const drive = /^[a-z]:\//i.test(path);
  try {
    return new URL(drive ? `file:///${path}` : encodeURI(path), uri).href;
  } catch {
    return undefined;
  }
}
