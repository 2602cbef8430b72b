/**
 * A program under analysis: text, moves, findings. The one door to the core for editors and the command line.
 * An edit reads and executes again only what changed, until the state is what it was there before; what comes out is the
 * same as from a fresh run (tested by random edits).
 */
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { AXIS_COUNT } from '../machine/letters.ts';
import { MODE_COUNT, ModePool } from '../machine/modes.ts';
import { Block } from '../syntax/block.ts';
import type { VariableName } from '../syntax/variables.ts';
import { type LineChunk, splitIntoChunks } from '../text/lineChunk.ts';
import { type ChangedLines, ChunkRunner, sameEntry } from './chunkRun.ts';
import { CostlyJoins } from './costlyJoins.ts';
import { FactKind, type Passage, type ProgramFacts } from './facts.ts';
import type { Finding, Findings } from './findings.ts';
import { FindingsOfRun } from './findingsOfRun.ts';
import { FlowRun, firstCounted } from './flow/flowRun.ts';
import type { SubprogramHost } from './flow/host.ts';
import { flowSignature, ProgramLayout } from './flow/layout.ts';
import { type FlowSource, lineOfSpot } from './flow/places.ts';
import { wordStop } from './flow/stops.ts';
import { editChunks, mergeChanges } from './lineEdits.ts';
import { GatheredFacts } from './programFacts.ts';
import { ArcRepairs } from './repair/arcRepairs.ts';
import { type Chunk, type ChunkPassage, RunChunk } from './runChunk.ts';
import type { Segment, SegmentEntry } from './segment.ts';

export type { Chunk, Finding, Findings };

/** The machine before or after a block. */
export interface MachineState {
  /** By `Mode`. */
  readonly modes: Float64Array;
  /** Work coordinates of X Y Z A B C U V W, mm and degrees, NaN unknown. */
  readonly position: Float64Array;
  readonly variables: ReadonlyMap<VariableName, number>;
}

/** See the top of the file. */
export class Analysis {
  modePool = new ModePool();
  /** Lines executed by the last `run` (or since the last `edit`, for slices). */
  readonly counters = { linesExecuted: 0 };
  private configuration: Configuration;
  private runner: ChunkRunner;
  private list: RunChunk[] = [];
  private firstLines = new Int32Array(0);
  private firstLinesStale = true;
  private firstDirty = 0;
  private version = 0;
  private limitLine = -1;
  private fresh = false;
  private readonly host: SubprogramHost | undefined;
  private readonly source: FlowSource;
  private programLayout: ProgramLayout | undefined;
  /** The run of a program with jumps, loops or calls, from the first chunk that has any. */
  private flow: FlowRun | undefined;
  private flowHead: RunChunk | undefined;
  private repairs: ArcRepairs | undefined;
  private readonly joins = new CostlyJoins();
  /** Chunks from here on have still to be read where the run never came through. */
  private firstUnread = 0;

  /** Takes a text; nothing is read before `run`. `host` finds the files of subprograms. */
  constructor(text: string, configuration: Configuration = DEFAULT_CONFIGURATION, host?: SubprogramHost) {
    this.configuration = configuration;
    this.host = host;
    this.source = this.ownSource();
    this.runner = new ChunkRunner(configuration, this.modePool);
    this.list = splitIntoChunks(text, true).map((chunk) => new RunChunk(chunk));
  }

  /** Chunks in order. */
  get chunks(): readonly Chunk[] {
    return this.list;
  }

  /** Lines as editors count them: an empty last line counts. */
  get lineCount(): number {
    this.updateFirstLines();
    return this.firstLines[this.list.length];
  }

  /** First line of a chunk, from 0. */
  chunkFirstLine(index: number): number {
    this.updateFirstLines();
    return this.firstLines[index];
  }

  /** Place of the chunk that holds a line. */
  chunkOfLine(line: number): number {
    this.updateFirstLines();
    let low = 0;
    let high = this.list.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.firstLines[middle] <= line) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** The text of a chunk; another object once one of its lines was edited. */
  chunkText(index: number): LineChunk {
    return this.list[index].text;
  }

