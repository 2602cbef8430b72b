// Says only the newest of what changes quickly, such as the cursor under a key that is held down.

/** Time between two of them, ms: more often than the eye sees a picture change in a row is for nothing. */
const PAUSE = 30;

/** See the top of the file. One is under way at a time. */
export class Latest<Said> {
  readonly #send: (said: Said) => Promise<unknown>;
  #waiting: { readonly said: Said } | undefined;
  #isBusy = false;

  constructor(send: (said: Said) => Promise<unknown>) {
    this.#send = send;
  }

  /** Sends it at once, or when the one before has come; what has been waiting until then is left out. */
  say(said: Said): void {
    this.#waiting = { said };
    if (!this.#isBusy) {
      this.#isBusy = true;
      void this.#run();
    }
  }

  async #run(): Promise<void> {
    while (this.#waiting) {
      const { said } = this.#waiting;
      this.#waiting = undefined;
      // Whether it was heard is not our concern: a view that begins again is told everything.
      await this.#send(said).catch(() => undefined);
      await new Promise((resolve) => setTimeout(resolve, PAUSE));
    }
    this.#isBusy = false;
  }
}
