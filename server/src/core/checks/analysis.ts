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
import { FactKind } from './facts.ts';
import {
  compareFindings,
  type Finding,
  type Findings,
  MOST_FINDINGS,
  placeFixes,
  severityOf,
  wordMessage,
} from './findings.ts';
import { readIgnores } from './ignores.ts';
import { editChunks, mergeChanges } from './lineEdits.ts';
import { GatheredFacts } from './programFacts.ts';
import type { Severity } from './rule.ts';
import { RULES } from './rules.ts';
import type { Segment, SegmentEntry, SegmentFinding } from './segment.ts';

export type { Finding, Findings };

/** Lines of a program with what came of executing them. A chunk lists its segments; a straight program has one each. */
export interface Chunk {
  readonly lineCount: number;
  readonly segments: readonly Segment[];
  /** Changes whenever the chunk's moves do. */
  readonly version: number;
}

/** The machine before or after a block. */
export interface MachineState {
  /** By `Mode`. */
  readonly modes: Float64Array;
  /** Work coordinates of X Y Z A B C U V W, mm and degrees, NaN unknown. */
  readonly position: Float64Array;
  readonly variables: ReadonlyMap<VariableName, number>;
}

class RunChunk implements Chunk {
  text: LineChunk;
  segment: Segment | undefined;
  exit: SegmentEntry | undefined;
  changed: ChangedLines | undefined;
  /** Must be run (again): text or state at its head changed. */
  dirty = true;
  version = 0;
  /** Rendered findings by the segment's own, kept while their line stays. */
  rendered: WeakMap<SegmentFinding, Finding> | undefined;

  constructor(text: LineChunk) {
    this.text = text;
  }

  get lineCount(): number {
    return this.text.lineCount;
  }

  get segments(): readonly Segment[] {
    return this.segment === undefined ? [] : [this.segment];
  }
}

