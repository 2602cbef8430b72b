/**
 * Runs a program with jumps, loops and calls, from the first chunk that has any: a list of passages in the order of the
 * run. The first pass through lines gives a segment of its own; further passes through the same lines are put together in
 * segments of some hundred blocks. After an edit inside a straight stretch only the passages through it are run again, as
 * long as the run goes the same way; otherwise it starts afresh.
 */
import { shiftOpenLines } from '../../machine/compensation.ts';
import type { RunLimits } from '../../machine/configuration.ts';
import { Mode } from '../../machine/modes.ts';
import { type CalledFile, type ChangedLines, type ChunkRunner, type StretchEnd, sameEntry } from '../chunkRun.ts';
import type { LoopStop } from '../facts.ts';
import type { Segment, SegmentEntry } from '../segment.ts';
import { type FlowStop, type Follower, followEnd, type Point } from './follow.ts';
import type { SubprogramHost } from './host.ts';
import { type HeadState, LoopWatch } from './loopWatch.ts';
import { type FlowChunk, type FlowSource, type Frame, isInMacro, lineOfSpot, type Spot, sameFrames } from './places.ts';

/** Blocks that a segment of further passes takes in at most, and where they neither move nor tell anything. */
const MOST_BLOCKS = 512;
const MOST_IDLE_BLOCKS = 4096;
const NO_NUMBERS = new Float64Array(0);

/** One segment of the run. */
export interface PassageRun {
  /** Chunk of the program that it belongs to; the line of its first block there. */
  readonly home: FlowChunk;
  segment: Segment;
  /** Where it begins (in another file than its home where a subprogram runs), and the calls under way there. */
  readonly start: Spot;
  readonly frame: Frame | undefined;
  /** How a first pass ended; undefined for further passes. */
  end: StretchEnd | undefined;
  readonly again: boolean;
  blocks: number;
  /** Line of `home` that the lines of further passes count from, and the lines that they came through, [first, behind the last). */
  base: number;
  low: number;
  high: number;
  /** Further passes were cut off because they were enough for one segment. */
  readonly isFull: boolean;
  isDirty: boolean;
  changed: ChangedLines | undefined;
}

/** What a run is given. */
export interface FlowRunInput {
  readonly runner: ChunkRunner;
  readonly source: FlowSource;
  readonly host: SubprogramHost | undefined;
  readonly limits: RunLimits;
  /** Line that the run begins at, the state there, and the moves before it. */
  readonly firstLine: number;
  readonly entry: SegmentEntry;
  readonly movesBefore: number;
}

/** See the top of the file. */
export class FlowRun implements Follower {
  readonly passages: PassageRun[] = [];
  readonly entry: SegmentEntry;
  private readonly loops = new LoopWatch();
  /** Whether this run read one of the control's own variables; what others read in between does not count. */
  private systemWasRead = false;
  readonly source: FlowSource;
  readonly runner: ChunkRunner;
  readonly host: SubprogramHost | undefined;
  readonly limits: RunLimits;
  /** Program numbers that were called in the program's own text, with how often. */
  readonly called = new Map<number, number>();
  /** Why the run ended before the program did. */
  stop: FlowStop | undefined;
  private movesBefore: number;
  private point: Point | undefined;
  private nextEntry: SegmentEntry;
  private readonly visited = new Map<FlowChunk, Uint8Array>();
  private span = { low: 0, high: 0 };
  private steps = 0;
  private moves = 0;
  private milliseconds = 0;
  /** Place of the first passage that may have to be run again; the list's length where none has. */
  private cursor = 0;

  constructor(input: FlowRunInput) {
    this.runner = input.runner;
    this.source = input.source;
    this.host = input.host;
    this.limits = input.limits;
    this.entry = input.entry;
    this.nextEntry = withLinesMoved(input.entry, input.firstLine);
    this.movesBefore = input.movesBefore;
    this.point = { source: input.source, line: input.firstLine, frame: undefined, again: false };
  }

  /** True once every passage is up to date. */
  get isDone(): boolean {
    return this.point === undefined && this.cursor >= this.passages.length;
  }

  /** How much of what it may take the run has taken, 0 to 1: of its blocks, moves or seconds, whichever is most. */
  get shareOfLimits(): number {
    const { steps, moves, seconds } = this.limits;
    const most = Math.max(
      this.steps / steps,
      (this.movesBefore + this.moves) / moves,
      this.milliseconds / (seconds * 1000),
    );
    return Math.min(1, most);
  }

