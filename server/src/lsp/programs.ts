/** The open programs. The text lives in the analysis, as a table of lines: an edit costs nothing for the lines around it. */
import { Analysis } from '../core/checks/analysis.ts';
import type { SubprogramHost } from '../core/checks/flow/host.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { invalidParams, type TextChange } from './params.ts';
import { type PastedLines, pastedAfter } from './pasted.ts';

/** One open program and how far the server has got with it. */
export class Program {
  readonly uri: string;
  /** Version of the text as the client counts it. */
  version: number;
  readonly analysis: Analysis;
  /** Line end as found in the text first opened, for inserted lines. */
  readonly lineEnd: string;
  /** What the analysis runs under now. */
  configuration: Configuration = DEFAULT_CONFIGURATION;
  /** Resolves once the configuration is known that was asked for last. */
  configured: Promise<void> = Promise.resolve();
  isConfigured = false;
  /** Counts the times that the configuration was asked for, so that a late answer does not undo a newer one. */
  configureCount = 0;
  /** Something has changed since the last finished run. */
  isDirty = true;
  /** The user stopped the run; the next change starts it again. */
  isStopped = false;
  /** What broke the run off, where it was a slip of our own. */
  failure: string | undefined;
  isClosed = false;
  /** The lines that were put in at once last. */
  pasted: PastedLines | undefined;
  /** The run in slices that is under way. */
  run: Promise<void> | undefined;
  /** Counts finished runs, and what was found later when nothing else was to do. */
  runCount = 0;
  /** When the last run finished, ms as of `performance.now`. */
  finishedAt = 0;
  /** What is left for when nothing else is to do, while it is under way or waits for its time. */
  settling: Promise<void> | undefined;
  /** Somebody waits for all findings: it is not put off. */
  isSettlingWanted = false;

  /** Resolves when its subprograms' files are read, or have been waited for long enough; undefined where none is awaited. */
  awaited: Promise<void> | undefined;

  constructor(uri: string, version: number, text: string, hostFor?: (program: Program) => SubprogramHost) {
    this.uri = uri;
    this.version = version;
    this.analysis = new Analysis(text, DEFAULT_CONFIGURATION, hostFor?.(this));
    const firstEnd = text.indexOf('\n');
    this.lineEnd = firstEnd > 0 && text.charCodeAt(firstEnd - 1) === 13 ? '\r\n' : '\n';
  }

  /** Applies changes in their order; places past the end are moved to the end. */
  change(changes: readonly TextChange[]): void {
    this.pasted = pastedAfter(this.pasted, changes);
    for (const { range, text } of changes) {
      if (range === undefined) this.replaceAll(text);
      else this.replace(range.start.line, range.start.character, range.end.line, range.end.character, text);
    }
    this.markDirty();
  }

  /** Runs under another configuration from here on; true if it is another one. */
  configure(configuration: Configuration): boolean {
    this.isConfigured = true;
    if (JSON.stringify(configuration) === JSON.stringify(this.configuration)) return false;
    this.configuration = configuration;
    this.analysis.configure(configuration);
    this.markDirty();
    return true;
  }

  /** A subprogram's file came, or is another one now. */
  subprogramsChanged(): void {
    this.analysis.subprogramsChanged();
    this.markDirty();
  }

  private markDirty(): void {
    this.isDirty = true;
    this.isStopped = false;
    this.failure = undefined;
  }

  private replaceAll(text: string): void {
    const last = this.analysis.lineCount - 1;
    this.analysis.edit(0, 0, last, this.analysis.lineText(last).length, text);
  }

  private replace(line: number, column: number, endLine: number, endColumn: number, text: string): void {
    const last = this.analysis.lineCount - 1;
    const atEnd = Number.MAX_SAFE_INTEGER;
    const [from, fromColumn] = line > last ? [last, atEnd] : [line, column];
    const [to, toColumn] = endLine > last ? [last, atEnd] : [endLine, endColumn];
    if (to < from || (to === from && toColumn < fromColumn)) {
      this.edit(to, toColumn, from, fromColumn, text);
    } else {
      this.edit(from, fromColumn, to, toColumn, text);
    }
  }

  private edit(line: number, column: number, endLine: number, endColumn: number, text: string): void {
    const clamped = (at: number, wanted: number) => Math.min(wanted, this.analysis.lineText(at).length);
    this.analysis.edit(line, clamped(line, column), endLine, clamped(endLine, endColumn), text);
  }
}

/** All open programs by address. */
export class Programs {
  private readonly open = new Map<string, Program>();
  private readonly hostFor: ((program: Program) => SubprogramHost) | undefined;

  /** `hostFor` finds the subprograms of a program. */
  constructor(hostFor?: (program: Program) => SubprogramHost) {
    this.hostFor = hostFor;
  }

  /** Takes a program in; one that was open under the same address is closed. */
  add(uri: string, version: number, text: string): Program {
    this.remove(uri);
    const program = new Program(uri, version, text, this.hostFor);
    this.open.set(uri, program);
    return program;
  }

  /** Forgets a program. */
  remove(uri: string): Program | undefined {
    const program = this.open.get(uri);
    if (program) program.isClosed = true;
    this.open.delete(uri);
    return program;
  }

  /** The open program, or undefined. */
  get(uri: string): Program | undefined {
    return this.open.get(uri);
  }

  /** The open program; an error answer where it is not open. */
  need(uri: string): Program {
    const program = this.open.get(uri);
    if (!program) throw invalidParams(`${uri} is not open`);
    return program;
  }

  /** All of them. */
  all(): Iterable<Program> {
    return this.open.values();
  }
}
