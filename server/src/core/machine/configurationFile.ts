/** Reads the text of the shop's file, `blockwright.json`, and says where it is wrong. */
import { getNodeValue, type Node, type ParseError, parseTree } from 'jsonc-parser';
import { parseThread } from '../reference/threadName.ts';
import {
  type Configuration,
  DEFAULT_CONFIGURATION,
  type RuleSetting,
  type RunLimits,
  type TapHolder,
  type ToolRow,
} from './configuration.ts';
import { CONFIGURATION_SCHEMA, PROFILE_SCHEMA } from './configurationSchema.ts';
import { checkAgainstSchema, type Schema, type SchemaProblem } from './jsonSchema.ts';
import { type ControlProfile, DEFAULT_PROFILE, PROFILES } from './profile.ts';

/** What is wrong at a place of the file; lines and columns count from 0, columns in UTF-16 units, the end is exclusive. */
export interface ConfigurationProblem {
  readonly message: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

/** A shop's file as read. */
export interface ConfigurationReading {
  /** What the file says; undefined where it is wrong, so that the last good one stays in force. */
  readonly configuration: Configuration | undefined;
  /** In the order of the text; empty where all is well. */
  readonly problems: readonly ConfigurationProblem[];
  /** Keys that the file gives and that nothing uses yet, in the order of the file. */
  readonly notUsedYet: readonly string[];
}

/** The text of a profile's file by its name as written; undefined where it cannot be read. */
export type ReadProfileFile = (name: string) => string | undefined;

/** Documented keys that are checked but not used yet. */
const LATER_KEYS: readonly string[] = ['blockNumbers', 'machine', 'materials', 'material', 'stock', 'programs'];

const INCH = 25.4;

/**
 * Reads the text of a `blockwright.json`. Lengths come out in mm. Never throws.
 * @param readProfile where a profile in a file of its own comes from, see `profileFileOf`
 */
export function readConfigurationFile(text: string, readProfile?: ReadProfileFile): ConfigurationReading {
  const { tree, problems } = parseChecked(text, CONFIGURATION_SCHEMA, 'this file');
  const file: RawFile = tree && problems.length === 0 ? getNodeValue(tree) : {};
  if (tree && problems.length === 0) problems.push(...toolProblems(tree));
  const unit = file.units === 'inch' ? INCH : 1;
  const profile = profileOf(file.profile, unit, readProfile);
  if (typeof profile === 'string' && tree) problems.push({ message: profile, ...placeOf(tree, 'profile') });
  const right = tree && problems.length === 0 && typeof profile !== 'string';
  return {
    configuration: right ? configurationOf(file, unit, profile) : undefined,
    problems: problems.map((problem) => located(text, problem)),
    notUsedYet: LATER_KEYS.filter((key) => Object.hasOwn(file, key)),
  };
}

/** The name of the file that holds the profile, where the text names one; undefined where it names a preset or is wrong. */
export function profileFileOf(text: string): string | undefined {
  const { tree, problems } = parseChecked(text, CONFIGURATION_SCHEMA, 'this file');
  if (!tree || problems.length > 0) return undefined;
  const { profile } = getNodeValue(tree) as RawFile;
  return typeof profile === 'string' && !Object.hasOwn(PROFILES, profile) ? profile : undefined;
}

/**
 * A profile by the name of a preset, or from a file that holds `{ "base": preset, …fields }`.
 * @returns the profile, or a sentence that says what is wrong
 */
export function profileByName(name: string, readProfile?: ReadProfileFile): ControlProfile | string {
  if (Object.hasOwn(PROFILES, name)) return PROFILES[name];
  const text = readProfile?.(name);
  if (text === undefined) {
    return `"${name}" is no preset (${Object.keys(PROFILES).join(', ')}), and no file of that name can be read.`;
  }
  const { tree, problems } = parseChecked(text, PROFILE_SCHEMA, 'a profile');
  if (!tree || problems.length > 0) {
    const { line, column, message } = located(text, problems[0]);
    return `The profile in "${name}" is wrong at line ${line + 1}, column ${column + 1}: ${message}`;
  }
  return overBase(getNodeValue(tree), 1);
}

interface RawFile {
  readonly units?: 'mm' | 'inch';
  readonly profile?: string | RawProfile;
  readonly blockDelete?: 'execute' | 'skip';
  readonly limits?: Partial<RunLimits>;
  readonly tools?: readonly ToolRow[];
  readonly holder?: TapHolder['kind'];
  readonly rules?: Readonly<Record<string, RuleSetting>>;
}

type RawProfile = { readonly base?: string } & Partial<ControlProfile>;

function parseChecked(
  text: string,
  schema: Schema,
  name: string,
): { tree: Node | undefined; problems: SchemaProblem[] } {
  const errors: ParseError[] = [];
  const tree = parseTree(text, errors, { disallowComments: true });
  if (errors.length > 0 || !tree)
    return { tree, problems: errors.slice(0, 1).map((error) => syntaxProblem(text, error)) };
  return { tree, problems: checkAgainstSchema(tree, schema, name) };
}

/** Words for the parser's error numbers (jsonc-parser, `ParseErrorCode`). */
const SYNTAX_WORDS: Readonly<Record<number, string>> = {
  2: 'This number is not written right.',
  3: 'A key in quotes is missing here.',
  4: 'A value is missing here.',
  5: 'A colon is missing here.',
  6: 'A comma is missing here.',
  7: 'A closing brace } is missing here.',
  8: 'A closing bracket ] is missing here.',
  9: 'Nothing may follow the last brace.',
  10: 'This file takes no remarks.',
  12: 'The closing quote is missing.',
};

function syntaxProblem(text: string, error: ParseError): SchemaProblem {
  const empty = text.trim() === '';
  const message = empty
    ? 'This file is empty. Write { "version": 1 } to begin with.'
    : (SYNTAX_WORDS[error.error] ?? 'This is not written as JSON.');
  return { message, start: error.offset, end: error.offset + error.length };
}

/** What a schema cannot say of the tool table: each number once, and threads that are threads. */
function toolProblems(tree: Node): SchemaProblem[] {
  const problems: SchemaProblem[] = [];
  const seen = new Set<number>();
  for (const row of nodeAt(tree, 'tools')?.children ?? []) {
    const number = nodeAt(row, 'number');
    const thread = nodeAt(row, 'thread');
    if (number && seen.has(number.value)) {
      problems.push({
        message: `Tool ${number.value} is in the table twice; give each number once.`,
        ...rangeOf(number),
      });
    }
    if (number) seen.add(number.value);
    if (thread && parseThread(thread.value) === undefined) {
      const message = `"${thread.value}" is no thread that is known here. Write it as M6, M6x0.75, 1/4-20 UNC or G1/4.`;
      problems.push({ message, ...rangeOf(thread) });
    }
  }
  return problems;
}

const nodeAt = (group: Node, key: string): Node | undefined =>
  group.children?.find((property) => property.children?.[0]?.value === key)?.children?.[1];

const rangeOf = (node: Node): { start: number; end: number } => ({
  start: node.offset,
  end: node.offset + node.length,
});

const placeOf = (tree: Node, key: string): { start: number; end: number } => rangeOf(nodeAt(tree, key) ?? tree);

function profileOf(
  profile: RawFile['profile'],
  unit: number,
  readProfile: ReadProfileFile | undefined,
): ControlProfile | string {
  if (profile === undefined) return DEFAULT_PROFILE;
  return typeof profile === 'string' ? profileByName(profile, readProfile) : overBase(profile, unit);
}

function overBase(own: RawProfile, unit: number): ControlProfile {
  const { base = DEFAULT_PROFILE.name, ...fields } = own;
  const preset = PROFILES[base];
  return {
    ...preset,
    ...fields,
    ...(fields.peckRetract === undefined ? {} : { peckRetract: fields.peckRetract * unit }),
    remarks: { ...preset.remarks, ...fields.remarks },
    start: { ...preset.start, ...fields.start },
  };
}

function configurationOf(file: RawFile, unit: number, profile: ControlProfile): Configuration {
  return {
    profile,
    tools: (file.tools ?? []).map((row) => inMillimetres(row, unit)),
    rules: { ...file.rules },
    blockDelete: file.blockDelete ?? DEFAULT_CONFIGURATION.blockDelete,
    limits: { ...DEFAULT_CONFIGURATION.limits, ...file.limits },
    ...(file.holder === undefined ? {} : { holder: file.holder }),
  };
}

const TOOL_LENGTHS = ['diameter', 'cornerRadius', 'tip', 'length', 'fluteLength'] as const;
const HOLDER_LENGTHS = ['float', 'selfFeed', 'freeUp'] as const;

function inMillimetres(row: ToolRow, unit: number): ToolRow {
  const scaled: Record<string, unknown> = { ...row };
  for (const key of TOOL_LENGTHS) {
    const length = row[key];
    if (length !== undefined) scaled[key] = length * unit;
  }
  if (row.holder) {
    const holder: Record<string, unknown> = { ...row.holder };
    for (const key of HOLDER_LENGTHS) {
      const length = row.holder[key];
      if (length !== undefined) holder[key] = length * unit;
    }
    scaled.holder = holder;
  }
  return scaled as unknown as ToolRow;
}

function located(text: string, problem: SchemaProblem): ConfigurationProblem {
  const [line, column] = lineAndColumn(text, problem.start);
  const [endLine, endColumn] = lineAndColumn(text, problem.end);
  return { message: problem.message, line, column, endLine, endColumn };
}

function lineAndColumn(text: string, offset: number): [number, number] {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return [before.length - 1, before[before.length - 1].length];
}