  /** Works until about `until` (ms as of `Date.now`). Returns false where the run has to start afresh. */
  runSlice(until: number): boolean {
    const start = Date.now();
    const { variables } = this.runner;
    variables.systemWasRead = this.systemWasRead;
    while (!this.isDone) {
      if (this.cursor < this.passages.length) {
        if (!this.runAgain()) return false;
      } else this.goOn();
      const now = Date.now();
      if (this.point !== undefined && this.milliseconds + now - start > this.limits.seconds * 1000) {
        this.stopAt({ kind: 'seconds', spot: this.spotOf(this.point) });
      }
      if (now >= until) break;
    }
    this.systemWasRead = variables.systemWasRead;
    this.milliseconds += Date.now() - start;
    return true;
  }

  /**
   * Lines of a chunk were edited that say nothing about the flow. Returns false where the run has to start afresh.
   */
  edited(chunk: FlowChunk, changed: ChangedLines): boolean {
    if (!this.isDone || this.stop !== undefined) return false;
    const grown = changed.newEnd - changed.oldEnd;
    // Moves that compensation holds back know how far away their line is.
    if (grown !== 0 && this.passages.some(({ segment }) => segment.entry.openMoves.length > 0)) return false;
    for (let i = 0; i < this.passages.length; i++) {
      const passage = this.passages[i];
      if (passage.home !== chunk) continue;
      if (passage.end === undefined) passPassesBy(passage, changed);
      else if (passage.start.line >= changed.oldEnd) passage.start.line += grown;
      else if (passage.start.line + passage.blocks > changed.start) {
        const first = passage.start.line;
        if (changed.start < first || changed.oldEnd > first + passage.blocks || passage.changed !== undefined)
          return false;
        const { start, oldEnd, newEnd } = changed;
        passage.changed = { start: start - first, oldEnd: oldEnd - first, newEnd: newEnd - first };
        passage.isDirty = true;
      }
      if (passage.isDirty) this.cursor = Math.min(this.cursor, i);
    }
    if (grown !== 0) {
      this.shiftCalls(chunk, changed, grown);
      this.shiftVisited(chunk, changed);
    }
    return true;
  }

  private shiftVisited(chunk: FlowChunk, { start, oldEnd, newEnd }: ChangedLines): void {
    this.loops.shiftLines(chunk, oldEnd, newEnd - oldEnd);
    const old = this.visited.get(chunk);
    if (old === undefined) return;
    const flags = new Uint8Array(chunk.lineCount);
    flags.set(old.subarray(0, start));
    flags.fill(old[start], start, newEnd);
    flags.set(old.subarray(oldEnd), newEnd);
    this.visited.set(chunk, flags);
  }

  /** Calls under way keep the lines they return to. */
  private shiftCalls(chunk: FlowChunk, changed: ChangedLines, grown: number): void {
    const seen = new Set<Spot>();
    const shift = (spot: Spot): void => {
      if (spot.chunk !== chunk || spot.line < changed.oldEnd || seen.has(spot)) return;
      seen.add(spot);
      spot.line += grown;
    };
    for (const { frame, start, end } of this.passages) {
      if (end === undefined) shift(start);
      for (let f = frame; f !== undefined; f = f.parent) {
        shift(f.back);
        shift(f.anchor);
      }
    }
  }

  /** Takes notice of how many moves come before the run now; false where that is too many for the whole of it. */
  startsBehind(moves: number): boolean {
    this.movesBefore = moves;
    return moves + this.moves <= this.limits.moves;
  }

  /** The first pass through a line of a chunk; undefined where the run never came there. */
  firstPassThrough(chunk: FlowChunk, line: number): Segment | undefined {
    const passage = this.passages.find(
      ({ home, start, end, blocks }) =>
        home === chunk && end !== undefined && start.line <= line && line < start.line + blocks,
    );
    return passage === undefined ? undefined : { ...passage.segment, firstLine: passage.start.line };
  }

  /** The loop that the run was in when it was stopped, with the values that keep it going. */
  loopOfStop(): LoopStop | undefined {
    const { stop } = this;
    if (stop === undefined) return undefined;
    const busiest = stop.kind === 'repeats' ? { spot: stop.spot, passes: stop.number ?? 0 } : this.loops.busiest();
    if (busiest === undefined || !busiest.spot.source.isMain) return undefined;
    const line = lineOfSpot(busiest.spot);
    return { line, passes: busiest.passes, values: this.stopValues };
  }

  /** Values that the loop's condition reads, noted when the run was stopped. */
  private stopValues: readonly string[] = [];

