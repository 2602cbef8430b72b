/** Where a block is to stand: the machine's modes at that line, the tool in the spindle, the shop's file. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration, ToolRow } from '../machine/configuration.ts';
import { Given, Mode } from '../machine/modes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { readToolRemark, type ToolKind } from '../reference/toolRemark.ts';

/** The modes in force where a block begins. */
export interface EntryState {
  readonly units: 'mm' | 'inch';
  /** 90 or 91. */
  readonly distance: number;
  /** 90 (G90.1) or 91. */
  readonly arcDistance: number;
  /** 17, 18 or 19. */
  readonly plane: number;
  /** 93, 94 or 95. */
  readonly feedMode: number;
  /** 98 or 99. */
  readonly retract: number;
  /** G number × 10 of the motion mode, −1 none. */
  readonly motion: number;
  /** G number × 10 of an active cycle, 0 none. */
  readonly cycle: number;
  /** F in mm/min (or as the feed mode says), S in rev/min; undefined where none is in force. */
  readonly feed: number | undefined;
  readonly speed: number | undefined;
  /** 3, 4, 5; 0 while none was given. */
  readonly spindle: number;
  /** Coolant that is on: 1 mist (M7), 2 flood (M8), 3 both, 0 none; left out where nobody knows. */
  readonly coolant?: number;
  /** Height over the work's zero, mm; undefined where it is not known. */
  readonly height: number | undefined;
  /** G number × 10 of the work offset that the program chose, 10000 + P for G54.1 P; left out where it chose none. */
  readonly offset?: number;
  /** G number × 10 of the path control (G61, G61.1, G64); left out: G64. */
  readonly pathControl?: number;
  /** True while M49 keeps the feed override from working. */
  readonly isOverrideLocked?: boolean;
  /** What keeps a block from standing here, in words that continue "here": "G41 is on", "scaling by G51 is on"; undefined where nothing does. */
  readonly obstacle: string | undefined;
  /** The program, or the subprogram before this place, has ended (M30, M2, M99); left out where there is no program to look at. */
  readonly ended?: boolean;
}

/** The cutter in the spindle, as far as table and remark tell. Lengths mm. */
export interface EntryTool {
  readonly number: number | undefined;
  readonly kind: ToolKind | undefined;
  readonly diameter: number | undefined;
  /** Left out where neither table nor remark says. */
  readonly teeth?: number;
  readonly row: ToolRow | undefined;
  /** Remark at its change, or the tool table's description. */
  readonly description: string;
}

/** All that a block may look at. */
export interface BlockContext {
  readonly configuration: Configuration;
  readonly entry: EntryState;
  readonly tool: EntryTool | undefined;
  /** First sequence number (N) that is free; undefined where blocks carry none. */
  readonly firstNumber: number | undefined;
  /** Numbers of variables that the program does not use, for loops. */
  readonly freeVariables: readonly number[];
  /** A program number (O) that the program neither uses nor calls. */
  readonly freeProgramNumber: number;
  /** The first program number that is called (M98) and is not in the text; left out where there is none. */
  readonly missingProgramNumber?: number;
  /** A tape mark (%) before this place waits for its second one. */
  readonly hasOpenTapeMark?: boolean;
}

/** Variables that survive no program end and belong to nobody, common on macro controls (common practice, no source). */
const FIRST_VARIABLE = 100;
const LAST_VARIABLE = 149;

/** A block that stands alone, as on the command line: the profile's modes at power-on, or other units. */
export const contextAlone = (configuration: Configuration, units?: 'mm' | 'inch'): BlockContext => {
  const { start } = configuration.profile;
  return {
    configuration,
    entry: {
      units: units ?? (start.units === 20 ? 'inch' : 'mm'),
      distance: start.distance,
      arcDistance: 91,
      plane: start.plane,
      feedMode: start.feedMode,
      retract: start.retract,
      motion: -1,
      cycle: 0,
      feed: undefined,
      speed: undefined,
      spindle: 0,
      height: undefined,
      obstacle: undefined,
    },
    tool: undefined,
    firstNumber: configuration.blockNumbers.write ? configuration.blockNumbers.start : undefined,
    freeVariables: range(FIRST_VARIABLE, LAST_VARIABLE),
    freeProgramNumber: 1000,
  };
};

/**
 * A block that is to stand before line `line` (from 0) of an executed program; at its end where `line` is its line count.
 * `replaced`: how many lines from there on it takes the place of, so that what they use counts as free.
 */
export const contextAt = (
  analysis: Analysis,
  line: number,
  configuration: Configuration,
  replaced = 0,
): BlockContext => {
  const alone = contextAlone(configuration);
  const last = analysis.lineCount - 1;
  const asked = Math.max(0, Math.min(line, last));
  const { isBehindEnd, ...names } = namesIn(analysis, Math.max(0, Math.min(line, last + 1)), configuration, replaced);
  if (!analysis.isReached(asked)) return { ...alone, ...names, entry: { ...alone.entry, ended: isBehindEnd } };
  const { modes, position } = line > last ? analysis.stateAfter(last) : analysis.stateBefore(asked);
  const known = (value: number): number | undefined => (value >= 0 ? value : undefined);
  return {
    ...alone,
    ...names,
    entry: {
      units: modes[Mode.units] === 20 ? 'inch' : 'mm',
      distance: modes[Mode.distance],
      arcDistance: modes[Mode.arcDistance],
      plane: modes[Mode.plane],
      feedMode: modes[Mode.feedMode],
      retract: modes[Mode.retract],
      motion: modes[Mode.motion],
      cycle: modes[Mode.cycle],
      feed: known(modes[Mode.feed]),
      speed: modes[Mode.speedMode] === 97 ? known(modes[Mode.speed]) : undefined,
      spindle: modes[Mode.spindle],
      coolant: modes[Mode.coolant],
      height: Number.isNaN(position[2]) ? undefined : position[2],
      ...((modes[Mode.given] & Given.offset) === 0 ? {} : { offset: modes[Mode.offset] }),
      pathControl: modes[Mode.pathControl],
      isOverrideLocked: (modes[Mode.given] & Given.overrideLocked) !== 0,
      obstacle: obstacleIn(modes),
      ended: isBehindEnd || modes[Mode.ended] === 1,
    },
    tool: toolIn(analysis, modes, configuration),
  };
};

