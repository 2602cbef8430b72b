// What a repair or a block would lead to, drawn in dots over the path until it is taken or another one is looked at.
import { type PackedPath, readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { CameraKeeper } from './cameraKeeper.ts';
import type { LitLines, PathScene } from './scene.ts';

const REPAIR = 'Thick dots: the marked repair. Nothing is changed yet.';
const BLOCK = 'Dots: cuts of the block in the form; dashes: its rapids. It is not in the program yet.';
const REVISED = 'Dots: cuts of the block as revised; dashes: its rapids. The old one is left out here.';
/** No lines at all. */
const NOTHING: LitLines = { first: 1, last: 0 };

/** The dots, the words on them, and the camera that holds them. */
export class ShownGhost {
  readonly #keeper: CameraKeeper;
  readonly #scene: () => PathScene | undefined;
  #path: PackedPath | undefined;
  #words = '';
  #gone = NOTHING;
  /** The camera stands back to hold the dots as well. */
  #isFitted = false;

  constructor(keeper: CameraKeeper, scene: () => PathScene | undefined) {
    this.#keeper = keeper;
    this.#scene = scene;
  }

  get path(): PackedPath | undefined {
    return this.#path;
  }

  /** Lines of the program (0-based) that it takes the place of, which are not shown meanwhile. */
  get gone(): LitLines {
    return this.#gone;
  }

  /** Words on what is drawn; empty where nothing is. */
  get words(): string {
    return this.#words;
  }

  /**
   * Shows a packed path, or nothing; `isBlock`: it is that of the form, not that of a repair; `gone`: lines that it takes the
   * place of.
   */
  show(data?: ArrayBuffer, isBlock = false, gone?: LitLines): void {
    const path = data && readPackedPath(data);
    this.#path = path;
    this.#gone = (path && gone) ?? NOTHING;
    this.#words = path ? (isBlock ? (gone ? REVISED : BLOCK) : REPAIR) : '';
    this.#scene()?.showGhost(path, this.#gone);
    if (this.#keeper.follows && (path ? !this.#keeper.holdsAll() : this.#isFitted)) {
      this.#keeper.refit();
      this.#isFitted = path !== undefined;
    }
  }
}
