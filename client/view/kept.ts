// What the view keeps while its window is hidden or loaded again: named parts of one plain object.

/** Where a webview keeps its state. */
interface StateStore {
  getState(): unknown;
  setState(state: unknown): void;
}

/** The parts, each written by one place only; its reader checks it, for it may be of another version. */
type PartName =
  /** Address of the program that is shown. The extension reads it to bring the panel back. */
  | 'program'
  /** Whether the panel goes along with the editor. The extension reads it too. */
  | 'follows'
  | 'camera'
  /** Address of the program that the camera was moved over by hand. */
  | 'cameraOf'
  /** Whether the box about the cuts is drawn in space. */
  | 'box'
  /** Rate and stops of the playback. */
  | 'playback'
  /** What of the path is shown, and in which colours. */
  | 'shown';

/** See the top of the file. */
export class Kept {
  readonly #store: StateStore;
  #parts: Readonly<Partial<Record<PartName, unknown>>>;

  constructor(store: StateStore) {
    this.#store = store;
    const state = store.getState();
    this.#parts = typeof state === 'object' && state !== null ? state : {};
  }

  read(name: PartName): unknown {
    return this.#parts[name];
  }

  /** Writes these parts; the others stay. */
  write(parts: Partial<Record<PartName, unknown>>): void {
    this.#parts = { ...this.#parts, ...parts };
    this.#store.setState(this.#parts);
  }
}
