/**
 * Executes the lines of one chunk: all of them, or only from the first changed line until the state is again what it was
 * there before. What lies before and behind is taken over from the old segment.
 */
import type { Ending } from '../machine/calls.ts';
import type { Configuration } from '../machine/configuration.ts';
import type { Executor } from '../machine/executor.ts';
import { AXIS_COUNT } from '../machine/letters.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { MoveTable } from '../machine/moves.ts';
import { systemVariable } from '../machine/systemVariables.ts';
import { lastTangent } from '../machine/tangent.ts';
import { Block, type FlowStatement } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import { sameVariables, Variables } from '../syntax/variables.ts';
import type { LineChunk } from '../text/lineChunk.ts';
import { type Fact, FactKind } from './facts.ts';
import { Judge } from './judge.ts';
import { PassNotes } from './passNotes.ts';
import { RepeatedFindings } from './repeatedFindings.ts';
import { LineFlag, type Segment, type SegmentEntry, type SegmentFinding } from './segment.ts';
import { type StopLine, stopLinesOf } from './stopLines.ts';

/** Which lines of a chunk changed: old lines [start, oldEnd) became new lines [start, newEnd). */
export interface ChangedLines {
  readonly start: number;
  readonly oldEnd: number;
  readonly newEnd: number;
}

/** How a stretch ended: at its last line, with a jump or loop, with a call or return, or with the program. */
export type StretchEnd =
  | { readonly kind: 'through' | 'over' }
  | {
      readonly kind: 'flow';
      readonly statement: FlowStatement['kind'];
      /** 1 true, 0 false, NaN not known. */
      readonly condition: number;
      readonly target: number;
    }
  | Ending;

/** Where a stretch lies in its chunk. */
export interface Stretch {
  readonly first: number;
  /** At most so many lines. */
  readonly most: number;
  readonly pass: number;
  /** False while the program is run straight on: then its end ends no stretch. */
  readonly inFlow: boolean;
}

const IN_FLOW: Stretch = { first: 0, most: 0, pass: 2, inFlow: true };
/** Facts that each pass through a line tells anew. */
const REPEATING_FACTS = new Set<Fact['kind']>([FactKind.hole, FactKind.toolChange, FactKind.programEnd]);
/** Facts of which a later pass may tell others than the first: where computed jumps and calls lead. */
const LEADING_FACTS = new Set<Fact['kind']>([FactKind.jumpTarget, FactKind.callTarget]);
/** Lines of another file: the call in the program itself that they count as, and what they are. */
export interface CalledFile {
  /** Line of the call in its chunk, and its columns. */
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  /** Number of the program that runs, and the line of its text that the chunk begins at. */
  readonly program: number;
  readonly firstLine: number;
  /** Number that the file was found by. */
  readonly file: number;
}

const NOTHING_OPEN = new Float64Array(0);
const THROUGH: StretchEnd = { kind: 'through' };
const OVER: StretchEnd = { kind: 'over' };

const same = (a: number, b: number): boolean => a === b || (Number.isNaN(a) && Number.isNaN(b));

const sameNumbers = (a: Float64Array, b: Float64Array): boolean => {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!same(a[i], b[i])) return false;
  return true;
};

/** True if two heads of segments are the same state. */
export const sameEntry = (a: SegmentEntry, b: SegmentEntry): boolean =>
  a.modes === b.modes &&
  sameNumbers(a.openMoves, b.openMoves) &&
  sameNumbers(a.position, b.position) &&
  sameNumbers(a.tangent, b.tangent) &&
  sameVariables(a.variables, b.variables);

/** Fills `out` with the position behind the first `count` moves of a segment. */
const positionBehind = (moves: MoveTable, count: number, entry: Float64Array, out: Float64Array): void => {
  out.set(entry);
  if (count > 0) for (let axis = 0; axis < 3; axis++) out[axis] = moves.ends[(count - 1) * 3 + axis];
  let k = moves.otherMoves.length - 1;
  while (k >= 0 && moves.otherMoves[k] >= count) k--;
  if (k >= 0) for (let axis = 3; axis < AXIS_COUNT; axis++) out[axis] = moves.others[k * 6 + axis - 3];
};

