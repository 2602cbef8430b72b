/** From parameters to a proved block: read, compute, write, execute, compare. */
import type { BlockKind } from './blockKind.ts';
import { BlockWriter, remarkLength } from './blockWriter.ts';
import type { BlockContext } from './context.ts';
import { defaultsFor } from './defaults.ts';
import { closingRemark, openingRemarks } from './markers.ts';
import type { Parameter, Problem, RawValues } from './parameter.ts';
import { type BlockFact, BlockPlan } from './plan.ts';
import { prove } from './prove.ts';
import { inchFactor, readValues, short } from './readValues.ts';

/** A block, or why there is none. Facts and words are there in both cases, as far as they could be computed. */
export interface GenerationResult {
  /** Lines of the block; undefined where problems keep it from being written. */
  readonly lines: readonly string[] | undefined;
  readonly problems: readonly Problem[];
  readonly words: readonly Problem[];
  readonly facts: readonly BlockFact[];
  readonly cautions: readonly string[];
  /** Values that the marker carries, in mm: those that are not the static defaults. */
  readonly raw: RawValues;
}

/** How values are read. */
export interface GenerationOptions {
  /** Bare numbers are in the program's units (the form), not always in mm (command line, markers). */
  readonly inProgramUnits?: boolean;
  /** Leaves out the defaults that program and tool table give: the values are a marker's and stand for themselves. */
  readonly withoutDefaults?: boolean;
}

/**
 * Makes a block. Pure: nothing is looked at but what is handed in. `raw` are values as typed; what is missing is taken from
 * tool table and program (`defaultsFor`), then from the parameter's own default.
 */
export const generateBlock = (
  kind: BlockKind,
  raw: RawValues,
  context: BlockContext,
  options: GenerationOptions = {},
): GenerationResult => {
  const inch = options.inProgramUnits === true && context.entry.units === 'inch';
  const typed = Object.fromEntries(Object.entries(raw).filter(([, value]) => value.trim() !== ''));
  const inMillimetres = inch ? toMillimetres(kind.parameters, typed) : typed;
  const defaults = options.withoutDefaults === true ? {} : defaultsFor(kind, context, inMillimetres);
  const all = { ...defaults, ...inMillimetres };
  const { values, problems } = readValues(kind.parameters, all, inch);
  const plan = new BlockPlan(context);
  plan.problems.push(...problems);
  const isPart = kind.isPart === true || kind.isPartWith?.(all) === true;
  if (context.entry.obstacle !== undefined && !isPart) {
    plan.problem(
      undefined,
      `No block can stand here: ${context.entry.obstacle}. Put the cursor before or behind that part of the program.`,
    );
  }
  // A generator may count on every needed value; without them there is nothing to compute.
  const isReadable = problems.length === 0;
  if (isReadable && !isPart && standsAtZero(kind.parameters, all)) {
    plan.fact('place', 'Stands at', 'X0 Y0, since no place is given');
  }
  const write = isReadable ? kind.plan(values, plan) : undefined;
  const marked = ownValues(kind.parameters, all);
  const lines =
    write === undefined || plan.problems.length > 0
      ? undefined
      : isPart
        ? writePart(plan, write)
        : writeBlock(kind, marked, plan, write, values.optionalText('coolant'));
  if (lines !== undefined) plan.problems.push(...prove(lines, plan, isPart));
  return {
    lines: plan.problems.length > 0 ? undefined : lines,
    problems: plan.problems,
    words: plan.words,
    facts: plan.facts,
    cautions: plan.cautions,
    raw: marked,
  };
};

/** A part of a program: as it is. */
const writePart = (plan: BlockPlan, write: (writer: BlockWriter) => void): string[] => {
  const writer = new BlockWriter(plan.context);
  write(writer);
  return writer.lines;
};

const writeBlock = (
  kind: BlockKind,
  raw: RawValues,
  plan: BlockPlan,
  write: (writer: BlockWriter) => void,
  coolant: string | undefined,
): string[] => {
  const writer = new BlockWriter(plan.context, plan.coolant ?? coolant);
  for (const line of plan.cautions) writer.remark(line);
  writer.setModes();
  write(writer);
  writer.restore(plan.endHeight ?? Number.NaN);
  const head = new BlockWriter(plan.context);
  for (const line of openingRemarks(kind.name, raw, remarkLength(head.profile))) head.remark(line);
  const foot = new BlockWriter(plan.context);
  foot.remark(closingRemark(kind.name, raw, writer.lines));
  return [...head.lines, ...writer.lines, ...foot.lines];
};

/** No place was given to a block that takes one. */
const standsAtZero = (parameters: readonly Parameter[], all: RawValues): boolean =>
  parameters.some(({ name }) => name === 'at') && all.at === undefined && all.centre === undefined;

/** What the marker carries: everything that is not the parameter's own default, in the order of the parameters. */
const ownValues = (parameters: readonly Parameter[], all: RawValues): RawValues => {
  const entries = parameters
    .filter(({ name, fallback }) => all[name] !== undefined && all[name] !== fallback)
    .map(({ name }): [string, string] => [name, plain(all[name])]);
  return Object.fromEntries(entries);
};

/** Capitals of plain letters, one space at most, as a marker takes them. */
const plain = (value: string): string =>
  value.normalize('NFD').replace(/\p{M}/gu, '').replace(/[()#]/g, '').replace(/"/g, ' IN').replace(/\s+/g, ' ').trim();

/** Values typed in inches as values in mm, where they can be read; others as they are, so that the reader tells of them. */
export const toMillimetres = (parameters: readonly Parameter[], raw: RawValues): Record<string, string> => {
  const result: Record<string, string> = {};
  for (const [name, value] of Object.entries(raw)) {
    const parameter = parameters.find((candidate) => candidate.name === name);
    result[name] = parameter === undefined ? value : inMillimetres(parameter, value);
  }
  return result;
};

const inMillimetres = (parameter: Parameter, value: string): string => {
  const factor = inchFactorOf(parameter);
  if (factor === 1) return value;
  return value.replace(/([-+]?(?:\d+\.?\d*|\.\d+))\s*(mm|in|")?/gi, (_, digits: string, unit?: string) =>
    short(Number(digits) * (unit?.toLowerCase() === 'mm' ? 1 : unit === undefined ? factor : 25.4), 6),
  );
};

/** mm (or m/min) in one inch unit of a parameter; 1 where inches change nothing. */
export const inchFactorOf = (parameter: Parameter): number => {
  if (parameter.kind === 'point' || parameter.kind === 'points') return 25.4;
  if (parameter.kind !== 'number' && parameter.kind !== 'pair') return 1;
  return inchFactor(parameter.unit);
};
