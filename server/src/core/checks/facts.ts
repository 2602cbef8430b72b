/**
 * Facts: what a segment tells the rules that look across the whole program. Relative to the segment's first line, so that
 * they stay true when lines are inserted above.
 */
import type { Configuration } from '../machine/configuration.ts';
import type { ModePool } from '../machine/modes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import type { FlowStop } from './flow/follow.ts';
import type { ProgramLayout } from './flow/layout.ts';
import type { Fix, MessageData } from './rule.ts';
import type { Segment } from './segment.ts';

/** Kinds of facts with the meaning of their numbers. */
export const FactKind = {
  /** `%`. */
  tapeMark: 0,
  /** M2 or M30 executed. a = code. */
  programEnd: 1,
  /** O number. a = number. */
  programNumber: 2,
  /** A jump or call to a sequence number. a = number, text = `return` where M99 goes to it in the caller, `call` for a call. */
  jumpTarget: 3,
  /** An M code that is not known. a = code. */
  unknownM: 4,
  /** Something that is not executed yet. text = kind. */
  notExecuted: 5,
  /** A number without a decimal point where the profile counts increments. a = word index. */
  pointMissing: 6,
  /** A number with a decimal point where the profile counts increments (first of the segment only). */
  pointUsed: 7,
  /** A hole made by a cycle or by in-and-out moves. a, b, c = X Y Z of its bottom (work coordinates, mm), d = tool, e = offset, text = cycle. */
  hole: 8,
  /** Words behind the program's end. */
  afterEnd: 9,
  /** A tool was changed. a = number, text = remark. */
  toolChange: 10,
  /** M99 or M17. a = code. */
  subprogramEnd: 11,
  /** A work offset was selected. */
  offsetSelected: 12,
  /** A remark that silences rules. text = the remark; a = 1 if it stands alone on its line. */
  ignore: 13,
  /** An arc that doubles back on both its neighbours. text = its direction. Made on demand. */
  arcAgainst: 14,
  /** First cut since tool or tool length were changed. a = tool, b = 43, 44 or 49, c = H; text = kind of the tool's remark. */
  toolCut: 16,
  /** A tool length is called. a = H, b = the tool in the spindle; text = `computed` where H is no plain number. The place is the word. */
  lengthCall: 17,
  /** A subprogram or macro is called. a = its program number, −1 where the block names none; b = 1 where the call stands in another file and the place is that of the outermost call. */
  callTarget: 15,
  /** The first cut of a program, or since a change of units. a = bits of `Given`, b = units (20, 21), text = `program` for a program's first, `program zero` where the program set its zero itself. */
  firstCut: 18,
  /** G20 or G21. a = 20 or 21. */
  units: 19,
  /** An arc, a cycle or another word that needs a plane, and none was given so far. text = what needs it. */
  planeNeeded: 20,
  /** G41 or G42. a = D in force (−1 none), b = tool (−1 unknown), c = 1 if D is in the block, text = the code. */
  radiusCompensation: 21,
  /** An own variable is read that nothing set, outside macros. text = its name. */
  parameterUnset: 22,
  /** A remark of a generated block: it opens one, goes on with its values, or closes it. */
  blockMarker: 23,
} as const;

/** One fact. */
export interface Fact {
  readonly kind: (typeof FactKind)[keyof typeof FactKind];
  /** Line counted from the segment's first line; in `ProgramFacts` the line of the program. */
  readonly line: number;
  /** 0-based columns of the place. */
  readonly column: number;
  readonly endColumn: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly text: string;
}

/** The loop that a run was in when it was ended. */
export interface LoopStop {
  /** Its first line, and how many passes it had. */
  readonly line: number;
  readonly passes: number;
  /** What its condition reads, such as `#1 = 3`, and the condition's text. */
  readonly values: readonly string[];
}

/** A segment in the order of the run, with the program's line that it begins at. */
export interface Passage {
  readonly segment: Segment;
  readonly firstLine: number;
}

/** All facts of a program in order, with the lines of the program. */
export interface ProgramFacts {
  readonly profile: ControlProfile;
  readonly configuration: Configuration;
  /** Modes and strings that moves and segments refer to. */
  readonly pool: ModePool;
  /**
   * All segments in the order of the run. What a rule finds in a segment may be kept by segment in a `WeakMap`: a
   * segment never changes once it was run.
   */
  passages(): Iterable<Passage>;
  readonly lineCount: number;
  /** Line from which on nothing was executed because the path got too long; −1 where all of it was. */
  readonly cutOffLine: number;
  /** Why a run with jumps or calls ended before the program did; undefined where it did not. `values` are those of the loop's condition. */
  readonly stop:
    | (Pick<FlowStop, 'kind' | 'number' | 'text'> & { readonly line: number; readonly loop: LoopStop | undefined })
    | undefined;
  /** True where jumps, loops or calls were carried out. */
  readonly inFlow: boolean;
  /** Text of a called program's own file; undefined where it is in this text, or nowhere. */
  fileOfProgram(number: number): string | undefined;
  /** O numbers, sequence numbers and loops as they are written. Costs a look at every line: only for programs in flow. */
  readonly layout: ProgramLayout;
  /** True if a subprogram with this number is in this text or in a file that can be found. */
  isKnownProgram(number: number): boolean;
  /** Facts of one kind, in order. */
  of(kind: Fact['kind']): readonly Fact[];
  /** Lines (0-based, ascending) whose block carries sequence number `number`. Scans; only for numbers something jumps to. */
  linesOfSequenceNumber(number: number): readonly number[];
  /** True for a file that ends in M99 or M17 and neither changes a tool nor selects an offset. */
  readonly isSubprogramFile: boolean;
  /** Text of a line. */
  lineText(line: number): string;
}

/** Reports a finding of a program rule at a line of the program. */
export type ProgramReport = (
  message: string,
  line: number,
  column: number,
  endColumn: number,
  data?: MessageData,
  fixes?: readonly Fix[],
) => void;
