/** What one operation over a pattern of holes is: its tool, its levels, its cycle. Lengths mm, levels Z. */
import type { ToolRow } from '../machine/configuration.ts';
import { type BlockWriter, formatLength, type Word } from './blockWriter.ts';
import type { Levels } from './commonParameters.ts';
import { type CutterData, feedFor, spindleSpeed } from './cuttingData.ts';
import { OF_THE_FIRST, type OperationName, operationLabel } from './holeParameters.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** A hole as the drill leaves it; depths are below the top. */
export interface DrilledHole {
  readonly diameter: number;
  /** Down to here it has its full diameter, without the breakout of a through hole. */
  readonly depth: number;
  readonly pointAngle: number;
  readonly isThrough: boolean;
  /** Length of the drill's point. */
  readonly point: number;
  /** Where the tip ends. */
  readonly tip: number;
}

/** What all operations of a block share. */
export interface HoleJob {
  readonly values: Values;
  readonly levels: Levels;
  readonly operations: readonly OperationName[];
  /** The code that says where the tool goes from hole to hole. */
  readonly between: 'G98' | 'G99';
  /** Undefined where no drilling is among the operations: the holes are there already. */
  readonly drilled: DrilledHole | undefined;
  /** Major diameter of the thread, where one is tapped. */
  readonly thread: number | undefined;
}

/** One operation that can be written. */
export interface HoleWork {
  readonly operation: OperationName;
  readonly toolNumber: number | undefined;
  /** The tool in the words of a remark. */
  readonly description: string;
  /** rev/min. */
  readonly speed: number;
  readonly hand?: 'right' | 'left';
  /** It starts the spindle itself. */
  readonly startsSpindle?: boolean;
  /** Widest diameter that it leaves. */
  readonly width: number;
  /** Lowest level that is programmed. */
  readonly bottom: number;
  /** Level that it begins and ends at. */
  readonly safe: number;
  /** Level that it goes from hole to hole at. */
  readonly across: number;
  /** Time at feed of one hole. */
  readonly seconds: number;
  /** How far the tool's centre leaves the hole's. */
  readonly aside?: number;
  /** From and to `safe` over the first and the last place; the spindle turns. */
  write(writer: BlockWriter, places: readonly Place[]): void;
}

/** Values of an operation by their short names; the first one takes the block's own tool, speed and feed too. */
export const valuesOf = (
  { values, operations }: Pick<HoleJob, 'values' | 'operations'>,
  operation: OperationName,
): Values => values.within(operation, ['material', ...(operations[0] === operation ? OF_THE_FIRST : [])]);

/** The tool table's row of the tool that an operation runs with, as far as it is known. */
export const rowOf = (
  own: Values,
  job: HoleJob,
  operation: OperationName,
  { context }: BlockPlan,
): ToolRow | undefined => {
  const number = own.optionalNumber('tool-number');
  if (number !== undefined) return context.configuration.tools.find((row) => row.number === number);
  return job.operations[0] === operation ? context.tool?.row : undefined;
};

/** Puts what an operation found into the block's plan, with the operation's name before the facts. */
export const mergePart = (plan: BlockPlan, part: BlockPlan, operation: OperationName): void => {
  plan.problems.push(...part.problems);
  plan.words.push(...part.words);
  plan.cautions.push(...part.cautions);
  for (const { name, label, text } of part.facts) {
    plan.facts.push({ name, label: `${operationLabel(operation)}: ${label[0].toLowerCase()}${label.slice(1)}`, text });
  }
};

/** A canned cycle of an operation. */
export interface HoleCycle {
  readonly code: string;
  /** Level of its bottom. */
  readonly bottom: number;
  /** Wait at the bottom, seconds. */
  readonly dwell?: number;
  readonly words?: readonly Word[];
  /** It comes out at feed too. */
  readonly feedsOut?: boolean;
  /** Pecks beyond the first, and how far above the depth reached each begins. */
  readonly again?: { readonly count: number; readonly above: number };
  readonly aside?: number;
}

/** An operation by a cutter and a cycle. */
export interface CycleTask {
  readonly operation: OperationName;
  readonly cutter: CutterData;
  readonly description: string;
  readonly width: number;
  readonly cycle: (speed: number) => HoleCycle;
}

/** Speed, feed and writing of an operation that is one canned cycle; undefined where speed or feed are missing. */
export const cycleWork = (own: Values, plan: BlockPlan, job: HoleJob, task: CycleTask): HoleWork | undefined => {
  const { operation, cutter } = task;
  const prefix = `${operation}.`;
  const speed = spindleSpeed(own, plan, cutter, prefix);
  const feed = speed === 0 && !own.has('feed') ? 0 : feedFor(own, plan, cutter, speed, prefix);
  if (speed === 0 || feed === 0) return undefined;
  const cycle = task.cycle(speed);
  const { clearance, retract } = job.levels;
  const seconds = secondsOf(cycle, clearance - cycle.bottom, feed);
  plan.fact(`${prefix}time`, 'Time at feed, each hole', `${seconds.toFixed(1)} s`);
  return {
    operation,
    toolNumber: own.optionalNumber('tool-number'),
    description: task.description,
    speed,
    width: task.width,
    bottom: cycle.bottom,
    safe: retract,
    across: job.between === 'G99' ? clearance : retract,
    seconds,
    ...(cycle.aside === undefined ? {} : { aside: cycle.aside }),
    write: (writer, places) => writeCycle(writer, places, job, cycle, feed),
  };
};

const secondsOf = ({ dwell = 0, feedsOut = false, again }: HoleCycle, way: number, feed: number): number => {
  const extra = again === undefined ? 0 : again.count * again.above;
  return ((feedsOut ? 2 * way : way) + extra) / (feed / 60) + dwell;
};

/** The cycle over all places: all its words at the first, which the control keeps, and the place alone at the others. */
const writeCycle = (
  writer: BlockWriter,
  places: readonly Place[],
  { levels: { clearance, retract }, between }: HoleJob,
  { code, bottom, dwell, words = [] }: HoleCycle,
  feed: number,
): void => {
  writer.changedMode(between, `G${writer.context.entry.retract}`);
  // Verbatim: the depth is where the cycle goes, and not where it leaves the tool.
  const depth = writer.word(['Z', bottom]);
  const wait = dwell === undefined ? [] : [writer.dwellWord(dwell)];
  const [[x, y]] = places;
  writer.block(between, code, ['X', x], ['Y', y], depth, ['R', clearance], ...words, ...wait, ['F', feed]);
  writer.furtherPlaces(places.slice(1));
  writer.block('G80');
  writer.rapid(['Z', retract]);
};

/** "D5." in the program's units, for the remark at a tool change. */
export const diameterWord = (diameter: number, { inch }: BlockPlan): string =>
  `D${formatLength(diameter / (inch ? 25.4 : 1), inch)}`;

/** Turns that a tool makes at the bottom of what it leaves round (common practice, no source). */
const TURNS_AT_BOTTOM = 3;

/** A wait of some turns at the bottom, seconds, in tenths. */
export const waitAtBottom = (speed: number): number =>
  Math.max(0.1, Math.ceil((TURNS_AT_BOTTOM * 60 * 10) / speed - 1e-9) / 10);

/** A value that the operation cannot do without; undefined with a problem where it is missing. */
export const needed = (
  own: Values,
  plan: BlockPlan,
  operation: OperationName,
  name: string,
  words: string,
): number | undefined => {
  const value = own.optionalNumber(name);
  if (value === undefined)
    plan.problem(`${operation}.${name}`, `${words} is missing. Give it in ${plan.inch ? 'inches' : 'mm'}.`);
  return value;
};