  /** How often the run came back to a line, in all calls together. */
  timesBackAt(chunk: FlowChunk, line: number): number {
    return this.loops.timesAt(chunk, line);
  }

  /** Lines of a chunk that the run passed through, one flag a line; undefined where it came through none. */
  visitedLines(chunk: FlowChunk): Uint8Array | undefined {
    return this.visited.get(chunk);
  }

  stopAt(stop: FlowStop): void {
    if (this.stop !== undefined) return;
    this.stop = stop;
    this.point = undefined;
    const head = stop.kind === 'repeats' ? stop.spot : this.loops.busiest()?.spot;
    if (head !== undefined) this.stopValues = valuesOf(conditionText(head), this.runner.variables);
  }

  /** Looks for loops that never end; not while passages are run again, where everything stands as it did before. */
  get watch(): LoopWatch | undefined {
    return this.cursor < this.passages.length ? undefined : this.loops;
  }

  /** What decides the way on at the head of a loop. */
  headState(): HeadState {
    const { variables, judge } = this.runner;
    const { executor } = judge;
    if (variables.systemWasRead) return { modes: executor.modesId(), position: executor.position, variables };
    return { modes: executor.modes[Mode.modalMacro], position: NO_NUMBERS, variables };
  }

  get isProgramOver(): boolean {
    return this.runner.judge.executor.modes[Mode.ended] !== 0;
  }

  /** Runs the next passage. */
  private goOn(): void {
    const { point } = this;
    if (point === undefined) return;
    const spot = this.spotOf(point);
    const home = homeOf(spot, point);
    const isFirst = point.source.isMain && this.visited.get(spot.chunk)?.[spot.line] !== 1;
    this.nextEntry = withLinesMoved(this.nextEntry, -this.baseOf(home, isFirst ? spot.line : 0));
    const passage = isFirst ? this.firstPass(point, spot) : this.furtherPasses(point, spot, home);
    this.passages.push(passage);
    this.cursor = this.passages.length;
    this.steps += passage.blocks;
    this.moves += passage.segment.moves.count;
    if (this.point === undefined) return;
    const moves = this.movesBefore + this.moves;
    if (moves > this.limits.moves) this.stopAt({ kind: 'moves', spot: this.spotOf(this.point) });
    else if (this.steps >= this.limits.steps) this.stopAt({ kind: 'steps', spot: this.spotOf(this.point) });
  }

  private firstPass(point: Point, spot: Spot): PassageRun {
    const { runner } = this;
    const most = linesFrom(point, spot);
    this.setCall(point.frame);
    const segment = runner.run(
      spot.chunk.text,
      { first: spot.line, most, pass: 1, inFlow: true },
      this.nextEntry,
      undefined,
      undefined,
    );
    const end = runner.lastEnd ?? { kind: 'through' };
    const blocks = segment.blockCount;
    this.markVisited(spot.chunk, spot.line, blocks);
    this.point = followEnd(this, end, point, point.line + blocks);
    this.nextEntry = this.entryBehind(segment, spot.chunk, spot.line);
    const { frame, again } = point;
    const rest = { blocks, base: 0, low: 0, high: 0, isFull: false, isDirty: false, changed: undefined };
    return { home: spot.chunk, segment, start: spot, frame, end, again, ...rest };
  }

  private furtherPasses(start: Point, spot: Spot, home: FlowChunk): PassageRun {
    const { runner } = this;
    runner.beginPasses(this.nextEntry);
    const entry = this.nextEntry;
    this.span = { low: Number.POSITIVE_INFINITY, high: 0 };
    let point: Point | undefined = start;
    let blocks = 0;
    while (point !== undefined && this.isMore(blocks) && this.belongs(point, home)) {
      const pass = this.runPass(point);
      blocks += pass.blocks;
      point = pass.next;
      if (this.steps + blocks >= this.limits.steps) break;
    }
    const isFull = !this.isMore(blocks);
    const segment = runner.finishPasses(entry);
    this.point = this.stop === undefined ? point : undefined;
    this.nextEntry = this.entryBehind(segment, home, 0);
    const { frame, again } = start;
    const rest = { blocks, base: 0, ...this.span, isFull, isDirty: false, changed: undefined };
    return { home, segment, start: spot, frame, end: undefined, again, ...rest };
  }

