/** What the command line prints, and how it ends. */

/** Something that cannot be done as asked: one line on standard error, nothing on standard output, exit code 2. */
export class UsageError extends Error {
  /** Lines below the first, one for each thing that is wrong where there are several. */
  readonly details: readonly string[];

  constructor(message: string, details: readonly string[] = []) {
    super(message);
    this.details = details;
  }
}

/** Exit codes: nothing of severity error, errors found, cannot be used. */
export const ExitCode = { fine: 0, errors: 1, unusable: 2 } as const;

/** Characters that are gathered before they are handed on. */
const BATCH = 65_536;

/**
 * Standard output: waits where the reader is slow, so that a long answer needs no room, and is content where the reader
 * goes early (`| head`).
 */
export class Output {
  private readonly stream: NodeJS.WriteStream;
  private waiting = '';
  private gone = false;

  constructor(stream: NodeJS.WriteStream) {
    this.stream = stream;
    stream.on('error', (error: NodeJS.ErrnoException) => {
      this.gone = true;
      if (error.code !== 'EPIPE') sayOnError(`standard output cannot be written: ${error.message}`, ExitCode.unusable);
    });
  }

  /** True if nobody reads any more: nothing needs to be made for them. */
  get isGone(): boolean {
    return this.gone;
  }

  /** Prints text, in its turn. */
  async write(text: string): Promise<void> {
    this.waiting += text;
    if (this.waiting.length >= BATCH) await this.flush();
  }

  /** Hands on what is gathered; resolves when there is room for more. */
  async flush(): Promise<void> {
    const text = this.waiting;
    this.waiting = '';
    if (text === '' || this.gone || this.stream.write(text)) return;
    await new Promise<void>((resolve) => {
      const done = () => {
        this.stream.off('drain', done).off('close', done).off('error', done);
        resolve();
      };
      this.stream.on('drain', done).on('close', done).on('error', done);
    });
  }
}

/** Something to be told beside what was done, that kept nothing back: a line on standard error. */
export function cautionOnError(message: string): void {
  process.stderr.write(`Caution: ${message.replaceAll(/\s*\n\s*/g, ' ')}\n`);
}

/** One line on standard error. The exit code is set where one is given. */
export function sayOnError(message: string, exitCode?: number): void {
  process.stderr.write(`blockwright: ${message.replaceAll(/\s*\n\s*/g, ' ')}\n`);
  if (exitCode !== undefined) process.exitCode = exitCode;
}

/** Puts a colour around text; ANSI numbers of ECMA-48. */
export type Paint = (colour: number, text: string) => string;

/** Paints on a terminal, unless NO_COLOR is set and not empty. */
export function painter(stream: { readonly isTTY?: boolean }): Paint {
  const paints = stream.isTTY === true && (process.env.NO_COLOR ?? '') === '';
  return (colour, text) => (paints ? `\u001b[${colour}m${text}\u001b[0m` : text);
}

/** Work that takes longer shows how far it is, ms. */
const PROGRESS_AFTER = 500;

/** A line on the terminal that says how far long work is; nothing where standard error is no terminal. */
export class Progress {
  private readonly begun = Date.now();
  private shown = '';

  /** Shows the share (0 to 1) of the work on `name` that is done. */
  show(name: string, share: number): void {
    if (process.stderr.isTTY !== true || Date.now() - this.begun < PROGRESS_AFTER) return;
    const line = `${name}: ${Math.floor(share * 100)} %`;
    if (line === this.shown) return;
    this.clear();
    this.shown = line;
    process.stderr.write(line);
  }

  /** Takes the line away. */
  clear(): void {
    if (this.shown !== '') process.stderr.write(`\r${' '.repeat(this.shown.length)}\r`);
    this.shown = '';
  }
}
