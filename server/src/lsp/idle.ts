/** Waiting until nobody works on a program. */
import type { Program } from './programs.ts';

/** Resolves after a time, ms. */
export const wait = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/** How long nothing must have come in, and how often one looks whether it is so, ms. */
export interface IdleTimes {
  readonly after: number;
  readonly look: number;
}

/** Resolves once no run of a program has ended for a while; at once where it is closed or `isOver`. */
export async function untilIdle(program: Program, { after, look }: IdleTimes, isOver = () => false): Promise<void> {
  while (!program.isClosed && !isOver() && performance.now() - program.finishedAt < after) await wait(look);
}
