/** What a program is read under, from the options and the nearest `blockwright.json`. */
import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../core/machine/configuration.ts';
import { profileByName, readConfigurationFile } from '../../core/machine/configurationFile.ts';
import { UsageError } from './output.ts';

/** Options that all verbs take. */
export interface ConfigurationOptions {
  readonly profile?: string;
  readonly config?: string;
}

/** A configuration and what of its file is not used yet. */
export interface FoundConfiguration {
  readonly configuration: Configuration;
  readonly file: string | undefined;
  readonly notUsedYet: readonly string[];
}

const NAME = 'blockwright.json';

/** Finds configurations; a folder is looked up once. */
export class ShopFileFinder {
  private readonly options: ConfigurationOptions;
  private readonly byFolder = new Map<string, FoundConfiguration>();

  constructor(options: ConfigurationOptions) {
    this.options = options;
  }

  /** What holds for a program (`-` counts as in the working folder). @throws UsageError where a file is wrong or missing */
  for(program: string): FoundConfiguration {
    const folder = program === '-' ? process.cwd() : dirname(resolve(program));
    const known = this.byFolder.get(folder);
    if (known) return known;
    const found = this.withProfile(this.options.config === undefined ? nearest(folder) : given(this.options.config));
    this.byFolder.set(folder, found);
    return found;
  }

  private withProfile(found: FoundConfiguration): FoundConfiguration {
    if (this.options.profile === undefined) return found;
    const profile = profileByName(this.options.profile, (name) => readText(resolve(name)));
    if (typeof profile === 'string') throw new UsageError(`--profile: ${profile}`);
    return { ...found, configuration: { ...found.configuration, profile } };
  }
}

function given(file: string): FoundConfiguration {
  const text = readText(resolve(file));
  if (text === undefined) throw new UsageError(`--config: ${file} cannot be read`);
  return read(file, text);
}

function nearest(folder: string): FoundConfiguration {
  for (let at = folder; ; at = dirname(at)) {
    const file = join(at, NAME);
    const text = readText(file);
    if (text !== undefined) return read(file, text);
    if (dirname(at) === at) return { configuration: DEFAULT_CONFIGURATION, file: undefined, notUsedYet: [] };
  }
}

function read(file: string, text: string): FoundConfiguration {
  const reading = readConfigurationFile(text, (name) => readText(resolve(dirname(resolve(file)), name)));
  if (reading.configuration) return { configuration: reading.configuration, file, notUsedYet: reading.notUsedYet };
  const [first, ...others] = reading.problems;
  const more = others.length === 0 ? '' : ` (and ${others.length} more)`;
  throw new UsageError(`${file}:${first.line + 1}:${first.column + 1} ${first.message}${more}`);
}

/** The text of a file without byte order mark; undefined where there is none. @throws UsageError where it cannot be read */
function readText(file: string): string | undefined {
  try {
    return readFileSync(file, 'utf8').replace(/^\ufeff/, '');
  } catch (error) {
    const { code = '', message } = error as NodeJS.ErrnoException;
    if (['ENOENT', 'ENOTDIR', 'EISDIR'].includes(code)) return undefined;
    throw new UsageError(`${file} cannot be read: ${message}`);
  }
}
