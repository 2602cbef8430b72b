/** Reads the text of the shop's file, `blockwright.json`, and says where it is wrong. */
import { getNodeValue, type Node } from 'jsonc-parser';
import {
  type BlockNumbers,
  type Configuration,
  DEFAULT_CONFIGURATION,
  type Machine,
  type Material,
  type RuleSetting,
  type RunLimits,
  type Stock,
  type TapHolder,
  type ToolRow,
} from './configuration.ts';
import { contentProblems } from './configurationChecks.ts';
import { CONFIGURATION_SCHEMA } from './configurationSchema.ts';
import {
  type ConfigurationProblem,
  located,
  nodeAt,
  parseChecked,
  propertiesOf,
  rangeOf,
} from './configurationText.ts';
import { machineInMillimetres, stockInMillimetres, toolInMillimetres } from './configurationUnits.ts';
import type { SchemaProblem } from './jsonSchema.ts';
import { type ControlProfile, DEFAULT_PROFILE } from './profile.ts';
import { isPreset, overBase, profileByName, type RawProfile, type ReadProfileFile } from './profileFile.ts';
import { fitsPattern } from './programPatterns.ts';

/** What the shop's file gives: what holds for all programs, and what for some of them only. */
export interface ShopConfiguration {
  readonly common: Configuration;
  /** In the order of the file. */
  readonly programs: readonly ProgramSection[];
}

/** What holds for the programs that fit a pattern. */
export interface ProgramSection {
  readonly pattern: string;
  readonly profile?: ControlProfile;
  readonly material?: Material & { readonly name: string };
  readonly stock?: Stock;
  readonly tools?: readonly ToolRow[];
  readonly rules?: Readonly<Record<string, RuleSetting>>;
}

/** A shop's file as read. */
export interface ConfigurationReading {
  /** What the file says; undefined where it is wrong, so that the last good one stays in force. */
  readonly shop: ShopConfiguration | undefined;
  /** In the order of the text; empty where all is well. */
  readonly problems: readonly ConfigurationProblem[];
  /** Keys that the file gives and that nothing uses yet, in the order of the file. */
  readonly notUsedYet: readonly string[];
}

/** Documented keys that are checked but not used yet: no blocks are generated so far. */
const LATER_KEYS: readonly string[] = ['blockNumbers'];

const INCH = 25.4;

/**
 * Reads the text of a `blockwright.json`. Lengths come out in mm, feeds in mm/min. Never throws.
 * @param readProfile where a profile in a file of its own comes from, see `profileFilesOf`
 */
export function readConfigurationFile(text: string, readProfile?: ReadProfileFile): ConfigurationReading {
  const { tree, problems: ofForm } = parseChecked(text, CONFIGURATION_SCHEMA, 'this file');
  const ofContent = tree ? [...contentProblems(tree), ...profileProblems(tree, readProfile)] : [];
  const problems = [
    ...ofForm.map((problem) => located(text, problem, true)),
    ...ofContent.map((problem) => located(text, problem, false)),
  ].sort((a, b) => a.line - b.line || a.column - b.column);
  if (!tree || problems.length > 0) return { shop: undefined, problems, notUsedYet: [] };
  const file: RawFile = getNodeValue(tree);
  const reading = { file, unit: file.units === 'inch' ? INCH : 1, readProfile };
  return { shop: shopOf(tree, reading), problems, notUsedYet: LATER_KEYS.filter((key) => Object.hasOwn(file, key)) };
}

/** The file itself and each of its `programs`. */
const sectionsOf = (tree: Node): Node[] => [
  tree,
  ...propertiesOf(nodeAt(tree, 'programs')).map(([, section]) => section),
];

/** Profiles that are named and cannot be had, at the places where they are named. */
function profileProblems(tree: Node, readProfile: ReadProfileFile | undefined): SchemaProblem[] {
  return sectionsOf(tree).flatMap((section) => {
    const name = nodeAt(section, 'profile', 'string');
    const profile = name === undefined ? undefined : profileByName(name.value, readProfile);
    return name !== undefined && typeof profile === 'string' ? [{ message: profile, ...rangeOf(name) }] : [];
  });
}

/** The names of the files that hold profiles, as the text names them; none where it is no JSON. */
export function profileFilesOf(text: string): readonly string[] {
  const { tree } = parseChecked(text, CONFIGURATION_SCHEMA, 'this file');
  if (!tree) return [];
  const names = sectionsOf(tree).map((section): unknown => nodeAt(section, 'profile', 'string')?.value);
  return [...new Set(names.filter((name): name is string => typeof name === 'string' && !isPreset(name)))];
}

