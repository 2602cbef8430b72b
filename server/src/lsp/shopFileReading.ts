/** From the text of a shop's file to what is in force and what is wrong with it. */
import { parseTree } from 'jsonc-parser';
import type { Configuration } from '../core/machine/configuration.ts';
import { type ConfigurationProblem, profileFileOf, readConfigurationFile } from '../core/machine/configurationFile.ts';
import { CONFIGURATION_SCHEMA } from '../core/machine/configurationSchema.ts';
import { checkAgainstSchema } from '../core/machine/jsonSchema.ts';

/** A shop's file as read. */
interface ShopFileReading {
  /** Undefined where the file is wrong. */
  readonly configuration: Configuration | undefined;
  readonly problems: readonly ConfigurationProblem[];
  /** True if the JSON schema alone tells of the problems. */
  readonly schemaTells: boolean;
}

/** Reads the text at `uri`, and the profile in a file of its own where the text names one. An error stands for a file that cannot be read. */
export async function readShopFile(
  uri: string,
  text: string | Error,
  readFile: (uri: string) => Promise<string | undefined>,
): Promise<ShopFileReading> {
  if (typeof text !== 'string') {
    const message = `This file cannot be read (${text.message}). The last good one stays in force.`;
    const problem = { message, line: 0, column: 0, endLine: 0, endColumn: 0 };
    return { configuration: undefined, problems: [problem], schemaTells: false };
  }
  const plain = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  const name = profileFileOf(plain);
  const profile = name === undefined ? undefined : await readFile(addressOf(name, uri)).catch(() => undefined);
  const { configuration, problems } = readConfigurationFile(plain, () => profile);
  return { configuration, problems, schemaTells: problems.length > 0 && breaksSchema(plain) };
}

function breaksSchema(text: string): boolean {
  const tree = parseTree(text, [], { disallowComments: true });
  return (
    tree === undefined || text.trim() === '' || checkAgainstSchema(tree, CONFIGURATION_SCHEMA, 'this file').length > 0
  );
}

/** The address of a file named in the file at `uri`. */
function addressOf(name: string, uri: string): string {
  const path = name.replaceAll('\\', '/');
  const drive = /^[a-z]:\//i.test(path);
  return new URL(drive ? `file:///${path}` : encodeURI(path), uri).href;
}
