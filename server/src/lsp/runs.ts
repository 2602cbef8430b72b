/**
 * Brings programs up to date: what is short at once, what is long in slices between which messages come in. Nobody
 * waits for a run but those who ask for its outcome.
 */
import { type CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { invalidParams } from './params.ts';
import type { Program } from './programs.ts';

/** Longest time without letting messages in, ms. */
const SLICE = 8;
/** A run that takes longer shows its progress, ms. */
const PROGRESS_AFTER = 500;

/** Shows that a long run is under way. */
export interface RunProgress {
  readonly isCancelled: boolean;
  done(): void;
}

/** What the runs need of the server. */
export interface RunHooks {
  pause(): Promise<void>;
  showProgress(): Promise<RunProgress | undefined>;
  /** Called after every run that came to its end. */
  finished(program: Program): void;
}

/** Runs programs, one slice at a time each. */
export class Runs {
  private readonly hooks: RunHooks;

  constructor(hooks: RunHooks) {
    this.hooks = hooks;
  }

  /** Runs the first slice at once; true if the program is up to date after it. A longer run goes on by itself. */
  start(program: Program): boolean {
    if (!program.isDirty) return true;
    if (!program.isConfigured || program.run || program.isClosed || program.isStopped) return false;
    if (this.slice(program)) return true;
    program.run = this.goOn(program).finally(() => {
      program.run = undefined;
    });
    return false;
  }

  /** Resolves when the program is up to date; rejects with an error answer when that is cancelled or it is closed. */
  async upToDate(program: Program, token?: CancellationToken): Promise<void> {
    while (!this.start(program)) {
      if (program.isClosed) throw invalidParams(`${program.uri} is not open`);
      if (program.isStopped)
        throw new ResponseError(LSPErrorCodes.ServerCancelled, 'stopped', { retriggerRequest: false });
      await unlessCancelled(program.run ?? program.configured, token);
      if (token?.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
    }
  }

  private slice(program: Program): boolean {
    if (!program.analysis.runSlice(SLICE)) return false;
    program.isDirty = false;
    program.runCount++;
    this.hooks.finished(program);
    return true;
  }

  private async goOn(program: Program): Promise<void> {
    const start = performance.now();
    let progress: Promise<RunProgress | undefined> | undefined;
    let shown: RunProgress | undefined;
    do {
      await this.hooks.pause();
      if (program.isClosed) break;
      if (shown?.isCancelled) {
        program.isStopped = true;
        break;
      }
      if (!progress && performance.now() - start > PROGRESS_AFTER) {
        progress = this.hooks.showProgress();
        progress.then((value) => {
          shown = value;
        });
      }
    } while (!this.slice(program));
    progress?.then((value) => value?.done());
  }
}

/** Waits for `work`, or for the cancellation if that comes first. */
function unlessCancelled(work: Promise<void>, token: CancellationToken | undefined): Promise<void> {
  if (!token) return work;
  return new Promise((resolve, reject) => {
    const listener = token.onCancellationRequested(() => resolve());
    work.then(resolve, reject).finally(() => listener.dispose());
  });
}
