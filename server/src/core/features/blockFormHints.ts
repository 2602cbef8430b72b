/**
 * What a form shows beside what is typed: values that are taken where a field is empty, with where they come from; short
 * words on a field; and problems as they are told at a form, where things are ticked and not written with commas.
 */
import type { BlockKind } from '../blocks/blockKind.ts';
import type { GenerationResult } from '../blocks/generate.ts';
import { USUAL_CLEARANCE } from '../blocks/holeParameters.ts';
import type { Parameter, Problem, RawValues } from '../blocks/parameter.ts';
import type { BlockFact } from '../blocks/plan.ts';
import { readThread, short, unitName } from '../blocks/readValues.ts';
import { materialGroup } from '../reference/materials.ts';
import { tapDrillOf } from '../reference/tapDrills.ts';

/** A value in the program's units that is taken where the field is empty. */
export interface TakenValue {
  readonly value: string;
  /** Where it comes from: "from the thread M5"; empty where the field's own help says it. */
  readonly from: string;
}

/** See the top of the file; by parameter name. */
export interface FormHints {
  readonly taken: Readonly<Record<string, TakenValue>>;
  readonly notes: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
}

/** What hints are made of. `raw` are all values that count, in mm; `given` those of them that program and tables give. */
export interface HintSource {
  readonly kind: BlockKind;
  readonly raw: RawValues;
  readonly given: RawValues;
  readonly result: GenerationResult;
  readonly inch: boolean;
}

/** Materials to choose from; any other name may be typed. */
export const MATERIALS: readonly string[] = [
  'aluminium',
  'cast aluminium',
  'brass',
  'bronze',
  'copper',
  'plastic',
  'steel',
  'alloyed steel',
  'stainless steel',
  'hard steel',
  'cast iron',
  'titanium',
  'heat-resistant alloy',
];

/** The hints to a form's values. */
export const hintsOf = (source: HintSource): FormHints => ({
  taken: takenValues(source),
  notes: notesOf(source),
  problems: problemsAtForm(source),
});

const wordOf = ({ kind, raw }: HintSource, name: string): string =>
  (raw[name] ?? kind.parameters.find((parameter) => parameter.name === name)?.fallback ?? '').toLowerCase();

const operationsOf = (source: HintSource): string[] => wordOf(source, 'operations').split(/[\s,;]+/);

const factOf = ({ result: { facts } }: HintSource, name: string): BlockFact | undefined =>
  facts.find((fact) => fact.name === name);

const numberOf = (source: HintSource, name: string): number => Number.parseFloat(factOf(source, name)?.text ?? '');

// --- values that are taken ---

const takenValues = (source: HintSource): Record<string, TakenValue> => {
  const { kind, raw, given, inch } = source;
  const taken: Record<string, TakenValue> = {};
  for (const parameter of kind.parameters) {
    const { name } = parameter;
    if (raw[name] !== undefined || parameter.fallback !== undefined) continue;
    const value = ofFact(parameter, factOf(source, name)?.text ?? '', inch);
    if (value !== '') taken[name] = { value, from: originOf(source, name) };
  }
  if (kind.parameters.some(({ name }) => name === 'operations')) Object.assign(taken, takenByOperations(source));
  for (const name of Object.keys(taken)) if (raw[name] !== undefined || given[name] !== undefined) delete taken[name];
  return taken;
};

/** The number of a computed value that has the field's unit: "4 mm (40 %)" is 40 in a field of per cents. */
const ofFact = (parameter: Parameter, text: string, inch: boolean): string => {
  if (parameter.kind !== 'number') return '';
  const unit = unitName(parameter.unit, inch);
  for (const [, digits, own] of text.matchAll(/(-?\d+(?:\.\d+)?)\s*([^\s\d();,]*)/g)) if (own === unit) return digits;
  return '';
};

const originOf = (source: HintSource, name: string): string => {
  const first = operationsOf(source)[0];
  const [, own] = /^(?:[a-z]+\.)?([a-z-]+)$/.exec(name) ?? [];
  const shared = name === `${first}.${own}` ? source.raw[own] : undefined;
  if (shared !== undefined) return source.given[own] === undefined ? '' : 'from the program';
  if (own === 'feed' && !name.startsWith('tap.')) return chipWords(source, name);
  return '';
};