/** Executes chunks under one configuration. */
export class ChunkRunner {
  readonly variables = new Variables();
  readonly judge: Judge;
  readonly reader: BlockReader;
  /** The state before the first line of a program. */
  readonly firstEntry: SegmentEntry;
  /** Lines executed since it was last set to 0. */
  linesExecuted = 0;
  /** How the stretch just run ended; undefined where its end was taken over from the old segment. */
  lastEnd: StretchEnd | undefined;
  /** True while what stands behind the program's end is run. */
  private wasOver = false;
  private passFlags = 0;
  private notes = new PassNotes();
  /** Facts of the passes that have their place. */
  private factsPlaced = 0;
  private stretch: Stretch = { first: 0, most: 0, pass: 1, inFlow: false };
  private readonly block = new Block();
  /** Moves of the segment being run; kept as a packed copy. */
  private readonly moves = new MoveTable(1024);
  private readonly contour = new MoveTable(0);
  private readonly executor: Executor;
  private readonly pool: ModePool;
  private readonly skipsDeleted: boolean;
  private readonly position = new Float64Array(AXIS_COUNT);
  private readonly tangent = new Float64Array(3);
  private readonly oldTangent = new Float64Array(3);

  constructor(configuration: Configuration, pool: ModePool) {
    this.pool = pool;
    this.reader = new BlockReader(configuration.profile);
    this.judge = new Judge(configuration, pool, this.variables);
    this.executor = this.judge.executor;
    const kind = configuration.profile.systemVariables;
    this.variables.system = (number) => systemVariable(number, kind)?.value(this.executor);
    this.skipsDeleted = configuration.blockDelete === 'skip';
    this.firstEntry = {
      modes: this.executor.modesId(),
      position: Float64Array.from(this.executor.position),
      variables: new Map(),
      tangent: new Float64Array(3).fill(Number.NaN),
      openMoves: NOTHING_OPEN,
    };
  }

  /**
   * Executes the straight stretch that begins at `stretch.first` from `entry`, reusing what it can of `old`. It ends behind
   * `stretch.most` lines, or behind the block that jumps, calls, returns or ends the program; `lastEnd` tells how.
   */
  run(
    text: LineChunk,
    stretch: Stretch,
    entry: SegmentEntry,
    old: Segment | undefined,
    changed: ChangedLines | undefined,
  ): Segment {
    this.stretch = stretch;
    if (old === undefined) return this.runLines(text, entry, undefined, { start: 0, oldEnd: 0, newEnd: 0 }, 0);
    const range = changed ?? { start: 0, oldEnd: 0, newEnd: 0 };
    const sameHead = sameEntry(entry, old.entry);
    const start = sameHead && !assignsBefore(old, range.start) ? closedLine(old, range.start) : 0;
    const comparable = (old.flags & LineFlag.assigns) === 0 && sameVariables(entry.variables, old.entry.variables);
    return this.runLines(text, entry, comparable || start > 0 ? old : undefined, range, start);
  }

  /** Restores the state before line `line` of a segment without executing; false where variables stand in the way. */
  private restoreAt(segment: Segment, line: number, moveCount: number): void {
    positionBehind(segment.moves, moveCount, segment.entry.position, this.position);
    this.executor.restore(line > 0 ? segment.modesAfter[line - 1] : segment.entry.modes, this.position);
    this.variables.restore(segment.entry.variables);
  }

