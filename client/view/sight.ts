// What of the path is at a place of the picture.
import { STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import { aimAt, type Camera, project, type Size } from './camera.ts';
import { linesBounds } from './cameraDepth.ts';
import type { CameraKeeper } from './cameraKeeper.ts';
import { isWaySeen, type Picked, pick, type SeenOf } from './pick.ts';
import type { Picture } from './picture.ts';
import type { LitLines } from './scene.ts';
import { nextEnd, type Snapped, snap } from './snap.ts';

type Place = { readonly x: number; readonly y: number };

/** A way of the path: the one that leads to a vertex of a piece, and its 0-based line. */
export type Way = Pick<Picked, 'line' | 'piece' | 'vertex'>;

/** Above this many vertices the path is looked through at a click only, not at every move of the pointer. */
const HOVER_LIMIT = 200_000;
/** In space turning and enlarging go about what is so near to the pointer, pixels. */
const AIM_REACH = 30;

/** The path as it is seen now; `seenOf` says what of it is left out. Places are CSS pixels of the picture. */
export class Sight {
  readonly #picture: Picture;
  readonly #keeper: CameraKeeper;
  readonly #size: () => Size;
  readonly #seenOf: SeenOf;

  constructor(picture: Picture, keeper: CameraKeeper, size: () => Size, seenOf: SeenOf) {
    this.#picture = picture;
    this.#keeper = keeper;
    this.#size = size;
    this.#seenOf = seenOf;
  }

  camera(): Camera {
    return this.#keeper.camera;
  }

  size(): Size {
    return this.#size();
  }

  inch(): boolean {
    return this.#picture.inch;
  }

  look(camera: Camera): void {
    this.#keeper.look(camera);
  }

  /** True if the path is looked through quickly enough to do so at every move of the pointer. */
  isSmall(): boolean {
    return this.#picture.pieces.reduce((sum, { path }) => sum + path.vertexCount, 0) <= HOVER_LIMIT;
  }

  pick({ x, y }: Place): Picked | undefined {
    return pick(this.#picture.pieces, this.camera(), this.size(), x, y, undefined, this.#seenOf);
  }

  /** The end or centre that the pointer is drawn to. */
  snap({ x, y }: Place): Snapped | undefined {
    return snap(this.#picture.pieces, this.camera(), this.size(), x, y, this.#seenOf);
  }

  /** See `nextEnd` of `snap.ts`. */
  nextEnd(from: Snapped | undefined, step: 1 | -1): Snapped | undefined {
    return nextEnd(this.#picture.pieces, from, step, this.#seenOf);
  }

  /** The way that leads to an end; `undefined` where the path begins there. */
  wayTo({ piece, vertex }: Snapped): Way | undefined {
    const found = this.#picture.pieces.find(({ id }) => id === piece);
    return found && isWaySeen(found.path.codes, vertex, this.#seenOf(found))
      ? { line: found.firstLine + ((found.path.codes[vertex] | 0) >> STYLE_BITS), piece, vertex }
      : undefined;
  }

  project({ at }: Pick<Snapped, 'at'>): Place {
    return project(this.camera(), this.size(), at);
  }

  /** In space the camera aims at what is under the pointer; the picture is the same. */
  aimed(camera: Camera, x: number, y: number): Camera {
    const found =
      camera.view === 'space' && this.isSmall()
        ? pick(this.#picture.pieces, camera, this.size(), x, y, AIM_REACH, this.#seenOf)
        : undefined;
    return found ? aimAt(camera, this.size(), project(camera, this.size(), found.at).depth) : camera;
  }

  /** The lit lines into the picture. */
  fitLit({ first, last }: LitLines): void {
    this.#keeper.fitIn(linesBounds(this.#picture.pieces, first, last));
  }

  /** The box that is drawn in space: of what is cut, or of all where nothing is. */
  box(): Float64Array | undefined {
    const cut = this.#picture.bounds('cutBounds');
    const bounds = cut[0] <= cut[3] ? cut : this.#picture.bounds('bounds');
    return bounds[0] <= bounds[3] ? bounds : undefined;
  }
}