/** "4 teeth × 0.061 mm" of the computed feed: how many teeth were taken is nowhere asked in some blocks. */
const chipWords = (source: HintSource, name: string): string => {
  const prefix = name.slice(0, -'feed'.length);
  const [feed, speed, load] = ['feed', 'speed', 'chip-load'].map((fact) => numberOf(source, prefix + fact));
  const teeth = Math.round(feed / (speed * load));
  if (!(teeth >= 1)) return '';
  return `${teeth === 1 ? '1 edge' : `${teeth} ${prefix === 'drill.' ? 'edges' : 'teeth'}`} × ${short(load, 4)} ${source.inch ? 'in' : 'mm'}, by diameter only`;
};

const goesThrough = (source: HintSource): boolean =>
  wordOf(source, 'drill.through') === 'yes' || wordOf(source, 'tap.hole') === 'through';

/** What the operations of a row of holes take from each other. */
const takenByOperations = (source: HintSource): Record<string, TakenValue> => {
  const operations = operationsOf(source);
  const taken: Record<string, TakenValue> = {};
  const diameter = drillDiameter(source, operations);
  if (operations.includes('drill') && diameter !== undefined) taken['drill.diameter'] = diameter;
  const depth =
    numberOf(source, 'drill.tip') - numberOf(source, 'drill.point') - (numberOf(source, 'drill.breakout') || 0);
  const from = followingWords(source, operations);
  // Facts are rounded: their difference is good for one place less.
  // Before what follows is whole, its number is not known yet.
  if (operations.includes('drill') && from !== '')
    taken['drill.depth'] = { value: depth > 0 ? short(depth, source.inch ? 3 : 2) : '', from };
  const peck = peckOf(source);
  if (peck !== '') taken['drill.peck'] = { value: peck, from: peck === '0' ? 'in one go' : 'by depth and diameter' };
  taken['tap.hole'] = {
    value: wordOf(source, 'drill.through') === 'yes' ? 'through' : 'blind',
    from: operations.includes('drill') ? 'as the drill' : '',
  };
  const clearance = short(USUAL_CLEARANCE / (source.inch ? 25.4 : 1), 4);
  taken.clearance = { value: clearance, from: operations.includes('tap') ? 'more for the tap where it needs it' : '' };
  return taken;
};

/** Depth of one peck as the fact on the drill's way has it, "0" for none; empty where it is not known. */
const peckOf = (source: HintSource): string => {
  const way = factOf(source, 'drill.form')?.text;
  return way === undefined ? '' : (/in pecks of ([\d.]+)/.exec(way)?.[1] ?? '0');
};

const drillDiameter = (source: HintSource, operations: readonly string[]): TakenValue | undefined => {
  const { inch, raw } = source;
  if (operations.includes('tap')) {
    const thread = readThread(raw['tap.thread'] ?? '');
    const drill = thread && tapDrillOf(thread, wordOf(source, 'tap.forming') === 'yes');
    if (thread === undefined || drill === undefined) return undefined;
    return { value: short(drill.diameter / (inch ? 25.4 : 1), inch ? 4 : 3), from: threadWords(source) };
  }
  const stock = numberOf(source, 'ream.stock');
  const reamer = Number(raw['ream.diameter']) / (inch ? 25.4 : 1);
  const isReamed = operations.includes('ream') && !operations.includes('bore') && stock > 0 && reamer > stock;
  return isReamed ? { value: short(reamer - stock, inch ? 4 : 3), from: 'from the reamer' } : undefined;
};

const threadWords = ({ raw }: HintSource): string =>
  `from the thread ${(raw['tap.thread'] ?? '').toUpperCase()}`.trim();

/** What the drill goes as deep as. */
const followingWords = (source: HintSource, operations: readonly string[]): string => {
  if (operations.includes('tap'))
    return `${threadWords(source)}${wordOf(source, 'tap.holder') === '' ? ', more with a float' : ''}`;
  if (operations.includes('ream')) return 'from the reamer';
  return operations.includes('bore') ? 'from the bar' : '';
};