  /** Text of a line without its line end. */
  lineText(line: number): string {
    const index = this.chunkOfLine(line);
    const { text } = this.list[index];
    const inside = line - this.firstLines[index];
    if (inside < 0 || inside >= text.lineCount) return '';
    return text.lineText(inside);
  }

  /** The whole text. */
  text(): string {
    return this.list.map((chunk) => chunk.text.text()).join('');
  }

  /** Replaces a range (lines and UTF-16 columns from 0, clamped) by `text`. */
  edit(startLine: number, startColumn: number, endLine: number, endColumn: number, text: string): void {
    const place = (line: number, column: number): { chunk: number; line: number; column: number } => {
      const clamped = Math.max(0, Math.min(line, this.lineCount - 1));
      const chunk = this.chunkOfLine(clamped);
      const behind = line > clamped ? Number.MAX_SAFE_INTEGER : column;
      return { chunk, line: clamped - this.firstLines[chunk], column: behind };
    };
    const first = place(startLine, startColumn);
    const edit = editChunks(this.list, first, place(endLine, endColumn), text);
    this.counters.linesExecuted = 0;
    this.fresh = false;
    this.joins.linesReplaced(startLine, endLine, text);
    this.programLayout = undefined;
    if (edit.changed !== undefined) {
      this.editChunk(this.list[edit.from], edit.pieces[0], edit.changed);
      return;
    }
    this.leaveFlow();
    this.list.splice(edit.from, edit.to - edit.from, ...edit.pieces.map((piece) => new RunChunk(piece)));
    this.firstLinesStale = true;
    this.firstDirty = Math.min(this.firstDirty, edit.from);
    if (edit.from < this.list.length) this.markDirty(edit.from);
  }

  /** Replaces the text of one chunk; `changed` says which lines differ. */
  private editChunk(chunk: RunChunk, text: LineChunk, changed: ChangedLines): void {
    const old = chunk.text;
    chunk.text = text;
    this.firstLinesStale ||= old.lineCount !== text.lineCount;
    chunk.reads = undefined;
    this.firstUnread = Math.min(this.firstUnread, chunk.index);
    const { flow, flowHead } = this;
    if (flow !== undefined && flowHead !== undefined) {
      const inFlow = chunk.index >= flowHead.index;
      const keepsItsWay = this.keepsFlow(old, text, changed);
      if (!keepsItsWay || (inFlow ? !flow.edited(chunk, changed) : flow.visitedLines(chunk) !== undefined))
        this.leaveFlow();
      if (inFlow) return;
    }
    if (chunk.segment !== undefined) chunk.changed = mergeChanges(chunk.changed, changed);
    this.markDirty(chunk.index);
  }

  /** True if an edit touched no jump, loop, call, program end, program or sequence number. */
  private keepsFlow(old: LineChunk, text: LineChunk, { start, oldEnd, newEnd }: ChangedLines): boolean {
    const { localCallCode } = this.configuration.profile;
    const signatures = (chunk: LineChunk, from: number, to: number): string => {
      let all = '';
      for (let line = from; line < Math.min(to, chunk.lineCount); line++) {
        const signature = flowSignature(chunk.lineText(line), localCallCode);
        if (signature !== '') all += `${signature}\n`;
      }
      return all;
    };
    return signatures(old, start, oldEnd) === signatures(text, start, newEnd);
  }

  /** Gives up the run with jumps: its chunks are run anew. */
  private leaveFlow(): void {
    if (this.flowHead === undefined) return;
    this.flow = undefined;
    const from = this.flowHead.index;
    this.flowHead = undefined;
    for (let i = from; i < this.list.length; i++) this.list[i].forget();
    this.firstUnread = 0;
    this.firstDirty = Math.min(this.firstDirty, from);
  }

  /** A subprogram's file came, or was changed: calls are looked up again. */
  subprogramsChanged(): void {
    if (this.flow === undefined) return;
    this.fresh = false;
    this.leaveFlow();
  }

