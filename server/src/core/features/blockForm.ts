/**
 * What a form for a generated block shows: parameters in the program's units, what program and tool table give, the block at
 * a line; and the block that its values make. Place in, plain values out.
 */
import type { BlockKind } from '../blocks/blockKind.ts';
import type { BlockContext } from '../blocks/context.ts';
import { defaultsFor } from '../blocks/defaults.ts';
import { type GenerationResult, generateBlock, inchFactorOf, toMillimetres } from '../blocks/generate.ts';
import { OF_THE_FIRST } from '../blocks/holeParameters.ts';
import { bodyCheck, MARKER_SIGN, readMarkers } from '../blocks/markers.ts';
import type { Parameter, ParameterUnit, RawValues } from '../blocks/parameter.ts';
import { short, unitName } from '../blocks/readValues.ts';
import { type FormHints, halved, hintsOf, MATERIALS } from './blockFormHints.ts';

/** A field of the form. `unit` and `fallback` are in the program's units. */
export interface FormField {
  readonly name: string;
  readonly label: string;
  readonly help: string;
  readonly group: string;
  readonly kind: Parameter['kind'];
  readonly unit: string;
  readonly isNeeded: boolean;
  /** The value that holds where nothing is given. */
  readonly fallback?: string;
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
  /** Counts only where another field of the same operation has one of these values. */
  readonly onlyWith?: { readonly name: string; readonly values: readonly string[] };
  /** Texts to choose from; others may be typed. */
  readonly suggestions?: readonly string[];
  /** Every operation has a field of its own for it: shown only where the block itself has a value. */
  readonly isShared?: boolean;
}

/** A value that the program or the shop's file gives. */
export interface GivenValue {
  /** In the program's units. */
  readonly value: string;
  /** Where it comes from: "program", "tool table", "tool's remark", "shop's file". */
  readonly from: string;
}

/** A block's form at a line. */
export interface BlockForm {
  readonly name: string;
  readonly title: string;
  readonly summary: string;
  readonly inch: boolean;
  readonly fields: readonly FormField[];
}

/** What the form's values come to. */
export interface FormResult extends GenerationResult, FormHints {
  /** What program and tool table give, with these values, by parameter name. */
  readonly given: Readonly<Record<string, GivenValue>>;
  /** The values of `kept` that count, in the program's units. */
  readonly kept: Readonly<Record<string, string>>;
}

/** Values of the form. */
export interface FormValues {
  /** As typed, in the program's units. */
  readonly typed: RawValues;
  /** In mm: a block's own where it is revised, else those of last time, which give way to what program and tool table give. */
  readonly kept: RawValues;
  readonly isRevised: boolean;
}

const GROUP_OF_THE_REST = 'How';

/** The form of a kind where a block with this context is to stand. */
export const blockForm = (kind: BlockKind, { entry }: BlockContext): BlockForm => {
  const inch = entry.units === 'inch';
  const fields = kind.parameters
    // Another word for `at`, for the command line.
    .filter(({ name }) => name !== 'centre' || !kind.parameters.some((other) => other.name === 'at'))
    .map(
      (parameter): FormField => ({
        name: parameter.name,
        label: labelOf(kind, parameter),
        help: parameter.help,
        group: parameter.group ?? GROUP_OF_THE_REST,
        kind: parameter.kind,
        unit: unitName(unitOf(parameter), inch),
        isNeeded: parameter.needed === true,
        ...(parameter.fallback !== undefined && { fallback: inProgramUnits(parameter, parameter.fallback, inch) }),
        ...('choices' in parameter && { choices: parameter.choices }),
        ...(parameter.onlyWith !== undefined && { onlyWith: parameter.onlyWith }),
        ...(parameter.name === 'material' && { suggestions: MATERIALS }),
        ...(isShared(kind, parameter) && { isShared: true }),
      }),
    );
  return { name: kind.name, title: kind.title, summary: kind.summary, inch, fields };
};

const hasOperations = ({ parameters }: BlockKind): boolean => parameters.some(({ name }) => name === 'operations');

/** A value of the block as a whole that each of its operations has too. */
const isShared = (kind: BlockKind, { name }: Parameter): boolean =>
  hasOperations(kind) &&
  kind.parameters.some((other) => other.name.endsWith(`.${name}`)) &&
  OF_THE_FIRST.includes(name);

const labelOf = (kind: BlockKind, { name, label }: Parameter): string =>
  hasOperations(kind) && OF_THE_FIRST.includes(name) ? `${label}, first tool` : label;

const unitOf = (parameter: Parameter): ParameterUnit => {
  if (parameter.kind === 'number' || parameter.kind === 'pair') return parameter.unit;
  return parameter.kind === 'point' || parameter.kind === 'points' ? 'mm' : '';
};

