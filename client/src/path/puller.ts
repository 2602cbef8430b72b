// Pulls a program's path from the server: first the list of its pieces, then those that the view has not got yet.
import { INDEX_CHUNK, isPathIndex, type PathIndex } from '../../../server/src/core/geometry/pathRequest.ts';
import type { ToView } from '../../view/messages.ts';
import type { PathChannel } from './channel.ts';

/** Says something to the view; false where nobody hears it (a hidden view drops messages). */
export type Say = (message: ToView) => Promise<boolean>;

/** The path of one program on its way to the view. One request is under way at a time. */
export class PathPuller {
  readonly #uri: string;
  readonly #channel: PathChannel;
  readonly #say: Say;
  /** Pieces that the view has, by the view's numbers: the server's and the shift. */
  #held = new Set<number>();
  #shift = 0;
  #highest = -1;
  /** How often the view has begun anew; what was said to it before that counts for nothing. */
  #round = 0;
  #wanted = false;
  #running = false;
  #ended = false;

  constructor(uri: string, channel: PathChannel, say: Say) {
    this.#uri = uri;
    this.#channel = channel;
    this.#say = say;
  }

  /** The program's path has changed, or may have. */
  changed(): void {
    this.#wanted = true;
    if (!this.#running) {
      this.#running = true;
      void this.#run();
    }
  }

  /** The view has lost everything and begins again. */
  restart(): void {
    this.#held.clear();
    this.#round++;
    this.changed();
  }

  /** Another server numbers its pieces from the beginning: for the view they go on behind all it has seen. */
  serverChanged(): void {
    this.#shift = this.#highest + 1;
    this.changed();
  }

  /** Another program is shown: what is still under way is dropped. */
  end(): void {
    this.#ended = true;
  }

  async #run(): Promise<void> {
    try {
      while (this.#wanted && !this.#ended) {
        this.#wanted = false;
        await this.#pull();
      }
    } catch (error) {
      if (!this.#ended) {
        await this.#say({ type: 'trouble', text: (error as Error).message });
      }
    } finally {
      this.#running = false;
    }
  }

  async #pull(): Promise<void> {
    const shift = this.#shift;
    const list = await this.#request(INDEX_CHUNK);
    const index = shifted(readIndex(list), shift);
    if (shift !== this.#shift) {
      return;
    }
    if (this.#ended || !(await this.#say({ type: 'index', uri: this.#uri, index }))) {
      return;
    }
    const current = new Set(index.pieces.map(({ id }) => id));
    for (const id of current) {
      this.#highest = Math.max(this.#highest, id);
    }
    this.#held = new Set([...this.#held].filter((id) => current.has(id)));
    for (const { id } of index.pieces) {
      // A newer list makes the rest of this one worthless.
      if (this.#wanted || this.#ended) {
        return;
      }
      if (this.#held.has(id)) {
        continue;
      }
      const data = await this.#request(id - shift);
      // Empty: the program has changed since the list was made; the server says so when it is through.
      if (this.#ended || data.byteLength === 0) {
        return;
      }
      const round = this.#round;
      if (!(await this.#say({ type: 'piece', uri: this.#uri, id, data })) || round !== this.#round) {
        return;
      }
      this.#held.add(id);
    }
  }

  #request(chunk: number): Promise<ArrayBuffer> {
    return this.#channel.request({ uri: this.#uri, version: 0, chunk, layer: 'program' });
  }
}

function shifted(index: PathIndex, shift: number): PathIndex {
  return { ...index, pieces: index.pieces.map((piece) => ({ ...piece, id: piece.id + shift })) };
}

function readIndex(data: ArrayBuffer): PathIndex {
  const index: unknown = JSON.parse(new TextDecoder().decode(data));
  if (!isPathIndex(index)) {
    throw new Error('the list of the path cannot be read');
  }
  return index;
}