  /** Puts the program under another configuration. Only severities may change without a run. */
  configure(configuration: Configuration): void {
    const { rules: _rules, ...others } = configuration;
    const { rules: _oldRules, ...oldOthers } = this.configuration;
    this.configuration = configuration;
    for (const chunk of this.list) chunk.rendered = undefined;
    if (JSON.stringify(others) === JSON.stringify(oldOthers)) return;
    this.modePool = new ModePool();
    this.joins.forget();
    this.runner = new ChunkRunner(configuration, this.modePool);
    this.list = this.list.map((chunk) => new RunChunk(chunk.text));
    this.firstLinesStale = true;
    this.programLayout = undefined;
    this.flow = undefined;
    this.flowHead = undefined;
    this.firstDirty = 0;
    this.firstUnread = 0;
    this.fresh = false;
  }

  /** Brings everything up to date, what takes its time too. */
  run(): void {
    while (!this.settle(Number.POSITIVE_INFINITY));
  }

  /**
   * Works for about so many milliseconds on what is left for when nothing else is to do, the run first; true if nothing
   * is left. Until then `findings` has what these rules found last.
   */
  settle(milliseconds: number): boolean {
    const until = milliseconds === Number.POSITIVE_INFINITY ? milliseconds : Date.now() + milliseconds;
    return this.runSlice(milliseconds) && this.joins.work(() => this.gather(), until);
  }

  /** True if `findings` has all that can be found. */
  get isSettled(): boolean {
    return this.fresh && this.joins.isDone;
  }

  /** Changes whenever `settle` found something else than before. */
  get settledVersion(): number {
    return this.joins.version;
  }

  /** Works for about so many milliseconds; true if everything is up to date. */
  runSlice(milliseconds: number): boolean {
    if (this.fresh) return true;
    this.repairs = undefined;
    this.joins.startOver(this.configuration);
    const until = milliseconds === Number.POSITIVE_INFINITY ? milliseconds : Date.now() + milliseconds;
    this.runner.linesExecuted = 0;
    this.updateFirstLines();
    if (this.limitLine >= 0) this.limitLine = -1;
    this.movesSoFar = this.movesBefore(this.firstDirty);
    const tooMany = this.movesSoFar > this.configuration.limits.moves;
    if (tooMany && this.firstDirty > 0 && this.firstDirty < this.list.length) this.stopAt(this.firstDirty - 1);
    this.fresh = this.nothingLeft;
    while (!this.fresh) {
      this.work(until);
      this.fresh = this.nothingLeft;
      if (until !== Number.POSITIVE_INFINITY && Date.now() >= until) break;
    }
    this.counters.linesExecuted += this.runner.linesExecuted;
    return this.fresh;
  }

  private movesSoFar = 0;

  /** True once every chunk was run, or read where the run never came through. */
  private get nothingLeft(): boolean {
    if (this.limitLine >= 0) return true;
    if (this.firstDirty < this.straightChunks) return false;
    return this.flow === undefined || (this.flow.isDone && this.firstUnread >= this.list.length);
  }

  /** One piece of work. */
  private work(until: number): void {
    const { flow } = this;
    if (this.firstDirty < this.straightChunks) this.runNextChunk();
    else if (flow !== undefined && !flow.isDone) {
      if (!flow.runSlice(until)) this.leaveFlow();
    } else this.readChunk(this.firstUnread++);
  }

  /** Runs the first dirty chunk of those that run straight on. */
  private runNextChunk(): void {
    const index = this.firstDirty;
    if (this.list[index].dirty) this.runChunk(index);
    if (this.list[index] === this.flowHead) return;
    this.firstDirty = index + 1;
    this.movesSoFar += this.list[index].segment?.moves.count ?? 0;
    if (this.movesSoFar > this.configuration.limits.moves && index + 1 < this.list.length) this.stopAt(index);
  }

  /** Reads the lines of a chunk that the run never came through. */
  private readChunk(index: number): void {
    const chunk = this.list[index];
    if (this.flow === undefined || index < (this.flowHead?.index ?? 0) || chunk.reads !== undefined) return;
    const visited = this.flow.visitedLines(chunk);
    const reads: Segment[] = [];
    for (let line = 0; line < chunk.lineCount; line++) {
      if (visited?.[line] === 1) continue;
      const first = line;
      while (line < chunk.lineCount && visited?.[line] !== 1) line++;
      reads.push(this.runner.read(chunk.text, first, line - first));
    }
    chunk.reads = reads;
  }