  /** One further pass from a point on. */
  private runPass(point: Point): { blocks: number; next: Point | undefined } {
    const at = this.spotOf(point);
    this.setCall(point.frame);
    const called = calledFile(point, at);
    const { end, blocks } = this.runner.runPass(at.chunk.text, at.line, linesFrom(point, at), called);
    this.span.low = Math.min(this.span.low, called?.line ?? at.line);
    this.span.high = Math.max(this.span.high, called === undefined ? at.line + blocks : called.line + 1);
    return { blocks, next: followEnd(this, end, point, point.line + blocks) };
  }

  private isMore(blocks: number): boolean {
    if (blocks < MOST_BLOCKS) return true;
    const { runner } = this;
    return blocks < MOST_IDLE_BLOCKS && runner.movesInPasses === 0 && runner.judge.findings.length === 0;
  }

  /** True where the lines at a point were run before and belong to the chunk whose passes are put together. */
  private belongs(point: Point, home: FlowChunk): boolean {
    const spot = this.spotOf(point);
    if (homeOf(spot, point) !== home) return false;
    return !point.source.isMain || this.visited.get(spot.chunk)?.[spot.line] === 1;
  }

  /** Runs a passage again whose lines or entry changed. Returns false where the run goes another way from here. */
  private runAgain(): boolean {
    const index = this.cursor;
    const passage = this.passages[index];
    if (!passage.isDirty) {
      this.cursor++;
      return true;
    }
    const entry = this.nextEntryOf(index);
    const before = passage.segment.moves.count;
    const next = passage.end === undefined ? this.passesAgain(passage, entry) : this.firstPassAgain(passage, entry);
    this.moves += passage.segment.moves.count - before;
    if (next === 'afresh' || this.stop !== undefined || this.movesBefore + this.moves > this.limits.moves) return false;
    passage.isDirty = false;
    passage.changed = undefined;
    return this.meetsNext(index, next);
  }

  private nextEntryOf(index: number): SegmentEntry {
    return index === 0 ? this.entry : (this.changedEntries.get(index) ?? this.passages[index].segment.entry);
  }

  private readonly changedEntries = new Map<number, SegmentEntry>();

  /** Compares what follows a passage that was run again with what followed it before. */
  private meetsNext(index: number, next: Point | undefined): boolean {
    this.changedEntries.delete(index);
    const follower = this.passages[index + 1];
    this.cursor = index + 1;
    if (next === undefined || follower === undefined) return next === undefined && follower === undefined;
    const sameWay =
      next.source === follower.start.source &&
      next.line === lineOfSpot(follower.start) &&
      next.again === follower.again;
    if (!sameWay || !sameFrames(next.frame, follower.frame)) return false;
    const passage = this.passages[index];
    const behind = this.entryBehind(passage.segment, passage.home, firstCounted(passage));
    const entry = withLinesMoved(behind, -this.baseOf(follower.home, firstCounted(follower)));
    if (!sameEntry(entry, follower.segment.entry)) {
      follower.isDirty = true;
      this.changedEntries.set(index + 1, entry);
    }
    return true;
  }

  private firstPassAgain(passage: PassageRun, entry: SegmentEntry): Point | undefined | 'afresh' {
    const { runner } = this;
    const { start, changed } = passage;
    const grown = changed === undefined ? 0 : changed.newEnd - changed.oldEnd;
    const point = this.pointOf(passage);
    this.setCall(passage.frame);
    const stretch = { first: start.line, most: linesFrom(point, start), pass: passage.segment.pass, inFlow: true };
    const old =
      passage.segment.firstLine === start.line ? passage.segment : { ...passage.segment, firstLine: start.line };
    passage.segment = runner.run(start.chunk.text, stretch, entry, old, changed);
    if (passage.segment.blockCount !== passage.blocks + grown) return 'afresh';
    passage.blocks += grown;
    passage.end = runner.lastEnd ?? passage.end;
    if (passage.end === undefined) return 'afresh';
    return followEnd(this, passage.end, point, point.line + passage.blocks);
  }

  private passesAgain(passage: PassageRun, before: SegmentEntry): Point | undefined | 'afresh' {
    const { runner } = this;
    // Lines count from the chunk's first one again, also those that the entry holds back.
    const entry = withLinesMoved(before, passage.base);
    runner.beginPasses(entry);
    this.span = { low: Number.POSITIVE_INFINITY, high: 0 };
    let point: Point | undefined = this.pointOf(passage);
    let blocks = 0;
    while (point !== undefined && blocks < passage.blocks && this.isMore(blocks)) {
      const pass = this.runPass(point);
      blocks += pass.blocks;
      point = pass.next;
    }
    const isFull = !this.isMore(blocks);
    passage.segment = runner.finishPasses(entry);
    Object.assign(passage, this.span, { base: 0 });
    return blocks === passage.blocks && isFull === passage.isFull ? point : 'afresh';
  }