// --- words on fields ---

const PLACES: Readonly<Record<string, string>> = {
  row: 'the first hole',
  grid: 'the lower left hole',
  frame: 'the lower left hole',
  circle: 'the centre of the circle',
};

const notesOf = (source: HintSource): Record<string, string> => ({
  ...(source.kind.parameters.some(({ name }) => name === 'pattern') ? patternNotes(source) : {}),
  ...(source.kind.parameters.some(({ name }) => name === 'drill.breakout') && !goesThrough(source)
    ? { 'drill.breakout': 'for through holes only' }
    : {}),
  ...rangeNotes(source),
});

/** A value of the marker in mm: a bare number, or one with its unit. */
const millimetres = (text: string): number => Number.parseFloat(text) * (/(?:in|")\s*$/i.test(text) ? 25.4 : 1);

const patternNotes = (source: HintSource): Record<string, string> => {
  const { raw, inch } = source;
  const pattern = wordOf(source, 'pattern');
  const notes: Record<string, string> = {};
  if (PLACES[pattern] !== undefined) notes.at = PLACES[pattern];
  if (pattern === 'circle') {
    const radius = millimetres(raw.radius ?? '') / (inch ? 25.4 : 1);
    notes.radius =
      radius > 0 ? `Ø ${short(2 * radius, inch ? 4 : 3)} ${unitName('mm', inch)}` : 'half of Ø; D50 is taken as Ø 50';
    notes.start = 'from X+, counter-clockwise';
    notes.sweep = 'counter-clockwise, minus clockwise';
  } else if (pattern !== 'list') {
    notes.angle = 'from X+, counter-clockwise';
  }
  if (pattern === 'grid' || pattern === 'frame')
    Object.assign(notes, { count: 'along,across: 4,3', spacing: 'along,across: 10,12' });
  return notes;
};

/** Usual cutting speeds beside the field, and what a material would tell. */
const rangeNotes = (source: HintSource): Record<string, string> => {
  const { kind, raw } = source;
  if (!kind.parameters.some(({ name }) => name === 'material')) return {};
  const notes: Record<string, string> = {};
  const usual = /\((usual [^;)]*)/.exec(factOf(source, 'cutting-speed')?.text ?? '')?.[1];
  if (usual !== undefined) notes['cutting-speed'] = usual;
  const { material } = raw;
  if (material === undefined) {
    if (kind.name !== 'clear-tap') notes.material = 'choose it to see the usual cutting speeds';
  } else if (materialGroup(material) === undefined) {
    notes.material = 'in no table: speeds are not judged';
  }
  return notes;
};

// --- problems ---

/** Fields that are found by what follows, once that is whole. */
const FOUND_LATER = ['drill.diameter', 'drill.depth'];

const problemsAtForm = (source: HintSource): Problem[] => {
  const { kind, raw, result } = source;
  const problems = result.problems.map((problem): Problem => {
    const parameter = kind.parameters.find(({ name }) => name === problem.parameter);
    const isBare = parameter?.kind === 'choices' && (raw[parameter.name] ?? '').replace(/[\s,;]/g, '') === '';
    return isBare ? { ...problem, message: 'Tick one or more.' } : problem;
  });
  const isFollowed = problems.some(({ parameter }) => /^(?:tap|ream|bore)\./.test(parameter ?? ''));
  const isFoundLater = ({ parameter = '' }: Problem): boolean =>
    isFollowed && FOUND_LATER.includes(parameter) && raw[parameter] === undefined;
  return problems.filter((problem) => !isFoundLater(problem));
};

/** Millimetres (or inches) of a diameter that stands where a radius is asked: "D50", "Ø 50 mm"; others as they are. */
export const halved = (text: string): string => {
  const match = /^\s*[Øø⌀Dd]\s*(\d+\.?\d*|\.\d+|\d*,\d+)\s*(mm|in|")?\s*$/.exec(text);
  return match === null ? text : `${short(Number(match[1].replace(',', '.')) / 2, 6)}${match[2] ?? ''}`;
};