  /** Share of the program that is up to date, 0 to 1; of a run with jumps, whose end nobody knows, the share of its limits. */
  get progress(): number {
    if (this.list.length === 0 || this.flow?.isDone) return 1;
    const straight = this.firstDirty / this.list.length;
    return straight + (1 - straight) * (this.flow?.shareOfLimits ?? 0);
  }

  /** Why and where the path is not whole; undefined where it is. Lines from 0. */
  get stopped(): { readonly line: number; readonly why: string } | undefined {
    if (this.limitLine >= 0) {
      const moves = this.configuration.limits.moves;
      return { line: this.limitLine, why: `more than ${moves} moves` };
    }
    const { stop } = this.flow ?? {};
    if (stop !== undefined) return { line: lineOfSpot(stop.spot), why: wordStop(stop, this.configuration.limits) };
    const facts = this.gather().of(FactKind.notExecuted);
    const fact = facts.find(({ text }) => text.startsWith('code '));
    return fact === undefined ? undefined : { line: fact.line, why: `${fact.text.slice(5)} is not executed yet` };
  }

  /** The machine before a line. */
  stateBefore(line: number): MachineState {
    return this.stateInside(line, 0);
  }

  /** The machine after a line. In a loop: after its first pass. */
  stateAfter(line: number): MachineState {
    return this.stateInside(line, 1);
  }

  /** The machine behind `more` lines from `line` on. */
  private stateInside(line: number, more: number): MachineState {
    const { executor } = this.runner.judge;
    const known = this.replayTo(line, more);
    return {
      modes: known ? Float64Array.from(executor.modes) : new Float64Array(MODE_COUNT),
      position: known ? Float64Array.from(executor.position) : new Float64Array(AXIS_COUNT).fill(Number.NaN),
      variables: known ? this.runner.variables.snapshot() : new Map(),
    };
  }

  /** Executes again what leads to a line, and `more` lines from there; false for a line that is never reached. */
  private replayTo(line: number, more: number): boolean {
    const { chunk, inside, segment } = this.firstPassAt(line);
    if (segment === undefined) return false;
    this.runner.replay(chunk.text, segment, Math.min(inside + more - segment.firstLine, segment.blockCount));
    return true;
  }

  /** The chunk of a line, the line in it, and the segment that comes through it first; none for a line that is never reached. */
  private firstPassAt(line: number): { chunk: RunChunk; inside: number; segment: Segment | undefined } {
    const chunk = this.list[this.chunkOfLine(line)];
    const inside = line - this.firstLines[chunk.index];
    return { chunk, inside, segment: chunk.segment ?? this.flow?.firstPassThrough(chunk, inside) };
  }

  /** True if the run comes to a line. */
  isReached(line: number): boolean {
    return this.firstPassAt(line).segment !== undefined;
  }

  /** How often the run came back to a line: at a loop's head, its passes in all. */
  timesBackAt(line: number): number {
    const chunk = this.list[this.chunkOfLine(line)];
    return this.flow?.timesBackAt(chunk, line - this.firstLines[chunk.index]) ?? 0;
  }

  /** How often a program of this text was called, repeats counted. */
  timesCalled(number: number): number {
    return this.flow?.called.get(number) ?? 0;
  }

  /** Programs, sequence numbers and loops as they are written. */
  get layout(): ProgramLayout {
    return this.source.layout;
  }

  /** True for a file that ends in M99 or M17 and neither changes a tool nor selects an offset. */
  get isSubprogramFile(): boolean {
    return this.gather().isSubprogramFile;
  }

  /** A variable before a line, the control's own among them; undefined where it holds nothing, NaN where it is not known. */
  variableBefore(line: number, name: VariableName): number | undefined {
    return this.replayTo(line, 0) ? this.runner.variables.get(name) : undefined;
  }

  /** Where a called program is: in this text, in a file of the folder, still to come, or nowhere. */
  whereIsProgram(number: number): 'here' | 'file' | 'loading' | 'nowhere' {
    if (this.source.layout.unitOfNumber(number) !== undefined) return 'here';
    const found = this.host?.lookup(number) ?? 'absent';
    return found === 'absent' ? 'nowhere' : found === 'loading' ? found : 'file';
  }

