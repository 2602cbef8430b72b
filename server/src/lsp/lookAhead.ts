/** Gets ready for questions about a long program while nobody asks: the first one then need not go through all of its lines. */
import { digestOf } from '../core/features/modeOriginDigest.ts';
import { type IdleTimes, untilIdle } from './idle.ts';
import type { Program } from './programs.ts';

/** When it may begin. */
const IDLE: IdleTimes = { after: 400, look: 100 };
/** Chunks at a time: a few milliseconds. */
const AT_ONCE = 64;
/** Shorter programs are gone through in no time. */
const LONG = 100;

/** Looks ahead in programs, one search each. */
export class LookAhead {
  private readonly pause: () => Promise<void>;
  private readonly looking = new WeakSet<Program>();

  constructor(pause: () => Promise<void>) {
    this.pause = pause;
  }

  /** Called after each run of a program; resolves when it has been gone through. */
  async look(program: Program): Promise<void> {
    if (this.looking.has(program) || program.analysis.chunks.length < LONG) return;
    this.looking.add(program);
    try {
      while (!(await this.goThrough(program)));
    } finally {
      this.looking.delete(program);
    }
  }

  /** False where it is another text by now: what was made ready stays with its lines. A program that is to be run asks again. */
  private async goThrough(program: Program): Promise<boolean> {
    await untilIdle(program, IDLE);
    const { version } = program;
    const chunks = program.analysis.chunks.length;
    for (let first = 0; first < chunks; first += AT_ONCE) {
      await this.pause();
      if (program.isClosed || program.isDirty) return true;
      if (program.version !== version) return false;
      for (let i = first; i < Math.min(first + AT_ONCE, chunks); i++) digestOf(program.analysis.chunkText(i));
    }
    return true;
  }
}
