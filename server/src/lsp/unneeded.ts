/**
 * What a program could do without, as hints that editors show dimmed. Looked for when nothing came in for a while; what was
 * found keeps its lines through edits until then, so that a keystroke costs nothing more.
 */
import { type Diagnostic, DiagnosticSeverity, DiagnosticTag } from 'vscode-languageserver';
import { type Unneeded, unneeded } from '../core/features/unneeded.ts';
import type { LineChunk } from '../core/text/lineChunk.ts';
import { toRange } from './convert.ts';
import { type IdleTimes, untilIdle, wait } from './idle.ts';
import type { Program } from './programs.ts';

/** When the search may begin. */
const IDLE: IdleTimes = { after: 500, look: 50 };

/** What the search needs of the server. */
export interface UnneededHooks {
  pause(): Promise<void>;
  /** The setting `blockwright.dim` of a program. */
  isOn(program: Program): Promise<boolean>;
  /** Called when something else was found than is shown. */
  changed(program: Program): void;
}

/** What was found in one program, in the text that `chunks` are. */
interface Shown {
  chunks: readonly LineChunk[];
  runCount: number;
  found: readonly Unneeded[];
  items: readonly Diagnostic[];
}

const NOTHING: readonly Diagnostic[] = [];

/** Searches programs and keeps what was found. */
export class UnneededReports {
  private readonly hooks: UnneededHooks;
  private readonly shown = new WeakMap<Program, Shown>();
  /** Searches that wait or are under way. */
  private readonly looking = new WeakMap<Program, Promise<void>>();
  /** The run of each program that was searched last. */
  private readonly searched = new WeakMap<Program, number>();

  constructor(hooks: UnneededHooks) {
    this.hooks = hooks;
  }

  /** The hints of a program that is up to date; the same list as long as they are the same. */
  of(program: Program): readonly Diagnostic[] {
    const shown = this.shown.get(program);
    if (shown === undefined || shown.found.length === 0) return NOTHING;
    if (shown.runCount !== program.runCount) this.follow(program, shown);
    return shown.items;
  }

  /** Searches the program when its time has come; called after each of its runs. */
  look(program: Program): void {
    if (this.looking.has(program) || this.searched.get(program) === program.runCount) return;
    const looking = this.goOn(program, true)
      .catch(() => undefined)
      .finally(() => {
        this.looking.delete(program);
      });
    this.looking.set(program, looking);
  }

  /** Searches it again although it is the same: the setting may be another one. */
  lookAgain(program: Program): void {
    this.searched.delete(program);
    this.look(program);
  }

  /** Resolves when the program is searched. */
  async settled(program: Program): Promise<void> {
    if (this.searched.get(program) !== program.runCount) await this.goOn(program, false);
  }

  /** Until it has been through without a change between. */
  private async goOn(program: Program, waits: boolean): Promise<void> {
    while (!program.isClosed && this.searched.get(program) !== program.runCount) {
      if (waits) await untilIdle(program, IDLE);
      if (program.isClosed || program.isStopped) return;
      const { runCount } = program;
      const found = (await this.hooks.isOn(program)) ? await this.search(program) : [];
      if (found === undefined || program.isDirty || program.runCount !== runCount) {
        if (!waits) return;
        await wait(IDLE.look);
        continue;
      }
      this.searched.set(program, runCount);
      this.take(program, found);
    }
  }

  /** Undefined where the program changes meanwhile. */
  private async search(program: Program): Promise<readonly Unneeded[] | undefined> {
    const { runCount } = program;
    if (program.isDirty) return undefined;
    const steps = unneeded(program.analysis, program.configuration);
    for (;;) {
      const step = steps.next();
      if (step.done) return step.value;
      await this.hooks.pause();
      if (program.isDirty || program.isClosed || program.runCount !== runCount) return undefined;
    }
  }

  private take(program: Program, found: readonly Unneeded[]): void {
    const shown = this.shown.get(program);
    if (shown !== undefined && shown.runCount !== program.runCount) this.follow(program, shown);
    const isSame = sameStretches(shown?.found ?? [], found);
    const items = isSame ? (shown?.items ?? NOTHING) : found.map(toHint);
    this.shown.set(program, { chunks: chunksOf(program), runCount: program.runCount, found, items });
    if (!isSame) this.hooks.changed(program);
  }

  /** Moves what was found along with its lines; what stood in changed lines goes. */
  private follow(program: Program, shown: Shown): void {
    const chunks = chunksOf(program);
    const edit = editedLines(shown.chunks, chunks);
    const found: Unneeded[] = [];
    for (const stretch of shown.found) {
      if (stretch.endLine < edit.start) found.push(stretch);
      else if (stretch.line >= edit.oldEnd) found.push(moved(stretch, edit.newEnd - edit.oldEnd));
    }
    if (!sameStretches(shown.found, found)) {
      shown.found = found;
      shown.items = found.map(toHint);
    }
    shown.chunks = chunks;
    shown.runCount = program.runCount;
  }
}

const toHint = (stretch: Unneeded): Diagnostic => ({
  range: toRange(stretch),
  severity: DiagnosticSeverity.Hint,
  source: 'blockwright',
  message: stretch.message,
  tags: [DiagnosticTag.Unnecessary],
});

const moved = (stretch: Unneeded, lines: number): Unneeded =>
  lines === 0 ? stretch : { ...stretch, line: stretch.line + lines, endLine: stretch.endLine + lines };

const chunksOf = ({ analysis }: Program): LineChunk[] => analysis.chunks.map((_, index) => analysis.chunkText(index));

const sameStretches = (a: readonly Unneeded[], b: readonly Unneeded[]): boolean =>
  a.length === b.length &&
  a.every((one, index) => {
    const other = b[index];
    return (
      one === other ||
      (one.line === other.line &&
        one.column === other.column &&
        one.endLine === other.endLine &&
        one.endColumn === other.endColumn &&
        one.message === other.message)
    );
  });

/** More chunks than these are not compared line by line. */
const MOST_CHUNKS = 4;

/** Which lines differ between two texts: old lines from `start` to before `oldEnd` became new lines to before `newEnd`. */
function editedLines(
  before: readonly LineChunk[],
  after: readonly LineChunk[],
): { readonly start: number; readonly oldEnd: number; readonly newEnd: number } {
  const least = Math.min(before.length, after.length);
  let front = 0;
  let start = 0;
  while (front < least && before[front] === after[front]) start += before[front++].lineCount;
  let back = 0;
  while (back < least - front && before[before.length - 1 - back] === after[after.length - 1 - back]) back++;
  const old = before.slice(front, before.length - back);
  const fresh = after.slice(front, after.length - back);
  const oldEnd = start + old.reduce((sum, { lineCount }) => sum + lineCount, 0);
  const newEnd = start + fresh.reduce((sum, { lineCount }) => sum + lineCount, 0);
  if (Math.max(old.length, fresh.length) > MOST_CHUNKS) return { start, oldEnd, newEnd };
  const [oldLines, newLines] = [linesOf(old), linesOf(fresh)];
  const most = Math.min(oldLines.length, newLines.length);
  let same = 0;
  while (same < most && oldLines[same] === newLines[same]) same++;
  let behind = 0;
  while (behind < most - same && oldLines[oldLines.length - 1 - behind] === newLines[newLines.length - 1 - behind])
    behind++;
  return { start: start + same, oldEnd: oldEnd - behind, newEnd: newEnd - behind };
}

const linesOf = (chunks: readonly LineChunk[]): string[] =>
  chunks.flatMap((chunk) => Array.from({ length: chunk.lineCount }, (_, line) => chunk.lineText(line)));