  /** The words of a line, computed with the variables as they are before it. */
  readBlock(line: number): Block {
    const index = this.chunkOfLine(line);
    const chunk = this.list[index];
    const inside = line - this.firstLines[index];
    const block = new Block();
    if (inside < 0 || inside >= chunk.lineCount) return block;
    const { runner } = this;
    this.replayTo(line, 0);
    runner.reader.read(
      chunk.text.source,
      chunk.text.lineStart(inside),
      chunk.text.lineEnd(inside),
      block,
      runner.variables,
    );
    return block;
  }

  /** What the segments tell, as rules across the program read it. */
  programFacts(): ProgramFacts {
    return this.gather();
  }

  /** What the rules found, in order, at most 1,000 a rule. */
  findings(): Findings {
    this.updateFirstLines();
    const passages = Array.from(this.runPassages());
    return new FindingsOfRun({
      configuration: this.configuration,
      passages,
      facts: this.gather(passages),
      inFlow: this.flow !== undefined,
      found: this.joins.kept,
      lineCount: this.lineCount,
      lineText: (line) => this.lineText(line),
      repairs: (line, rule) => this.arcRepairs?.at(line, rule) ?? [],
    }).all();
  }

  /** The search for repairs of wrong arcs in the text as it is now; undefined while the text is not up to date. */
  get arcRepairs(): ArcRepairs | undefined {
    if (!this.fresh) return undefined;
    this.repairs ??= new ArcRepairs({
      configuration: this.configuration,
      modePool: this.modePool,
      lineCount: this.lineCount,
      lineText: (line) => this.lineText(line),
      readBlock: (line) => this.readBlock(line),
      entryBefore: (line) => this.entryBefore(line),
    });
    return this.repairs;
  }

  /** The machine before a line; undefined for a line that is never reached. */
  private entryBefore(line: number): SegmentEntry | undefined {
    const { chunk, inside, segment } = this.firstPassAt(line);
    return segment && this.runner.entryInside(chunk.text, segment, inside - segment.firstLine);
  }

  private gather(passages?: readonly ChunkPassage[]): GatheredFacts {
    this.updateFirstLines();
    const { stop } = this.flow ?? {};
    return new GatheredFacts({
      configuration: this.configuration,
      pool: this.modePool,
      lineCount: this.lineCount,
      passages: passages ?? Array.from(this.runPassages()),
      inFlow: this.flow !== undefined,
      layout: () => this.source.layout,
      lineText: (line) => this.lineText(line),
      cutOffLine: this.limitLine,
      stop: stop === undefined ? undefined : { ...stop, line: lineOfSpot(stop.spot), loop: this.flow?.loopOfStop() },
      isKnownProgram: (number) => this.whereIsProgram(number) !== 'nowhere',
      fileOfProgram: (number) => this.fileOfProgram(number),
    });
  }

  private fileOfProgram(number: number): string | undefined {
    if (this.source.layout.unitOfNumber(number) !== undefined) return undefined;
    const found = this.host?.lookup(number);
    return typeof found === 'object' ? found.text : undefined;
  }

  /** All segments in the order of the run, then those of lines that are never reached. Moves of `pass` 0 there are none. */
  passages(): Iterable<Passage> {
    this.updateFirstLines();
    return this.runPassages();
  }

  private *runPassages(): Generator<ChunkPassage> {
    const { flow, list } = this;
    const straight = this.straightChunks;
    for (let i = 0; i < straight; i++) {
      const passage = list[i].passageAt(this.firstLines[i]);
      if (passage !== undefined) yield passage;
    }
    if (flow === undefined) return;
    for (const passage of flow.passages) {
      const { segment } = passage;
      const chunk = passage.home as RunChunk;
      const inChunk = firstCounted(passage);
      yield { chunk, text: chunk.text, inChunk, segment, firstLine: this.firstLines[chunk.index] + inChunk };
    }
    for (let i = straight; i < list.length; i++) {
      for (const segment of list[i].reads ?? []) {
        const inChunk = segment.firstLine;
        yield { chunk: list[i], text: list[i].text, inChunk, segment, firstLine: this.firstLines[i] + inChunk };
      }
    }
  }