const STOPPING = new Set(['flow', 'subprogram', 'macro-call']);
const WHY: Readonly<Record<string, string>> = {
  flow: 'jumps and loops are not executed yet',
  subprogram: 'subprogram calls are not executed yet',
  'macro-call': 'macro calls are not executed yet',
};

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

  /** Takes a text; nothing is read before `run`. */
  constructor(text: string, configuration: Configuration = DEFAULT_CONFIGURATION) {
    this.configuration = configuration;
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

  /** Text of a line without its line end. */
  lineText(line: number): string {
    const index = this.chunkOfLine(line);
    const { text } = this.list[index];
    const inside = line - this.firstLines[index];
    if (inside < 0 || inside >= text.lineCount) return '';
    return text.source.slice(text.lineStart(inside), text.lineEnd(inside));
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
    if (edit.changed !== undefined) {
      const chunk = this.list[edit.from];
      if (chunk.segment !== undefined) chunk.changed = mergeChanges(chunk.changed, edit.changed);
      this.firstLinesStale ||= chunk.text.lineCount !== edit.pieces[0].lineCount;
      chunk.text = edit.pieces[0];
      this.markDirty(edit.from);
      return;
    }
    this.list.splice(edit.from, edit.to - edit.from, ...edit.pieces.map((piece) => new RunChunk(piece)));
    this.firstLinesStale = true;
    this.firstDirty = Math.min(this.firstDirty, edit.from);
    if (edit.from < this.list.length) this.markDirty(edit.from);
  }

  /** Puts the program under another configuration. Only severities may change without a run. */
  configure(configuration: Configuration): void {
    const { rules: _rules, ...others } = configuration;
    const { rules: _oldRules, ...oldOthers } = this.configuration;
    this.configuration = configuration;
    for (const chunk of this.list) chunk.rendered = undefined;
    if (JSON.stringify(others) === JSON.stringify(oldOthers)) return;
    this.modePool = new ModePool();
    this.runner = new ChunkRunner(configuration, this.modePool);
    this.list = this.list.map((chunk) => new RunChunk(chunk.text));
    this.firstDirty = 0;
    this.fresh = false;
  }

  /** Brings everything up to date. */
  run(): void {
    while (!this.runSlice(Number.POSITIVE_INFINITY));
  }

  /** Works for about so many milliseconds; true if everything is up to date. */
  runSlice(milliseconds: number): boolean {
    if (this.fresh) return true;
    const until = milliseconds === Number.POSITIVE_INFINITY ? milliseconds : Date.now() + milliseconds;
    this.runner.linesExecuted = 0;
    let moves = this.movesBefore(this.firstDirty);
    if (this.limitLine >= 0) this.limitLine = -1;
    while (this.firstDirty < this.list.length && this.limitLine < 0) {
      const index = this.firstDirty;
      if (this.list[index].dirty) this.runChunk(index);
      this.firstDirty = index + 1;
      moves += this.list[index].segment?.moves.count ?? 0;
      if (moves > this.configuration.limits.moves && index + 1 < this.list.length) this.stopAt(index);
      if (until !== Number.POSITIVE_INFINITY && Date.now() >= until) break;
    }
    this.counters.linesExecuted += this.runner.linesExecuted;
    this.fresh = this.firstDirty >= this.list.length || this.limitLine >= 0;
    return this.fresh;
  }

  /** Share of the program that is up to date, 0 to 1. */
  get progress(): number {
    return this.list.length === 0 ? 1 : this.firstDirty / this.list.length;
  }

  /** Why and where the path is not whole; undefined where it is. Lines from 0. */
  get stopped(): { readonly line: number; readonly why: string } | undefined {
    if (this.limitLine >= 0) {
      const moves = this.configuration.limits.moves;
      return { line: this.limitLine, why: `more than ${moves} moves` };
    }
    const facts = this.gather().of(FactKind.notExecuted);
    const fact = facts.find(({ text }) => STOPPING.has(text) || text.startsWith('code '));
    return fact === undefined
      ? undefined
      : { line: fact.line, why: WHY[fact.text] ?? `${fact.text.slice(5)} is not executed yet` };
  }

  /** The machine before a line. */
  stateBefore(line: number): MachineState {
    const index = this.chunkOfLine(line);
    return this.stateInside(index, line - this.firstLines[index]);
  }

  /** The machine after a line. */
  stateAfter(line: number): MachineState {
    const index = this.chunkOfLine(line);
    return this.stateInside(index, line + 1 - this.firstLines[index]);
  }

  /** The machine behind the first `lines` lines of a chunk. */
  private stateInside(index: number, lines: number): MachineState {
    const { text, segment } = this.list[index];
    const { executor } = this.runner.judge;
    if (segment !== undefined) this.runner.replay(text, segment, Math.min(lines, text.lineCount));
    const known = segment !== undefined;
    return {
      modes: known ? Float64Array.from(executor.modes) : new Float64Array(MODE_COUNT),
      position: known ? Float64Array.from(executor.position) : new Float64Array(AXIS_COUNT).fill(Number.NaN),
      variables: known ? this.runner.variables.snapshot() : new Map(),
    };
  }

  /** The words of a line, computed with the variables as they are before it. */
  readBlock(line: number): Block {
    const index = this.chunkOfLine(line);
    const chunk = this.list[index];
    const inside = line - this.firstLines[index];
    const block = new Block();
    if (inside < 0 || inside >= chunk.lineCount) return block;
    const { runner } = this;
    if (chunk.segment !== undefined) runner.replay(chunk.text, chunk.segment, inside);
    runner.reader.read(
      chunk.text.source,
      chunk.text.lineStart(inside),
      chunk.text.lineEnd(inside),
      block,
      runner.variables,
    );
    return block;
  }

  /** What the rules found, in order, at most 1,000 a rule. */
  findings(): Findings {
    this.updateFirstLines();
    const facts = this.gather();
    const ignored = readIgnores(facts.of(FactKind.ignore), (line) => isBlank(this.lineText(line)), this.lineCount);
    const counts = new Map<string, number>();
    const more: Record<string, number> = {};
    const quiet = facts.isSubprogramFile;
    const found: Finding[] = [];
    const take: Take = (rule, message, line, make) => {
      const { code } = RULES[rule];
      const severity = severityOf(rule, message, this.configuration.profile, this.configuration.rules);
      if (severity === 'off' || ignored(code, line)) return;
      const count = (counts.get(code) ?? 0) + 1;
      counts.set(code, count);
      if (count <= MOST_FINDINGS) found.push(make(severity));
      else more[code] = count - MOST_FINDINGS;
    };
    this.list.forEach((chunk, index) => {
      if (chunk.segment === undefined || chunk.segment.findings.length === 0) return;
      const first = this.firstLines[index];
      for (const own of chunk.segment.findings) {
        if (quiet && RULES[own.rule].silentInSubprograms) continue;
        const line = first + own.line;
        take(own.rule, own.message, line, (severity) => this.render(chunk, own, line, severity));
      }
    });
    this.programFindings(facts, quiet, take);
    found.sort(compareFindings);
    return { findings: found, more };
  }

  private programFindings(facts: GatheredFacts, quiet: boolean, take: Take): void {
    RULES.forEach((rule, index) => {
      if (rule.program === undefined || (quiet && rule.silentInSubprograms)) return;
      rule.program(facts, (message, line, column, endColumn, data = {}, fixes = []) => {
        const own = { rule: index, message, line, column, endColumn, data, fixes };
        take(index, message, line, (severity) => wordFinding(own, line, severity));
      });
    });
  }

  private render(chunk: RunChunk, own: SegmentFinding, line: number, severity: Severity): Finding {
    chunk.rendered ??= new WeakMap();
    const known = chunk.rendered.get(own);
    if (known !== undefined && known.line === line) return known;
    const finding = wordFinding(own, line, severity);
    chunk.rendered.set(own, finding);
    return finding;
  }

  private gather(): GatheredFacts {
    this.updateFirstLines();
    return new GatheredFacts(
      this.configuration,
      this.list,
      this.modePool,
      this.lineCount,
      (index) => this.firstLines[index],
      (line) => this.lineText(line),
      { cutOffLine: this.limitLine, mostMoves: this.configuration.limits.moves },
    );
  }

  private runChunk(index: number): void {
    const chunk = this.list[index];
    const entry = this.list[index - 1]?.exit ?? this.runner.firstEntry;
    chunk.segment = this.runner.run(chunk.text, entry, chunk.segment, chunk.changed);
    chunk.changed = undefined;
    chunk.dirty = false;
    chunk.version = ++this.version;
    const exit = this.runner.exitOf(chunk.segment);
    chunk.exit = exit;
    const next = this.list[index + 1];
    if (next?.segment !== undefined && !next.dirty && !sameEntry(exit, next.segment.entry)) next.dirty = true;
  }

  /** Ends the run behind a chunk: the number of moves went over the limit. */
  private stopAt(index: number): void {
    this.limitLine = this.chunkFirstLine(index + 1);
    for (let i = index + 1; i < this.list.length; i++) {
      const chunk = this.list[i];
      chunk.segment = undefined;
      chunk.exit = undefined;
      chunk.changed = undefined;
      chunk.dirty = true;
    }
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
    for (let i = 0; i < this.list.length; i++) this.firstLines[i + 1] = this.firstLines[i] + this.list[i].lineCount;
    this.firstLinesStale = false;
  }
}

/** Takes a finding of a rule's message at a line, unless it is silenced; it is worded only if it is told. */
type Take = (rule: number, message: string, line: number, make: (severity: Severity) => Finding) => void;

/** A finding in words, at its line of the program. */
const wordFinding = (own: SegmentFinding, line: number, severity: Severity): Finding => ({
  rule: RULES[own.rule].code,
  severity,
  line,
  column: own.column,
  endLine: line,
  endColumn: own.endColumn,
  message: wordMessage(own.rule, own.message, own.data),
  fixes: placeFixes(own.fixes, line),
});

/** True for a line without a block: empty, or a remark alone. */
const isBlank = (text: string): boolean => /^\s*(\/\/.*|(\([^)]*\)\s*)*(;.*)?)$/.test(text);
