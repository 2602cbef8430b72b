/**
 * Brings programs up to date: what is short at once, what is long in slices between which messages come in. Nobody
 * waits for a run but those who ask for its outcome.
 */
import { type CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { type IdleTimes, untilIdle } from './idle.ts';
import { invalidParams } from './params.ts';
import type { Program } from './programs.ts';

/** The first slice, long enough for any local edit, and those of a long run: an answer takes a few turns, each a slice long. ms. */
const FIRST_SLICE = 8;
const LATER_SLICE = 4;
/** A run that takes longer shows its progress, ms. */
const PROGRESS_AFTER = 500;
/** Time between two reports of progress, ms. */
const REPORT_EVERY = 200;

/** Shows that a long run is under way. */
export interface RunProgress {
  readonly isCancelled: boolean;
  /** `share` of the work that is done, 0 to 1. */
  report(share: number): void;
  done(): void;
}

/** When what takes its time may begin, and its slices, ms. */
const IDLE: IdleTimes = { after: 300, look: 20 };
const IDLE_SLICE = 2;

/** What the runs need of the server. */
export interface RunHooks {
  pause(): Promise<void>;
  showProgress(): Promise<RunProgress | undefined>;
  /** Called after every run that came to its end. */
  finished(program: Program): void;
  /** Called when something else was found after a finished run, which then counts as another one. */
  foundMore(program: Program): void;
  /** Called when a run broke off by a slip of our own; `program.failure` says where. */
  failed(program: Program): void;
}

/** Runs programs, one slice at a time each. */
export class Runs {
  private readonly hooks: RunHooks;

  constructor(hooks: RunHooks) {
    this.hooks = hooks;
  }

  /** Runs the first slice at once; true if the program is up to date after it. A longer run goes on by itself. */
  start(program: Program): boolean {
    if (!program.isDirty && program.awaited === undefined) {
      if (!isHeld(program)) this.settle(program);
      return true;
    }
    if (!program.isConfigured || program.run || isHeld(program)) return false;
    if (this.slice(program, FIRST_SLICE)) return true;
    if (!isHeld(program)) {
      program.run = this.goOn(program).finally(() => {
        program.run = undefined;
        this.start(program);
      });
    }
    return false;
  }

  /** Resolves when the program is up to date; rejects with an error answer when that is cancelled or it is closed. */
  async upToDate(program: Program, token?: CancellationToken): Promise<void> {
    while (!this.start(program)) {
      if (program.isClosed) throw invalidParams(`${program.uri} is not open`);
      if (program.isStopped) throw stopped(program);
      await unlessCancelled(program.run ?? program.awaited ?? program.configured, token);
      if (token?.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
    }
  }

  /** One slice; true if the program is up to date. A slip of our own stops the run and never the server. */
  private slice(program: Program, milliseconds: number): boolean {
    try {
      if (!program.analysis.runSlice(milliseconds) || program.awaited) return false;
      program.isDirty = false;
      program.runCount++;
      program.finishedAt = performance.now();
      this.hooks.finished(program);
      this.settle(program);
      return true;
    } catch (error) {
      this.fail(program, error);
      return false;
    }
  }

  private fail(program: Program, error: unknown): void {
    program.isStopped = true;
    program.failure = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.hooks.failed(program);
  }

  /** Resolves when all findings of a program are there, also those that are left for when nothing else is to do. */
  async settled(program: Program, token?: CancellationToken): Promise<void> {
    await this.upToDate(program, token);
    while (!program.analysis.isSettled) {
      if (program.isClosed) throw invalidParams(`${program.uri} is not open`);
      if (program.isStopped) throw stopped(program);
      program.isSettlingWanted = true;
      this.settle(program);
      await unlessCancelled(program.settling ?? Promise.resolve(), token);
      if (token?.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
      await this.upToDate(program, token);
    }
  }

  /** Begins with what was left over, in its time, unless it is under way. */
  private settle(program: Program): void {
    if (program.settling !== undefined || program.analysis.isSettled) return;
    program.settling = this.goOnSettling(program)
      .catch((error: unknown) => this.fail(program, error))
      .finally(() => {
        program.settling = undefined;
        program.isSettlingWanted = false;
        if (!program.isDirty && !isHeld(program)) this.settle(program);
      });
  }

  /** Works in short slices once nothing came in for a while; ends early where the program is run again. */
  private async goOnSettling(program: Program): Promise<void> {
    await untilIdle(program, IDLE, () => program.isSettlingWanted);
    const { runCount } = program;
    const { settledVersion } = program.analysis;
    do {
      await this.hooks.pause();
      if (program.isDirty || program.runCount !== runCount || isHeld(program)) return;
    } while (!program.analysis.settle(IDLE_SLICE));
    if (program.analysis.settledVersion === settledVersion) return;
    program.runCount++;
    this.hooks.foundMore(program);
  }

  private async goOn(program: Program): Promise<void> {
    const sight = new ProgressSight(this.hooks);
    do {
      await this.hooks.pause();
      if (sight.look(program.analysis.progress)) program.isStopped = true;
    } while (!isHeld(program) && !this.slice(program, LATER_SLICE));
    sight.end();
  }
}

/** True for a program that is not to be run now: it is closed, stopped, or waits for its subprograms' files. */
const isHeld = (program: Program): boolean => program.isClosed || program.isStopped || program.awaited !== undefined;

/** Shows the progress of one run once it takes long. */
class ProgressSight {
  private readonly hooks: RunHooks;
  private readonly start = performance.now();
  private reported = 0;
  private asked: Promise<RunProgress | undefined> | undefined;
  private shown: RunProgress | undefined;

  constructor(hooks: RunHooks) {
    this.hooks = hooks;
  }

  /** Called between slices with the share done; true if the user wants the run to stop. */
  look(share: number): boolean {
    const now = performance.now();
    if (!this.asked && now - this.start > PROGRESS_AFTER) {
      this.asked = this.hooks.showProgress().catch(() => undefined);
      this.asked.then((progress) => {
        this.shown = progress;
      });
    }
    if (this.shown && now - this.reported > REPORT_EVERY) {
      this.reported = now;
      this.shown.report(share);
    }
    return this.shown?.isCancelled === true;
  }

  /** The run is over. */
  end(): void {
    this.asked?.then((progress) => progress?.done());
  }
}

/** The error answer for a program whose run was stopped: by the user, or by a slip of our own. */
function stopped(program: Program): ResponseError<unknown> {
  if (program.failure !== undefined) return new ResponseError(ErrorCodes.InternalError, program.failure);
  return new ResponseError(LSPErrorCodes.ServerCancelled, 'stopped', { retriggerRequest: false });
}

/** Waits for `work`, or for the cancellation if that comes first. */
function unlessCancelled(work: Promise<void>, token: CancellationToken | undefined): Promise<void> {
  if (!token) return work;
  return new Promise((resolve, reject) => {
    const listener = token.onCancellationRequested(() => resolve());
    work.then(resolve, reject).finally(() => listener.dispose());
  });
}
