// A graphics card may drop what it holds, as when a laptop wakes up or a driver is renewed, and give it back later.

/** True words, while there is nothing to see. */
const LOST =
  'The graphics card has dropped the picture; it is drawn again as soon as the card is back. If it stays away, close the path and open it again.';

/** Watches the canvas that the path is drawn on. */
export class ContextLoss {
  #isLost = false;

  /** `changed` is called when the card has dropped the picture and when it can be drawn again. */
  constructor(canvas: HTMLCanvasElement, changed: () => void) {
    const set = (isLost: boolean): void => {
      this.#isLost = isLost;
      changed();
    };
    canvas.addEventListener('webglcontextlost', (event) => {
      // Otherwise the browser never gives it back.
      event.preventDefault();
      set(true);
    });
    canvas.addEventListener('webglcontextrestored', () => set(false));
  }

  /** What to say instead of the path; empty while it can be drawn. */
  get words(): string {
    return this.#isLost ? LOST : '';
  }
}
