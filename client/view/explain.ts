// Questions about single moves that the view asks the extension, and their answers.
import type { PathMove, PathMoveRequest } from '../../server/src/core/geometry/pathRequestMove.ts';
import type { FromView } from './messages.ts';

/** Asks, and brings each answer to the one who asked. */
export class Explanations {
  readonly #say: (message: FromView) => void;
  readonly #waiting = new Map<number, (move: PathMove | null) => void>();
  #lastTicket = 0;

  constructor(say: (message: FromView) => void) {
    this.#say = say;
  }

  /** The move with its numbers and words; null where the line moves nothing. An answer may never come. */
  ask(asked: PathMoveRequest): Promise<PathMove | null> {
    const ticket = ++this.#lastTicket;
    this.#say({ type: 'explain', ticket, ...asked });
    return new Promise((resolve) => this.#waiting.set(ticket, resolve));
  }

  /** An answer has come. */
  take(ticket: number, move: PathMove | null): void {
    this.#waiting.get(ticket)?.(move);
    this.#waiting.delete(ticket);
  }

  /** Another program is shown: what was asked about the last one is of no use any more. */
  forget(): void {
    this.#waiting.clear();
  }
}