  private runLines(
    text: LineChunk,
    entry: SegmentEntry,
    old: Segment | undefined,
    range: ChangedLines,
    start: number,
  ): Segment {
    const { judge, executor, block } = this;
    const count = this.stretch.most;
    const { moves } = this;
    const { first } = this.stretch;
    this.lastEnd = undefined;
    const buffer = new ArrayBuffer(count * 5);
    const modesAfter = new Uint32Array(buffer, 0, count);
    const lineFlags = new Uint8Array(buffer, count * 4, count);
    this.beginTables(entry);
    if (!this.stretch.inFlow) {
      executor.inCall = false;
      executor.inMacro = false;
    }
    if (old !== undefined && start > 0) this.takeHead(old, start, moves, modesAfter, lineFlags);
    else {
      executor.restore(entry.modes, entry.position, entry.openMoves);
      this.variables.restore(entry.variables);
    }
    const comparable = old !== undefined && (old.flags & LineFlag.assigns) === 0;
    let assigned = false;
    let oldMove = 0;
    this.wasOver = executor.modes[Mode.ended] !== 0;
    this.lastEnd = THROUGH;
    for (let line = start; line < count; line++) {
      this.runLine(text, first + line, block, line);
      modesAfter[line] = executor.modesId();
      lineFlags[line] = judge.lineFlags | this.openFlag();
      this.linesExecuted++;
      const end = this.endOf(block);
      if (end !== undefined) {
        this.lastEnd = end;
        return this.finish(entry, moves, modesAfter.slice(0, line + 1), lineFlags.slice(0, line + 1));
      }
      if (!comparable || old === undefined) continue;
      assigned ||= (judge.lineFlags & LineFlag.assigns) !== 0;
      const oldLine = line - range.newEnd + range.oldEnd;
      if (line < range.newEnd - 1 || oldLine < 0 || oldLine >= old.blockCount || assigned) continue;
      if (old.modesAfter[oldLine] !== modesAfter[line]) continue;
      if (((old.lineFlags[oldLine] | lineFlags[line]) & LineFlag.open) !== 0) continue;
      while (oldMove < old.moves.count && old.moves.lines[oldMove] <= oldLine) oldMove++;
      if (!this.isAsBefore(old, oldMove, moves)) continue;
      this.takeTail(old, oldLine + 1, oldMove, line + 1, moves, modesAfter, lineFlags);
      this.lastEnd = undefined;
      const blocks = line + old.blockCount - oldLine;
      return blocks === count
        ? this.finish(entry, moves, modesAfter, lineFlags, old.openAfter)
        : this.finish(entry, moves, modesAfter.slice(0, blocks), lineFlags.slice(0, blocks), old.openAfter);
    }
    return this.finish(entry, moves, modesAfter, lineFlags);
  }

  private openFlag(): number {
    const { executor } = this;
    return executor.isCompensating && executor.compensation.isOpen ? LineFlag.open : 0;
  }

  /** Empties the tables of what is being run. */
  private beginTables(entry: SegmentEntry): void {
    const { judge, executor, moves } = this;
    moves.clear();
    this.contour.clear();
    executor.contour = this.contour;
    judge.findings = [];
    judge.facts = [];
    executor.moves = moves;
    executor.entryPosition.set(entry.position);
    executor.entryTangent.set(entry.tangent);
  }

  /** How the stretch ends with the block just run; undefined where it goes on. */
  private endOf(block: Block): StretchEnd | undefined {
    const { executor } = this;
    if (executor.modes[Mode.ended] !== 0) return this.wasOver || !this.stretch.inFlow ? undefined : OVER;
    this.wasOver = false;
    if (block.flow === undefined && executor.ending === undefined) return undefined;
    if (executor.ending !== undefined) return executor.ending;
    const { flow } = block;
    if (flow === undefined || flow.kind === 'if-then') return undefined;
    return { kind: 'flow', statement: flow.kind, condition: flow.condition, target: flow.target };
  }

  /** Runs line `line` of a chunk, which counts as line `counted` of the segment. */
  private runLine(text: LineChunk, line: number, block: Block, counted: number): void {
    const start = text.lineStart(line);
    const end = text.lineEnd(line);
    this.executor.ending = undefined;
    if (this.skipsDeleted && isDeleted(text.source, start, end)) {
      this.reader.read(text.source, start, end, block, undefined);
      block.kind = 0;
      block.flow = undefined;
      this.judge.lineFlags = 0;
      return;
    }
    this.reader.read(text.source, start, end, block, this.variables);
    this.judge.run(block, counted);
  }

