// The clock of a playback: seconds of the run that pass at a chosen rate, held at stops and at the end.
import { type RunStop, stopsBetween } from './playbackStops.ts';

/** How many times as fast as the machine a playback can run. */
export const RATES: readonly number[] = [0.25, 0.5, 1, 2, 5, 10, 25, 50, 100];

/** Longest time between two pictures that counts, s: a window that was hidden must not jump on when it comes back. */
const LONGEST_PAUSE = 1;

/** See the top of the file. */
export class RunClock {
  rate = 1;
  #seconds = 0;
  #isRunning = false;
  /** When the last picture was, ms. */
  #last: number | undefined;

  /** Second of the run. */
  get seconds(): number {
    return this.#seconds;
  }

  get isRunning(): boolean {
    return this.#isRunning;
  }

  run(): void {
    this.#isRunning = true;
    this.#last = undefined;
  }

  pause(): void {
    this.#isRunning = false;
  }

  /** Sets the clock; it goes on running if it does. */
  set(seconds: number): void {
    this.#seconds = seconds;
  }

  /**
   * A picture is drawn at `now` (ms, any start): goes on by what has passed since the last one, to `total` at most. Held
   * by stops, which it gives, and by the end.
   */
  tick(now: number, total: number, stops: readonly RunStop[]): RunStop[] {
    if (!this.#isRunning) {
      return [];
    }
    const passed = this.#last === undefined ? 0 : Math.min(LONGEST_PAUSE, Math.max(0, (now - this.#last) / 1000));
    this.#last = now;
    const reached = this.#seconds + passed * this.rate;
    const held = stopsBetween(stops, this.#seconds, Math.min(reached, total));
    if (held.length > 0) {
      this.#seconds = Math.min(held[0].seconds, total);
      this.pause();
    } else if (reached >= total) {
      this.#seconds = total;
      this.pause();
    } else {
      this.#seconds = reached;
    }
    return held;
  }
}
