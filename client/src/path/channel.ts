// How the path comes from the language server: one question, one answer, one at a time.
import type { PathRequest } from '../../../server/src/core/geometry/pathRequest.ts';

/** Fetches the path's list of pieces or one piece; rejects where the server cannot answer. */
export interface PathChannel {
  request(header: PathRequest): Promise<ArrayBuffer>;
}

interface Waiting {
  readonly resolve: (data: ArrayBuffer) => void;
  readonly reject: (reason: Error) => void;
}

/** The questions that are under way, by number. */
export class PendingRequests {
  readonly #waiting = new Map<number, Waiting>();
  #last = 0;

  /** Gives the question a number and hands it to `send`. */
  open(send: (id: number) => void): Promise<ArrayBuffer> {
    const id = ++this.#last;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      send(id);
    });
  }

  answer(id: number, data: ArrayBuffer): void {
    this.#waiting.get(id)?.resolve(data);
    this.#waiting.delete(id);
  }

  fail(id: number, reason: string): void {
    this.#waiting.get(id)?.reject(new Error(reason));
    this.#waiting.delete(id);
  }

  /** The way is gone: nothing that is under way will be answered. */
  failAll(reason: string): void {
    for (const id of [...this.#waiting.keys()]) {
      this.fail(id, reason);
    }
  }
}