  /** True if the state, and where arcs look back the direction too, is what it was behind the old moves. */
  private isAsBefore(old: Segment, oldMoves: number, moves: MoveTable): boolean {
    const { position, executor } = this;
    positionBehind(old.moves, oldMoves, old.entry.position, position);
    if (!sameNumbers(position, executor.position)) return false;
    if ((old.flags & (LineFlag.arc | LineFlag.looksBack)) === 0) return true;
    lastTangent(old.moves, oldMoves, old.entry.position, old.entry.tangent, this.pool, this.oldTangent);
    lastTangent(moves, moves.count, executor.entryPosition, executor.entryTangent, this.pool, this.tangent);
    return sameNumbers(this.tangent, this.oldTangent);
  }

  private takeHead(
    old: Segment,
    start: number,
    moves: MoveTable,
    modesAfter: Uint32Array,
    lineFlags: Uint8Array,
  ): void {
    const moveCount = old.moves.firstOfLine(start);
    moves.append(old.moves, 0, moveCount, 0);
    const { contour } = old;
    if (contour !== undefined) this.contour.append(contour, 0, contour.firstOfLine(start), 0);
    modesAfter.set(old.modesAfter.subarray(0, start));
    lineFlags.set(old.lineFlags.subarray(0, start));
    for (const finding of old.findings) if (finding.line < start) this.judge.findings.push(finding);
    for (const fact of old.facts) if (fact.line < start) this.judge.facts.push(fact);
    this.restoreAt(old, start, moveCount);
  }

  private takeTail(
    old: Segment,
    oldLine: number,
    oldMove: number,
    line: number,
    moves: MoveTable,
    modesAfter: Uint32Array,
    lineFlags: Uint8Array,
  ): void {
    const shift = line - oldLine;
    moves.append(old.moves, oldMove, old.moves.count, shift);
    const { contour } = old;
    if (contour !== undefined) this.contour.append(contour, contour.firstOfLine(oldLine), contour.count, shift);
    modesAfter.set(old.modesAfter.subarray(oldLine), line);
    lineFlags.set(old.lineFlags.subarray(oldLine), line);
    const moved = <T extends SegmentFinding | Fact>(item: T): T =>
      shift === 0 ? item : { ...item, line: item.line + shift };
    for (const finding of old.findings) if (finding.line >= oldLine) this.judge.findings.push(moved(finding));
    for (const fact of old.facts) if (fact.line >= oldLine) this.judge.facts.push(moved(fact));
  }

  private finish(
    entry: SegmentEntry,
    moves: MoveTable,
    modesAfter: Uint32Array,
    lineFlags: Uint8Array,
    openAfter: Float64Array = this.executor.compensation.save(-modesAfter.length),
  ): Segment {
    let flags = 0;
    for (let i = 0; i < lineFlags.length; i++) flags |= lineFlags[i];
    let factKinds = 0;
    for (const fact of this.judge.facts) factKinds |= 1 << fact.kind;
    const { findings, facts } = this.judge;
    this.judge.findings = [];
    this.judge.facts = [];
    return {
      entry,
      firstLine: this.stretch.first,
      pass: this.stretch.pass,
      blockCount: modesAfter.length,
      modesAfter,
      lineFlags,
      moves: moves.packed(),
      contour: this.contour.count > 0 ? this.contour.packed() : undefined,
      openAfter,
      findings,
      facts,
      factKinds,
      flags,
      kept: undefined,
    };
  }

  /** The state behind a segment that was just run (variables) or taken over. */
  exitOf(segment: Segment): SegmentEntry {
    const { moves, entry, modesAfter } = segment;
    const position = new Float64Array(AXIS_COUNT);
    positionBehind(moves, moves.count, entry.position, position);
    const tangent = new Float64Array(3);
    lastTangent(moves, moves.count, entry.position, entry.tangent, this.pool, tangent);
    const modes = modesAfter.length > 0 ? modesAfter[modesAfter.length - 1] : entry.modes;
    const variables = (segment.flags & LineFlag.assigns) !== 0 ? this.variables.snapshot() : entry.variables;
    return { modes, position, variables, tangent, openMoves: segment.openAfter };
  }

