// Which camera looks at the program: everything is kept in the picture until the camera is moved by hand, and after that
// it stays where it was put, over edits, other views and reloads.
import {
  aimAt,
  type Camera,
  type Covered,
  cornersOf,
  fitTo,
  type Lens,
  project,
  readCamera,
  type Size,
  startCamera,
  type ViewName,
} from './camera.ts';
import type { Kept } from './kept.ts';

/** What the keeper asks about the picture, and whom it tells. */
export interface Looked {
  size(): Size;
  covered(view: ViewName): Covered;
  /** Least and greatest X Y Z of all that is drawn; least above greatest where that is nothing. */
  bounds(): ArrayLike<number>;
  /** In the middle of what can be seen now: how far it lies before the target, mm. */
  depth(camera: Camera): number;
  /** The camera is another one. */
  changed(): void;
}

/** Holds the camera of one view. */
export class CameraKeeper {
  readonly #looked: Looked;
  readonly #kept: Kept;
  #camera: Camera;
  #uri = '';
  /** The program that the camera has been moved over by hand. */
  #movedOver: string | undefined;

  constructor(kept: Kept, looked: Looked) {
    this.#kept = kept;
    this.#looked = looked;
    const camera = readCamera(kept.read('camera'));
    const movedOver = kept.read('cameraOf');
    this.#camera = camera ?? startCamera;
    this.#movedOver = camera && typeof movedOver === 'string' ? movedOver : undefined;
  }

  get camera(): Camera {
    return this.#camera;
  }

  /** True if the camera follows what is drawn, because nobody has moved it over this program. */
  get follows(): boolean {
    return this.#movedOver !== this.#uri;
  }

  /** Another program is shown from now on. */
  begin(uri: string): void {
    this.#uri = uri;
  }

  /** The camera was moved by hand and stands here from now on. */
  look(camera: Camera): void {
    this.#camera = camera;
    this.#movedOver = this.#uri;
    this.#keep();
  }

  /** Everything into the picture, now and after edits, until the camera is moved by hand. */
  fitAll(camera = this.#camera): void {
    this.#camera = this.fitted(camera);
    this.#movedOver = undefined;
    this.#keep();
  }

  /** These bounds into the picture, as if moved there by hand. */
  fitIn(bounds: ArrayLike<number>): void {
    if (bounds[0] <= bounds[3]) {
      this.look(fitTo(this.#camera, this.#looked.size(), bounds, this.#looked.covered(this.#camera.view)));
    }
  }

  /** Everything into the picture if nobody has moved the camera. */
  refit(): void {
    if (this.follows) {
      this.#camera = this.fitted(this.#camera);
    }
  }

  /** Another view, lens or direction. What is looked at stays in the middle and as large as it was. */
  turnTo(change: { view?: ViewName; lens?: Lens; azimuth?: number; elevation?: number }): void {
    const turned: Camera = { ...this.#camera, ...change };
    if (this.follows) {
      this.fitAll(turned);
      return;
    }
    const { target, scale } = aimAt(this.#camera, this.#looked.size(), this.#looked.depth(this.#camera));
    this.look({ ...turned, target, scale });
  }

  /** A camera with everything in its picture. */
  fitted(camera: Camera): Camera {
    return fitTo(camera, this.#looked.size(), this.#looked.bounds(), this.#looked.covered(camera.view));
  }

  /** True if everything is in the picture already, at a size that can be seen. */
  holdsAll(): boolean {
    const bounds = this.#looked.bounds();
    const fitted = this.fitted(this.#camera);
    if (!(bounds[0] <= bounds[3]) || this.#camera.scale < fitted.scale / 4) {
      return false;
    }
    const { width, height } = this.#looked.size();
    return cornersOf(bounds).every((corner) => {
      const { x, y } = project(this.#camera, { width, height }, corner);
      return x >= 0 && y >= 0 && x <= width && y <= height;
    });
  }

  #keep(): void {
    this.#kept.write({ cameraOf: this.#movedOver, camera: this.#camera });
    this.#looked.changed();
  }
}
