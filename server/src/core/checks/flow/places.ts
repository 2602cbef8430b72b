/** Where a run with jumps and calls stands: texts, places in them, and the calls that are under way. */
import type { Ending } from '../../machine/calls.ts';
import { LOCAL_VARIABLES } from '../../machine/calls.ts';
import type { ControlProfile } from '../../machine/profile.ts';
import type { VariableName, Variables } from '../../syntax/variables.ts';
import { type LineChunk, splitIntoChunks } from '../../text/lineChunk.ts';
import { ProgramLayout } from './layout.ts';

/** Lines of a text that is executed. */
export interface FlowChunk {
  readonly text: LineChunk;
  readonly lineCount: number;
}

/** A text that is executed: the program itself, or the file of a subprogram. */
export interface FlowSource {
  readonly isMain: boolean;
  /** Number that a file of its own was found by. */
  readonly fileNumber?: number;
  readonly lineCount: number;
  readonly layout: ProgramLayout;
  /** The chunk that holds a line, and the line in it. */
  locate(line: number): { readonly chunk: FlowChunk; readonly line: number };
  /** First line of a chunk. */
  firstLineOf(chunk: FlowChunk): number;
}

/** A line of a chunk. It moves along when lines are inserted above it. */
export interface Spot {
  readonly source: FlowSource;
  readonly chunk: FlowChunk;
  line: number;
}

/** The line of a text that a spot is at. */
export const lineOfSpot = (spot: Spot): number => spot.source.firstLineOf(spot.chunk) + spot.line;

/** A call as a block asks for it. */
export type Call = Extract<Ending, { kind: 'call' }>;

/** A call that is under way. */
export interface Frame {
  readonly parent: Frame | undefined;
  readonly depth: number;
  readonly call: Call;
  /** Runs that follow this one. */
  readonly runsLeft: number;
  /** The line behind the call. */
  readonly back: Spot;
  /** The line of the program itself that the outermost call stands in. */
  readonly anchor: Spot;
  /** The caller's own variables #1 to #33, kept while a macro has its own; undefined for M98. */
  readonly saved: ReadonlyMap<VariableName, number> | undefined;
}

/** True where a macro runs, or something that a macro called. */
export const isInMacro = (frame: Frame | undefined): boolean => {
  for (let f = frame; f !== undefined; f = f.parent) if (f.saved !== undefined) return true;
  return false;
};

const sameMap = (a: ReadonlyMap<unknown, number> | undefined, b: ReadonlyMap<unknown, number> | undefined): boolean => {
  if (a === b) return true;
  if (a === undefined || b === undefined || a.size !== b.size) return false;
  for (const [key, value] of a) if (!Object.is(b.get(key), value)) return false;
  return true;
};

/** True if two calls under way are alike in everything that what follows can depend on. */
export const sameFrames = (a: Frame | undefined, b: Frame | undefined): boolean => {
  let [x, y] = [a, b];
  while (x !== y) {
    if (x === undefined || y === undefined || x.runsLeft !== y.runsLeft || x.call.number !== y.call.number)
      return false;
    if (x.call.isSequenceNumber !== y.call.isSequenceNumber || !sameMap(x.call.values, y.call.values)) return false;
    if (!sameMap(x.saved, y.saved) || x.back.chunk !== y.back.chunk || x.back.line !== y.back.line) return false;
    x = x.parent;
    y = y.parent;
  }
  return true;
};

/** The variables that belong to the level that runs. */
export const localVariables = (variables: Variables): Map<VariableName, number> => {
  const locals = new Map<VariableName, number>();
  for (let number = 1; number <= LOCAL_VARIABLES; number++) {
    const value = variables.get(number);
    if (value !== undefined) locals.set(number, value);
  }
  return locals;
};

/** Gives the level that runs these variables and no others. */
export const setLocalVariables = (variables: Variables, values: ReadonlyMap<VariableName, number>): void => {
  for (let number = 1; number <= LOCAL_VARIABLES; number++) {
    const value = values.get(number);
    if (!Object.is(variables.get(number), value)) variables.set(number, value);
  }
};

/** The file of a subprogram, cut into chunks. */
export class SubprogramFile implements FlowSource {
  readonly isMain = false;
  readonly fileNumber: number;
  readonly lineCount: number;
  readonly layout: ProgramLayout;
  private readonly chunks: readonly FlowChunk[];
  private readonly firstLines: readonly number[];

  /** `fileNumber`: the program number that the file was found by. */
  constructor(text: string, profile: ControlProfile, fileNumber: number) {
    this.fileNumber = fileNumber;
    const pieces = splitIntoChunks(text, true);
    this.chunks = pieces.map((piece) => ({ text: piece, lineCount: piece.lineCount }));
    const firstLines: number[] = [];
    let line = 0;
    for (const { lineCount } of pieces) {
      firstLines.push(line);
      line += lineCount;
    }
    this.firstLines = firstLines;
    this.lineCount = line;
    this.layout = new ProgramLayout(pieces, (index) => firstLines[index], line, profile);
  }

  locate(line: number): { chunk: FlowChunk; line: number } {
    let index = this.firstLines.length - 1;
    while (index > 0 && this.firstLines[index] > line) index--;
    return { chunk: this.chunks[index], line: line - this.firstLines[index] };
  }

  firstLineOf(chunk: FlowChunk): number {
    return this.firstLines[this.chunks.indexOf(chunk)] ?? 0;
  }
}