  /** Begins a segment that takes in many passes through lines that were executed before. */
  beginPasses(entry: SegmentEntry): void {
    this.beginTables(entry);
    this.executor.restore(entry.modes, entry.position, entry.openMoves);
    this.variables.restore(entry.variables);
    this.passFlags = 0;
    this.notes = new PassNotes();
  }

  /**
   * Executes a stretch once more, behind what was executed since `beginPasses`. Its lines count from the chunk's first
   * one; those of another file (`called`) all as the line of their call.
   */
  runPass(
    text: LineChunk,
    first: number,
    most: number,
    called: CalledFile | undefined,
  ): { end: StretchEnd; blocks: number } {
    const { executor, judge, block } = this;
    this.wasOver = executor.modes[Mode.ended] !== 0;
    this.stretch = IN_FLOW;
    this.factsPlaced = judge.facts.length;
    const findingsBefore = judge.findings.length;
    const stops = stopLinesOf(text);
    for (let line = first; line < first + most; line++) {
      const movesBefore = this.moves.count;
      this.runLine(text, line, block, called?.line ?? line);
      if (called !== undefined) this.placeAtCall(called, line, findingsBefore);
      this.notePass(called, line, movesBefore, stops);
      this.passFlags |= judge.lineFlags | this.openFlag();
      this.linesExecuted++;
      const end = this.endOf(block);
      if (end !== undefined) return { end, blocks: line + 1 - first };
    }
    return { end: THROUGH, blocks: most };
  }

  /**
   * What a line of another file gave is told at the call. Where its jumps lead is judged when that file is open itself.
   */
  private placeAtCall({ column, endColumn, program, firstLine }: CalledFile, line: number, from: number): void {
    const { judge } = this;
    for (let i = judge.findings.length - 1; i >= from && judge.findings[i].origin === undefined; i--) {
      judge.findings[i] = {
        ...judge.findings[i],
        column,
        endColumn,
        fixes: [],
        origin: { program, line: firstLine + line },
      };
    }
    while (this.factsPlaced < judge.facts.length) {
      const fact = judge.facts[this.factsPlaced];
      if (fact.kind === FactKind.jumpTarget) judge.facts.splice(this.factsPlaced, 1);
      else
        judge.facts[this.factsPlaced++] = {
          ...fact,
          column,
          endColumn,
          b: fact.kind === FactKind.callTarget ? 1 : fact.b,
        };
    }
  }

  /** What a line of a pass leaves beside its moves; under radius compensation those are its moves that it made certain. */
  private notePass(called: CalledFile | undefined, line: number, before: number, stops: readonly StopLine[]): void {
    const { moves, notes } = this;
    notes.block(moves, before, called && { program: called.program, file: called.file, line: called.firstLine + line });
    if (stops.length === 0) return;
    const stop = stops.find((one) => one.line === line);
    if (stop !== undefined && !(stop.canBeLeftOut && this.skipsDeleted))
      notes.stop({ move: moves.count, line: called?.line ?? line, kind: stop.kind });
  }

  /** Moves kept since `beginPasses`. */
  get movesInPasses(): number {
    return this.moves.count;
  }

  /** Puts what `runPass` executed together. Findings that repeat are kept once, and facts that only the first pass can tell not at all. */
  finishPasses(entry: SegmentEntry): Segment {
    const { judge, moves, executor } = this;
    const repeated = new RepeatedFindings();
    judge.findings = judge.findings.filter((finding) => !repeated.has(finding, finding.line));
    const seen = new Set<string>();
    judge.facts = judge.facts.filter(({ kind, line, a, b }) => {
      if (REPEATING_FACTS.has(kind)) return true;
      const key = `${kind} ${line} ${a} ${b}`;
      return LEADING_FACTS.has(kind) && !seen.has(key) && seen.add(key);
    });
    this.stretch = IN_FLOW;
    const modesAfter = Uint32Array.of(executor.modesId());
    const segment = this.finish(entry, moves, modesAfter, Uint8Array.of(this.passFlags));
    return { ...segment, blockCount: 0, ...this.notes.kept() };
  }

