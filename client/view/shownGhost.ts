// What a repair or a block would lead to, drawn in dots over the path until it is taken or another one is looked at.
import { type PackedPath, readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { CameraKeeper } from './cameraKeeper.ts';
import type { PathScene } from './scene.ts';

const REPAIR = 'Thick dots: the marked repair. Nothing is changed yet.';
const BLOCK = 'Thick dots: the block of the form. It is not in the program yet.';

/** The dots, the words on them, and the camera that holds them. */
export class ShownGhost {
  readonly #keeper: CameraKeeper;
  readonly #scene: () => PathScene | undefined;
  #path: PackedPath | undefined;
  #words = '';
  /** The camera stands back to hold the dots as well. */
  #isFitted = false;

  constructor(keeper: CameraKeeper, scene: () => PathScene | undefined) {
    this.#keeper = keeper;
    this.#scene = scene;
  }

  get path(): PackedPath | undefined {
    return this.#path;
  }

  /** Words on what is drawn; empty where nothing is. */
  get words(): string {
    return this.#words;
  }

  /** Shows a packed path, or nothing; `isBlock`: it is that of the form, not that of a repair. */
  show(data?: ArrayBuffer, isBlock = false): void {
    const path = data && readPackedPath(data);
    this.#path = path;
    this.#words = path ? (isBlock ? BLOCK : REPAIR) : '';
    this.#scene()?.showGhost(path);
    if (this.#keeper.follows && (path ? !this.#keeper.holdsAll() : this.#isFitted)) {
      this.#keeper.refit();
      this.#isFitted = path !== undefined;
    }
  }
}
