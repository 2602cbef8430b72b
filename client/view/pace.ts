// Whether a large path is drawn in thin lines while the camera moves, because whole pictures come too slowly.

/** A picture that came so long after it was asked for is slow, ms: fewer than 20 of them in a second. */
const SLOW = 50;
/** The camera rests when it has not moved for so long, ms. */
const REST = 200;

/** Watches the pictures while the camera moves. */
export class Pace {
  readonly #rested: () => void;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isThin = false;

  /** `rested` is called when the camera rests after pictures in thin lines. */
  constructor(rested: () => void) {
    this.#rested = rested;
  }

  /** True while thin lines are to be drawn. */
  get isThin(): boolean {
    return this.#isThin;
  }

  /** The camera has moved. */
  moved(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#rest(), REST);
  }

  /** A picture of a large path comes so many ms after it was asked for. */
  waited(milliseconds: number): void {
    if (this.#timer !== undefined && milliseconds > SLOW) {
      this.#isThin = true;
    }
  }

  #rest(): void {
    this.#timer = undefined;
    if (this.#isThin) {
      this.#isThin = false;
      this.#rested();
    }
  }
}
