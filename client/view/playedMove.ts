// Asks which pass through its line the playback rests in; while it runs nobody could read that.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { lineText } from './lineText.ts';
import type { ShownPiece } from './picture.ts';
import { lineOf, type RunPlace, styleOf } from './playPosition.ts';
import type { Way } from './sight.ts';

/** It rests where nothing has moved for so long, ms. */
const REST = 150;

/** See the top of the file. */
export class PlayedMove {
  readonly #explain: (way: Way) => Promise<PathMove | null>;
  readonly #changed: () => void;
  #asked = '';
  #words: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** `changed`: the words for the place that was asked about last have come. */
  constructor(explain: (way: Way) => Promise<PathMove | null>, changed: () => void) {
    this.#explain = explain;
    this.#changed = changed;
  }

  /** The words for a place; undefined until they are known. */
  at(pieces: readonly ShownPiece[], place: RunPlace): string | undefined {
    const piece = pieces[place.piece];
    const line = lineOf(pieces, place);
    const asked = `${piece.id} ${place.vertex} ${line}`;
    if (asked !== this.#asked) {
      this.forget();
      this.#asked = asked;
      if (line !== undefined && styleOf(piece, place.vertex) !== 0) {
        const way = { line, piece: piece.id, vertex: place.vertex };
        this.#timer = setTimeout(() => void this.#ask(way), REST);
      }
    }
    return this.#words;
  }

  /** It runs on. */
  forget(): void {
    clearTimeout(this.#timer);
    this.#asked = '';
    this.#words = undefined;
  }

  async #ask(way: Way): Promise<void> {
    const asked = this.#asked;
    const move = await this.#explain(way);
    if (move && asked === this.#asked) {
      this.#words = lineText(move);
      this.#changed();
    }
  }
}
