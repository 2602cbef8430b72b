/** What a path comes to as a whole, for legend, playback and words: tool sections, stops, work offsets, time and lengths. */
import { isAtLeastZero, isFields, isListOf, isNumber, isWhole } from './pathRequestChecks.ts';

/** A place on the path: a vertex of a piece in the same list. */
export interface PathPlace {
  /** Id of the piece. */
  readonly piece: number;
  readonly vertex: number;
}

/** The cutter as the tool table or the remark at its change describes it. Lengths mm, angles degrees. */
export interface PathTool {
  /** Number in the program, −1 unknown. */
  readonly number: number;
  /** The tool table's words, else the remark's; empty where there are none. */
  readonly description: string;
  /** Kind of tool as the tool table writes it, such as `end-mill`. */
  readonly kind?: string;
  readonly diameter?: number;
  readonly cornerRadius?: number;
  readonly pointAngle?: number;
  readonly fluteLength?: number;
  readonly length?: number;
}

/** One stretch of the run without a tool change. A tool that comes back has another section. */
export interface PathSection {
  readonly tool: PathTool;
  /** Line of its tool change, or of its first move where it has none; from 0. */
  readonly firstLine: number;
  /** The vertex that its first way starts at. It ends where the next one starts. */
  readonly start: PathPlace;
  /** Second of the run at which it begins, and how long it takes. */
  readonly startSeconds: number;
  readonly seconds: number;
  /** Length of the ways at feed, and of those at rapid, mm. */
  readonly cutLength: number;
  readonly rapidLength: number;
  /** Least X Y Z, greatest X Y Z of what is cut, work coordinates in mm; left out where nothing is. */
  readonly cutBounds?: readonly number[];
}

/** A place where the machine may stop: M0 (`stop`), M1 (`optional`), #3006 (`message`). Tool changes are the starts of the sections. */
export interface PathStop {
  readonly kind: 'stop' | 'optional' | 'message';
  readonly line: number;
  readonly at: PathPlace;
  /** Second of the run. */
  readonly seconds: number;
}

/** What a path comes to. Times are those of `trace`: nominal, waits included. */
export interface PathSummary {
  readonly seconds: number;
  readonly cutSeconds: number;
  readonly rapidSeconds: number;
  readonly waitSeconds: number;
  readonly cutLength: number;
  readonly rapidLength: number;
  /** Sections in the order of the run, and how many more there are than are listed. */
  readonly sections: readonly PathSection[];
  readonly moreSections: number;
  /** Work offsets by name (G54, G54.1 P3) in the order of their first move. */
  readonly offsets: readonly string[];
  readonly stops: readonly PathStop[];
  /** Moves at feed whose feed is not known: they count no time. */
  readonly untimed: number;
  /** Line from which the run goes no further, and why; left out where all of it is there. */
  readonly stopped?: { readonly line: number; readonly why: string };
}

const isPlace = (value: unknown): boolean => isFields(value) && isWhole(value.piece) && isWhole(value.vertex);

const isTool = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.number, -1) &&
  typeof value.description === 'string' &&
  (value.kind === undefined || typeof value.kind === 'string') &&
  [value.diameter, value.cornerRadius, value.pointAngle, value.fluteLength, value.length].every(
    (number) => number === undefined || isNumber(number),
  );

const isSection = (value: unknown): boolean =>
  isFields(value) &&
  isTool(value.tool) &&
  isWhole(value.firstLine) &&
  isPlace(value.start) &&
  [value.startSeconds, value.seconds, value.cutLength, value.rapidLength].every(isAtLeastZero) &&
  (value.cutBounds === undefined || isListOf(value.cutBounds, 6, isNumber));

const isStop = (value: unknown): boolean =>
  isFields(value) &&
  (value.kind === 'stop' || value.kind === 'optional' || value.kind === 'message') &&
  isWhole(value.line) &&
  isPlace(value.at) &&
  isAtLeastZero(value.seconds);

const isEnd = (value: unknown): boolean => isFields(value) && isWhole(value.line) && typeof value.why === 'string';

/** True if the value is a summary as the server sends it. */
export function isPathSummary(value: unknown): value is PathSummary {
  if (!isFields(value)) return false;
  const { seconds, cutSeconds, rapidSeconds, waitSeconds, cutLength, rapidLength, sections, offsets, stops } = value;
  const amounts = [seconds, cutSeconds, rapidSeconds, waitSeconds, cutLength, rapidLength];
  if (!amounts.every(isAtLeastZero) || !isWhole(value.moreSections) || !isWhole(value.untimed)) return false;
  if (!Array.isArray(sections) || !sections.every(isSection)) return false;
  if (!Array.isArray(offsets) || !offsets.every((name) => typeof name === 'string')) return false;
  if (!Array.isArray(stops) || !stops.every(isStop)) return false;
  return value.stopped === undefined || isEnd(value.stopped);
}