const obstacleIn = (modes: Float64Array): string | undefined => {
  if (modes[Mode.ended] === 1) return 'the program has ended by M30 or M2';
  if (modes[Mode.radiusCompensation] !== 40) return `radius compensation by G${modes[Mode.radiusCompensation]} is on`;
  if (modes[Mode.cycle] > 0) return `the cycle G${modes[Mode.cycle] / 10} is active`;
  if (modes[Mode.scaling] === 1) return 'scaling or mirroring is on';
  if (modes[Mode.polar] === 1) return 'polar programming by G16 is on';
  if (modes[Mode.speedMode] === 96) return 'constant cutting speed by G96 is on';
  if (modes[Mode.modalMacro] >= 0) return 'a macro called by G66 is active';
  return undefined;
};

const toolIn = (analysis: Analysis, modes: Float64Array, { tools }: Configuration): EntryTool | undefined => {
  const number = modes[Mode.tool];
  const remark = analysis.modePool.string(modes[Mode.toolRemark]);
  const row = tools.find((candidate) => candidate.number === number);
  const read = remark === '' ? undefined : readToolRemark(remark, modes[Mode.units] === 20);
  if (number < 0 && read === undefined) return undefined;
  const teeth = row?.teeth ?? read?.teeth;
  return {
    number: number < 0 ? undefined : number,
    kind: row?.kind ?? read?.kind,
    diameter: row?.diameter ?? read?.diameter,
    ...(teeth === undefined ? {} : { teeth }),
    row,
    description: row?.description ?? remark,
  };
};

/** A line with words of a block, and one that ends a program or subprogram. */
const WORDS = /^(?:\s|\([^)]*\))*[A-Z#/]/i;
const END = /^[^(;]*M0*(?:30|2|99|17)(?!\d)/i;

const CALL = /^[^(;]*M0*98(?!\d)/i;

/** The program number of an M98; 0 where it is not plain. Some controls put the repeats before the last four digits of P. */
const calledNumber = (text: string, { subprogramRepeats }: ControlProfile): number => {
  const digits = /^[^(;]*P\s*(\d+)/i.exec(text)?.[1] ?? '0';
  return Number(subprogramRepeats === 'first-digits' && digits.length > 4 ? digits.slice(-4) : digits);
};

/** What the text uses already: sequence numbers before and behind the line, variables, program numbers. */
const namesIn = (
  analysis: Analysis,
  line: number,
  { blockNumbers, profile }: Configuration,
  replaced: number,
): Pick<
  BlockContext,
  'firstNumber' | 'freeVariables' | 'freeProgramNumber' | 'missingProgramNumber' | 'hasOpenTapeMark'
> & {
  readonly isBehindEnd: boolean;
} => {
  const variables = new Set<number>();
  const programs = new Set<number>();
  const called = new Set<number>();
  let before = 0;
  let highest = 0;
  let next = Number.POSITIVE_INFINITY;
  let tapeMarks = 0;
  let isBehindEnd = false;
  for (let i = 0; i < analysis.lineCount; i++) {
    if (i >= line && i < line + replaced) continue;
    const text = analysis.lineText(i);
    if (i < line && /^\s*%/.test(text)) tapeMarks++;
    if (i < line && WORDS.test(text)) isBehindEnd = END.test(text);
    const number = Number(/^\s*\/?\d?\s*N\s*(\d+)/i.exec(text)?.[1] ?? Number.NaN);
    if (!Number.isNaN(number)) {
      highest = Math.max(highest, number);
      if (i < line) before = number;
      else if (next === Number.POSITIVE_INFINITY) next = number;
    }
    if (text.includes('#')) for (const match of text.matchAll(/#(\d+)/g)) variables.add(Number(match[1]));
    if (CALL.test(text)) called.add(calledNumber(text, profile));
    const program = /^\s*[O:]\s*(\d+)/i.exec(text);
    if (program !== null) programs.add(Number(program[1]));
  }
  const { write, start, step } = blockNumbers;
  const following =
    before === 0 && highest === 0 ? start : next === Number.POSITIVE_INFINITY ? before + step : highest + step;
  let program = 1000;
  while (programs.has(program) || called.has(program)) program++;
  const missing = [...called].find((number) => number > 0 && !programs.has(number));
  return {
    firstNumber: write ? following : undefined,
    freeVariables: range(FIRST_VARIABLE, LAST_VARIABLE).filter((variable) => !variables.has(variable)),
    freeProgramNumber: program,
    ...(missing === undefined ? {} : { missingProgramNumber: missing }),
    hasOpenTapeMark: tapeMarks % 2 === 1,
    isBehindEnd,
  };
};

const range = (first: number, last: number): number[] => Array.from({ length: last - first + 1 }, (_, i) => first + i);