/**
 * What holds for one program.
 * @param path the program's path from the folder of the shop's file, with / between folders; undefined for a text without one
 */
export function configurationFor(shop: ShopConfiguration, path: string | undefined): Configuration {
  let configuration = shop.common;
  if (path === undefined) return configuration;
  for (const { pattern, tools, rules, ...others } of shop.programs) {
    if (!fitsPattern(pattern, path)) continue;
    configuration = {
      ...configuration,
      ...others,
      ...(tools === undefined ? {} : { tools: mergedTools(configuration.tools, tools) }),
      ...(rules === undefined ? {} : { rules: { ...configuration.rules, ...rules } }),
    };
  }
  return configuration;
}

/** A table with some rows replaced by their number, and others added behind. */
function mergedTools(table: readonly ToolRow[], own: readonly ToolRow[]): readonly ToolRow[] {
  const rows = new Map(table.map((row) => [row.number, row]));
  for (const row of own) rows.set(row.number, row);
  return [...rows.values()];
}

interface RawSection {
  readonly profile?: string | RawProfile;
  readonly material?: string;
  readonly stock?: Omit<Stock, 'offset'> & { readonly offset?: string };
  readonly tools?: readonly ToolRow[];
  readonly rules?: Readonly<Record<string, RuleSetting>>;
}

interface RawFile extends RawSection {
  readonly units?: 'mm' | 'inch';
  readonly blockDelete?: 'execute' | 'skip';
  readonly blockNumbers?: Partial<BlockNumbers>;
  readonly limits?: Partial<RunLimits>;
  readonly machine?: Partial<Machine>;
  readonly materials?: Readonly<Record<string, Material>>;
  readonly holder?: TapHolder['kind'];
  readonly programs?: Readonly<Record<string, RawSection>>;
}

/** A file that is right, and how it is read. */
interface FileReading {
  readonly file: RawFile;
  /** Millimetres a unit of its lengths. */
  readonly unit: number;
  readonly readProfile: ReadProfileFile | undefined;
}

/** The profile of a part of the file; undefined where it has none. */
function profileOf(profile: RawSection['profile'], { unit, readProfile }: FileReading): ControlProfile | undefined {
  if (profile === undefined) return undefined;
  const found = typeof profile === 'string' ? profileByName(profile, readProfile) : overBase(profile, unit);
  return typeof found === 'string' ? undefined : found;
}

function shopOf(tree: Node, reading: FileReading): ShopConfiguration {
  const { file, unit } = reading;
  const { tools = [], rules = {}, profile = DEFAULT_PROFILE, ...others } = sectionOf(file, reading);
  const common: Configuration = {
    ...others,
    profile,
    tools,
    rules,
    blockDelete: file.blockDelete ?? DEFAULT_CONFIGURATION.blockDelete,
    blockNumbers: { ...DEFAULT_CONFIGURATION.blockNumbers, ...file.blockNumbers },
    limits: { ...DEFAULT_CONFIGURATION.limits, ...file.limits },
    ...(file.holder === undefined ? {} : { holder: file.holder }),
    ...(file.machine === undefined ? {} : { machine: machineInMillimetres(file.machine, unit) }),
  };
  const programs = propertiesOf(nodeAt(tree, 'programs')).map(([pattern, node]) => ({
    pattern: String(pattern.value),
    ...sectionOf(getNodeValue(node), reading),
  }));
  return { common, programs };
}

/** What may stand in the file itself and in each of its `programs`. */
function sectionOf(section: RawSection, reading: FileReading): Omit<ProgramSection, 'pattern'> {
  const { file, unit } = reading;
  const { stock, tools, rules, material } = section;
  const profile = profileOf(section.profile, reading);
  const isKnown = material !== undefined && file.materials !== undefined && Object.hasOwn(file.materials, material);
  return {
    ...(profile === undefined ? {} : { profile }),
    ...(isKnown ? { material: { ...file.materials?.[material], name: material } } : {}),
    ...(stock === undefined ? {} : { stock: stockInMillimetres(stock, unit) }),
    ...(tools === undefined ? {} : { tools: tools.map((row) => toolInMillimetres({ ...row }, unit)) }),
    ...(rules === undefined ? {} : { rules: { ...rules } }),
  };
}