  /** Reads lines that are never executed: mistakes in writing and what stands in them, no moves. */
  read(text: LineChunk, first: number, most: number): Segment {
    const { judge, reader, block, moves, firstEntry } = this;
    this.beginTables(firstEntry);
    this.stretch = { first, most, pass: 0, inFlow: true };
    const lineFlags = new Uint8Array(most);
    for (let line = 0; line < most; line++) {
      reader.read(text.source, text.lineStart(first + line), text.lineEnd(first + line), block, undefined);
      judge.readOnly(block, line);
      lineFlags[line] = judge.lineFlags;
    }
    const modes = new Uint32Array(most).fill(firstEntry.modes);
    return this.finish(firstEntry, moves, modes, lineFlags, firstEntry.openMoves);
  }

  /** The state before line `line` of a segment, as the head of a segment that would begin there. Executes only what it must. */
  entryInside(text: LineChunk, segment: Segment, line: number): SegmentEntry {
    if (line <= 0) return segment.entry;
    if ((segment.flags & (LineFlag.assigns | LineFlag.open)) === 0 && line <= segment.blockCount) {
      const { entry, moves } = segment;
      const count = moves.firstOfLine(line);
      const position = new Float64Array(AXIS_COUNT);
      positionBehind(moves, count, entry.position, position);
      const tangent = new Float64Array(3);
      lastTangent(moves, count, entry.position, entry.tangent, this.pool, tangent);
      return { ...entry, modes: segment.modesAfter[line - 1], position, tangent, openMoves: NOTHING_OPEN };
    }
    const lines = Math.min(line, segment.blockCount);
    this.replay(text, segment, lines);
    const { executor } = this;
    const tangent = new Float64Array(3);
    executor.arrival(tangent);
    return {
      modes: executor.modesId(),
      position: Float64Array.from(executor.position),
      variables: this.variables.snapshot(),
      tangent,
      openMoves: executor.compensation.save(-lines),
    };
  }

  /** Executes the first `line` lines of a segment again, so that executor and variables stand before that line. */
  replay(text: LineChunk, segment: Segment, line: number): void {
    const { executor, judge } = this;
    executor.moves = new MoveTable();
    executor.contour = new MoveTable();
    executor.entryPosition.set(segment.entry.position);
    executor.entryTangent.set(segment.entry.tangent);
    executor.restore(segment.entry.modes, segment.entry.position, segment.entry.openMoves);
    this.variables.restore(segment.entry.variables);
    for (let i = 0; i < line; i++) this.runLine(text, segment.firstLine + i, this.block, i);
    judge.findings = [];
    judge.facts = [];
  }
}

/** The last line at or before `line` that nothing is open in front of. */
const closedLine = (segment: Segment, line: number): number => {
  if ((segment.flags & LineFlag.open) === 0) return line;
  let closed = line;
  while (closed > 0 && (segment.lineFlags[closed - 1] & LineFlag.open) !== 0) closed--;
  return closed;
};

const assignsBefore = (segment: Segment, line: number): boolean => {
  if ((segment.flags & LineFlag.assigns) === 0) return false;
  for (let i = 0; i < line; i++) if ((segment.lineFlags[i] & LineFlag.assigns) !== 0) return true;
  return false;
};

const isDeleted = (source: string, start: number, end: number): boolean => {
  let p = start;
  while (p < end && (source.charCodeAt(p) === 32 || source.charCodeAt(p) === 9)) p++;
  return p < end && source.charCodeAt(p) === 47 && source.charCodeAt(p + 1) !== 47;
};
