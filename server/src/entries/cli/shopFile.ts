/** What a program is read under, from the options and the nearest `blockwright.json`. */
import { readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../core/machine/configuration.ts';
import {
  configurationFor,
  readConfigurationFile,
  type ShopConfiguration,
} from '../../core/machine/configurationFile.ts';
import type { ControlProfile } from '../../core/machine/profile.ts';
import { profileByName } from '../../core/machine/profileFile.ts';
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

/** A shop's file as read; undefined where there is none. */
type ShopFile = { readonly file: string; readonly shop: ShopConfiguration; readonly notUsedYet: readonly string[] };

/** Finds configurations; a folder is looked up once. */
export class ShopFileFinder {
  private readonly options: ConfigurationOptions;
  private readonly byFolder = new Map<string, ShopFile | undefined>();
  private readonly profile: ControlProfile | undefined;

  constructor(options: ConfigurationOptions) {
    this.options = options;
    this.profile = profileOfOptions(options);
  }

  /** What holds for a program (`-` counts as in the working folder). @throws UsageError where a file is wrong or missing */
  for(program: string): FoundConfiguration {
    const folder = program === '-' ? process.cwd() : dirname(resolve(program));
    if (!this.byFolder.has(folder)) {
      const { config } = this.options;
      this.byFolder.set(folder, config === undefined ? nearest(folder) : given(config));
    }
    const found = this.byFolder.get(folder);
    const configuration = found ? configurationFor(found.shop, wayBelow(found.file, program)) : DEFAULT_CONFIGURATION;
    const { profile } = this;
    return {
      configuration: profile ? { ...configuration, profile } : configuration,
      file: found?.file,
      notUsedYet: found?.notUsedYet ?? [],
    };
  }
}

/** The profile of the options, which goes before every file. @throws UsageError where it is wrong */
export function profileOfOptions(options: ConfigurationOptions): ControlProfile | undefined {
  if (options.profile === undefined) return undefined;
  const profile = profileByName(options.profile, (name) => readText(resolve(name)));
  if (typeof profile === 'string') throw new UsageError(`--profile: ${profile}`);
  return profile;
}

/** The way from a shop's file's folder to a program, with / between folders; undefined for standard input. */
function wayBelow(file: string, program: string): string | undefined {
  if (program === '-') return undefined;
  return relative(dirname(resolve(file)), resolve(program)).replaceAll(sep, '/');
}

function given(file: string): ShopFile {
  const text = readText(resolve(file));
  if (text === undefined) throw new UsageError(`--config: ${file} cannot be read`);
  return read(file, text);
}

function nearest(folder: string): ShopFile | undefined {
  for (let at = folder; ; at = dirname(at)) {
    const file = join(at, NAME);
    const text = readText(file);
    if (text !== undefined) return read(file, text);
    if (dirname(at) === at) return undefined;
  }
}

function read(file: string, text: string): ShopFile {
  const reading = readConfigurationFile(text, (name) => readText(resolve(dirname(resolve(file)), name)));
  if (reading.shop) return { shop: reading.shop, file, notUsedYet: reading.notUsedYet };
  const [first, ...others] = reading.problems;
  const more = others.length === 0 ? '' : ` (and ${others.length} more)`;
  throw new UsageError(`${file}:${first.line + 1}:${first.column + 1} ${first.message}${more}`);
}

/** The text of a file without byte order mark; undefined where there is none. @throws UsageError where it cannot be read */
export function readText(file: string): string | undefined {
  try {
    return readFileSync(file, 'utf8').replace(/^\ufeff/, '');
  } catch (error) {
    const { code = '', message } = error as NodeJS.ErrnoException;
    if (['ENOENT', 'ENOTDIR', 'EISDIR'].includes(code)) return undefined;
    throw new UsageError(`${file} cannot be read: ${message}`);
  }
}