  /**
   * The head of the passage that follows one: what it left, with the variables as the jump or call left them. Lines of
   * moves that compensation holds back count from the program's first line.
   */
  private entryBehind(segment: Segment, home: FlowChunk, firstLine: number): SegmentEntry {
    const exit = { ...this.runner.exitOf(segment), variables: this.runner.variables.snapshot() };
    return withLinesMoved(exit, this.baseOf(home, firstLine) + segment.modesAfter.length);
  }

  /** Line of the program that a segment's lines count from. */
  private baseOf(home: FlowChunk, firstLine: number): number {
    return this.source.firstLineOf(home) + firstLine;
  }

  private setCall(frame: Frame | undefined): void {
    const { executor } = this.runner.judge;
    executor.inCall = frame !== undefined;
    executor.inMacro = isInMacro(frame);
  }

  private pointOf({ start, frame, again }: PassageRun): Point {
    return { source: start.source, line: lineOfSpot(start), frame, again };
  }

  private spotOf(point: Point): Spot {
    return { source: point.source, ...point.source.locate(point.line) };
  }

  private markVisited(chunk: FlowChunk, first: number, count: number): void {
    let flags = this.visited.get(chunk);
    if (flags === undefined) {
      flags = new Uint8Array(chunk.lineCount);
      this.visited.set(chunk, flags);
    }
    flags.fill(1, first, first + count);
  }
}

/** A head of a segment with the lines of moves that compensation holds back counted from elsewhere. */
const withLinesMoved = (entry: SegmentEntry, lines: number): SegmentEntry =>
  entry.openMoves.length === 0 ? entry : { ...entry, openMoves: shiftOpenLines(entry.openMoves, lines) };

/** Line in its chunk that a passage's lines count from. */
export const firstCounted = ({ start, end, base }: PassageRun): number => (end === undefined ? base : start.line);

/** An edit beside the lines of further passes moves them along; an edit among them has them run again. */
const passPassesBy = (passage: PassageRun, { start, oldEnd, newEnd }: ChangedLines): void => {
  if (passage.high <= start) return;
  if (oldEnd > passage.low || passage.isDirty) {
    passage.isDirty = true;
    return;
  }
  const grown = newEnd - oldEnd;
  passage.base += grown;
  passage.low += grown;
  passage.high += grown;
};

/** The text of a loop's head, or of the whole block that a loop comes back to. */
const conditionText = ({ chunk, line }: Spot): string => chunk.text.lineText(line);

/** What the lines of another file count as: the outermost call; undefined in the program itself. */
const calledFile = ({ source, line, frame }: Point, { chunk }: Spot): CalledFile | undefined => {
  if (source.isMain || frame === undefined) return undefined;
  const { anchor } = frame;
  const text = conditionText(anchor);
  const { number } = source.layout.unitOf(line);
  return {
    line: anchor.line,
    column: text.length - text.trimStart().length,
    endColumn: text.trimEnd().length,
    program: number >= 0 ? number : frame.call.number,
    firstLine: source.firstLineOf(chunk),
    file: source.fileNumber ?? -1,
  };
};

/** The variables that a text names, with their values, at most three. */
const valuesOf = (text: string, variables: ChunkRunner['variables']): string[] => {
  const names = new Set(text.match(/#\s*(?:\d+|<[^>]*>)/g) ?? []);
  return Array.from(names, (written) => {
    const bare = written.replace(/[#\s]/g, '');
    const name = bare.startsWith('<') ? bare.slice(1, -1).toLowerCase() : Number(bare);
    const value = variables.get(name);
    return `#${bare} = ${value === undefined ? 'nothing' : Number.isNaN(value) ? 'unknown' : Math.round(value * 1e4) / 1e4}`;
  }).slice(0, 3);
};

/** The chunk of the program that a place counts to: where it is, or where the outermost call stands. */
const homeOf = (spot: Spot, point: Point): FlowChunk =>
  point.source.isMain || !point.frame ? spot.chunk : point.frame.anchor.chunk;

/** Lines from a point to the end of its chunk or its program, whichever comes first. */
const linesFrom = (point: Point, spot: Spot): number =>
  Math.min(spot.chunk.lineCount - spot.line, point.source.layout.unitOf(point.line).endLine - point.line);