/** Makes the block of the form's values, and says what else counts for it. */
export const formResult = (kind: BlockKind, values: FormValues, context: BlockContext): FormResult => {
  const { typed, kept, isRevised } = values;
  const inch = context.entry.units === 'inch';
  const written = Object.fromEntries(
    Object.entries(typed)
      .filter(([, value]) => value.trim() !== '')
      .map(([name, value]) => [name, name === 'radius' ? halved(value) : value]),
  );
  const own = inch ? toMillimetres(kind.parameters, written) : written;
  const given = isRevised ? {} : defaultsFor(kind, context, own);
  const names = new Set(kind.parameters.map(({ name }) => name));
  const counting = Object.entries(kept).filter(
    ([name]) => names.has(name) && given[name] === undefined && !isOverruled(name, own),
  );
  const raw = { ...Object.fromEntries(counting), ...own };
  const result = generateBlock(kind, raw, context, { withoutDefaults: isRevised });
  const shown = (name: string, value: string): string => {
    const parameter = kind.parameters.find((candidate) => candidate.name === name);
    return parameter === undefined ? value : inProgramUnits(parameter, value, inch);
  };
  const hintFacts = factsWithoutHolder(kind, result, context, isRevised) ?? result.facts;
  return {
    ...result,
    ...hintsOf({ kind, raw: result.raw, given, result: { ...result, facts: hintFacts }, inch }),
    given: Object.fromEntries(
      Object.entries(given).map(([name, value]) => [
        name,
        { value: shown(name, value), from: sourceOf(name, context) },
      ]),
    ),
    kept: Object.fromEntries(counting.map(([name, value]) => [name, shown(name, value)])),
  };
};

/**
 * While it is not said what holds the tap, nothing can be computed: the values that are taken meanwhile are those of a
 * synchronised holder. Undefined where a holder is given, or none is asked for.
 */
const factsWithoutHolder = (
  kind: BlockKind,
  { problems, raw }: GenerationResult,
  context: BlockContext,
  isRevised: boolean,
): GenerationResult['facts'] | undefined => {
  const missing = problems.find(({ parameter = '' }) => HOLDER.test(parameter) && raw[parameter] === undefined);
  if (missing?.parameter === undefined) return undefined;
  const trial = { ...raw, [missing.parameter]: 'synchronised' };
  return generateBlock(kind, trial, context, { withoutDefaults: isRevised }).facts;
};

const HOLDER = /^(?:tap\.)?holder$/;

/** A speed of last time gives way to a cutting speed that is typed now, and the other way round. */
const isOverruled = (name: string, typed: RawValues): boolean => {
  const other = /(^|\.)speed$/.test(name)
    ? name.replace(/speed$/, 'cutting-speed')
    : name.replace('cutting-speed', 'speed');
  return other !== name && typed[other] !== undefined;
};

const sourceOf = (name: string, { configuration, tool }: BlockContext): string => {
  if (name === 'speed') return 'program';
  if (['material', 'top', 'stock'].includes(name)) return 'shop’s file';
  if (name === 'holder' && tool?.row?.holder === undefined && configuration.holder !== undefined) return 'shop’s file';
  const isOfRemark =
    (name === 'tool' && tool?.row?.diameter === undefined) || (name === 'flutes' && tool?.row?.teeth === undefined);
  return tool !== undefined && isOfRemark ? 'tool’s remark' : 'tool table';
};

/** A value in mm as it is typed in a program that counts in inches; what has no length stays as it is. */
const inProgramUnits = (parameter: Parameter, value: string, inch: boolean): string => {
  const factor = inch ? inchFactorOf(parameter) : 1;
  if (factor === 1) return value;
  return value.replace(/([-+]?(?:\d+\.?\d*|\.\d+))\s*(mm|in|")?/gi, (_, digits: string, unit?: string) =>
    short(unit === undefined || unit.toLowerCase() === 'mm' ? Number(digits) / factor : Number(digits), 5),
  );
};

/** Text of a program, line by line. */
interface Lines {
  readonly lineCount: number;
  lineText(line: number): string;
}

/** The generated block that a line belongs to; `edited`: its body is not the one that was generated, or nothing tells. */
export interface BlockHere {
  readonly name: string;
  readonly firstLine: number;
  readonly lastLine: number;
  /** In mm. */
  readonly values: RawValues;
  readonly edited: boolean;
}

/** The block whose remarks stand about a line, those included; undefined where none does. */
export const blockHere = (text: Lines, line: number): BlockHere | undefined => {
  const markers: { line: number; text: string }[] = [];
  for (let i = 0; i < text.lineCount; i++) {
    const one = text.lineText(i);
    if (MARKER_SIGN.test(one)) markers.push({ line: i, text: one });
  }
  const found = readMarkers(markers).blocks.find(({ firstLine, lastLine }) => firstLine <= line && line <= lastLine);
  if (found === undefined) return undefined;
  const { name, firstLine, bodyLine, lastLine, raw, body } = found;
  const lines: string[] = [];
  for (let i = bodyLine; i < lastLine; i++) lines.push(text.lineText(i));
  return { name, firstLine, lastLine, values: raw, edited: body !== bodyCheck(lines) };
};

/** True if a line holds no words: a block can take its place. A sequence number alone is none. */
export const isFree = (text: Lines, line: number): boolean =>
  line < text.lineCount && /^\s*(?:N\s*\d+\s*)?$/i.test(text.lineText(line));
