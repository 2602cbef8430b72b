// Pulls a program's path from the server: first the list of its pieces, then those that the view has not got yet.
import {
  INDEX_CHUNK,
  isPathIndex,
  type PathContent,
  type PathIndex,
} from '../../../server/src/core/geometry/pathRequest.ts';
import type { PathPlace } from '../../../server/src/core/geometry/pathSummary.ts';
import type { SideLayer, ToView } from '../../view/messages.ts';
import type { PathChannel } from './channel.ts';

/** Says something to the view; false where nobody hears it (a hidden view drops messages). */
export type Say = (message: ToView) => Promise<boolean>;

/** The path of one program on its way to the view. One request is under way at a time. */
export class PathPuller {
  readonly #uri: string;
  readonly #channel: PathChannel;
  readonly #say: Say;
  /** What the messages carry and the requests ask for, where it is not the program's own path. */
  readonly #side: { readonly layer?: SideLayer };
  /** Pieces that the view has, by the view's numbers: the server's and the shift. */
  #held = new Set<number>();
  /** Pieces whose times the view has. */
  #timed = new Set<number>();
  #timesWanted = false;
  #shift = 0;
  #highest = -1;
  /** How often the view has begun anew; what was said to it before that counts for nothing. */
  #round = 0;
  #wanted = false;
  #running = false;
  #ended = false;

  /** `layer`: the contour as programmed, or the path of a second program (`uri` is then that one's). */
  constructor(uri: string, channel: PathChannel, say: Say, layer?: SideLayer) {
    this.#uri = uri;
    this.#channel = channel;
    this.#say = say;
    this.#side = layer ? { layer } : {};
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
    this.#timed.clear();
    this.#round++;
    this.changed();
  }

  /** From now on the times of the pieces are fetched too, behind the pieces. */
  wantTimes(): void {
    if (!this.#timesWanted) {
      this.#timesWanted = true;
      this.changed();
    }
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
    if (this.#ended || !(await this.#say({ type: 'index', uri: this.#uri, index, ...this.#side }))) {
      return;
    }
    const current = index.pieces.map(({ id }) => id);
    this.#highest = current.reduce((most, id) => Math.max(most, id), this.#highest);
    this.#held = intersection(this.#held, current);
    this.#timed = intersection(this.#timed, current);
    if (await this.#fetch(current, shift, 'piece')) {
      if (this.#timesWanted) {
        await this.#fetch(current, shift, 'times');
      }
    }
  }

  /** Fetches what the view has not got of these pieces; false where the list has become worthless. */
  async #fetch(ids: readonly number[], shift: number, type: 'piece' | 'times'): Promise<boolean> {
    const got = (): Set<number> => (type === 'piece' ? this.#held : this.#timed);
    for (const id of ids) {
      // A newer list makes the rest of this one worthless.
      if (this.#wanted || this.#ended) {
        return false;
      }
      if (got().has(id)) {
        continue;
      }
      const data = await this.#request(id - shift, type === 'piece' ? 'path' : 'times');
      // Empty: the program has changed since the list was made; the server says so when it is through.
      if (this.#ended || data.byteLength === 0) {
        return false;
      }
      const round = this.#round;
      if (!(await this.#say({ type, uri: this.#uri, id, data, ...this.#side })) || round !== this.#round) {
        return false;
      }
      got().add(id);
    }
    return true;
  }

  #request(chunk: number, what: PathContent = 'path'): Promise<ArrayBuffer> {
    const { layer = 'program' } = this.#side;
    return this.#channel.request({ uri: this.#uri, version: 0, chunk, layer, ...(what === 'times' && { what }) });
  }
}

const intersection = (set: ReadonlySet<number>, ids: readonly number[]): Set<number> =>
  new Set(ids.filter((id) => set.has(id)));

function shifted(index: PathIndex, shift: number): PathIndex {
  const { pieces, summary } = index;
  const place = ({ piece, vertex }: PathPlace): PathPlace => ({ piece: piece + shift, vertex });
  return {
    ...index,
    pieces: pieces.map((piece) => ({ ...piece, id: piece.id + shift })),
    ...(summary && {
      summary: {
        ...summary,
        sections: summary.sections.map((section) => ({ ...section, start: place(section.start) })),
        stops: summary.stops.map((stop) => ({ ...stop, at: place(stop.at) })),
      },
    }),
  };
}

function readIndex(data: ArrayBuffer): PathIndex {
  const index: unknown = JSON.parse(new TextDecoder().decode(data));
  if (!isPathIndex(index)) {
    throw new Error('the list of the path cannot be read');
  }
  return index;
}