  /** True if the program has no jumps, loops or calls that were carried out. */
  get runsStraight(): boolean {
    return this.flowHead === undefined;
  }

  /** Chunks before the first jump, loop or call. */
  get straightChunks(): number {
    return this.flowHead?.index ?? this.list.length;
  }

  /** This program's text as a run with jumps sees it. */
  private ownSource(): FlowSource {
    const analysis = this;
    return {
      isMain: true,
      get lineCount() {
        return analysis.lineCount;
      },
      get layout() {
        analysis.programLayout ??= new ProgramLayout(
          analysis.list.map(({ text }) => text),
          (index) => analysis.chunkFirstLine(index),
          analysis.lineCount,
          analysis.configuration.profile,
        );
        return analysis.programLayout;
      },
      locate: (line) => {
        const chunk = analysis.list[analysis.chunkOfLine(line)];
        return { chunk, line: line - analysis.firstLines[chunk.index] };
      },
      firstLineOf: (chunk) => analysis.chunkFirstLine((chunk as RunChunk).index),
    };
  }

  private runChunk(index: number): void {
    const chunk = this.list[index];
    const entry = this.list[index - 1]?.exit ?? this.runner.firstEntry;
    const stretch = { first: 0, most: chunk.lineCount, pass: 1, inFlow: false };
    const segment = this.runner.run(chunk.text, stretch, entry, chunk.segment, chunk.changed);
    if (this.runner.lastEnd !== undefined && this.runner.lastEnd.kind !== 'through') {
      this.enterFlow(chunk, entry);
      return;
    }
    chunk.segment = segment;
    chunk.changed = undefined;
    chunk.dirty = false;
    chunk.version = ++this.version;
    const exit = this.runner.exitOf(chunk.segment);
    chunk.exit = exit;
    const next = this.list[index + 1];
    if (next?.segment !== undefined && !next.dirty && !sameEntry(exit, next.segment.entry)) next.dirty = true;
    if (next !== undefined && next === this.flowHead) this.meetFlow(next, exit);
  }

  /** The straight chunks before a run with jumps were run again: it begins anew where what it depends on changed. */
  private meetFlow(head: RunChunk, exit: SegmentEntry): void {
    const { flow } = this;
    if (flow === undefined) return;
    const moves = this.movesBefore(head.index);
    if (flow.stop === undefined && flow.isDone && sameEntry(exit, flow.entry) && flow.startsBehind(moves)) return;
    this.enterFlow(head, exit);
  }

  /** From this chunk on the program jumps, loops or calls. */
  private enterFlow(head: RunChunk, entry: SegmentEntry): void {
    for (let i = Math.min(head.index, this.flowHead?.index ?? head.index); i < this.list.length; i++)
      this.list[i].forget();
    this.flowHead = head;
    this.firstDirty = head.index;
    this.firstUnread = head.index;
    this.flow = new FlowRun({
      runner: this.runner,
      source: this.source,
      host: this.host,
      limits: this.configuration.limits,
      firstLine: this.chunkFirstLine(head.index),
      entry,
      movesBefore: this.movesBefore(head.index),
    });
  }

  /** Ends the run behind a chunk: the number of moves went over the limit. */
  private stopAt(index: number): void {
    this.limitLine = this.chunkFirstLine(index + 1);
    for (let i = index + 1; i < this.list.length; i++) this.list[i].forget();
  }

  /** Moves of the chunks before `index`. */
  private movesBefore(index: number): number {
    let moves = 0;
    for (let i = 0; i < index; i++) moves += this.list[i].segment?.moves.count ?? 0;
    return moves;
  }

  private markDirty(index: number): void {
    this.list[index].dirty = true;
    this.firstDirty = Math.min(this.firstDirty, index);
  }

  private updateFirstLines(): void {
    if (!this.firstLinesStale) return;
    this.firstLines = new Int32Array(this.list.length + 1);
    for (let i = 0; i < this.list.length; i++) {
      this.list[i].index = i;
      this.firstLines[i + 1] = this.firstLines[i] + this.list[i].lineCount;
    }
    this.firstLinesStale = false;
  }
}
