// What becomes of the view in a window without WebGL: the flat views are drawn as SVG, space cannot be.
import type { ViewName } from './camera.ts';
import { type FlatDrawing, FlatSvg, MOST_VERTICES } from './flatSvg.ts';

const FLAT_ONLY =
  'This window has no WebGL: only the flat views are drawn. For Space, turn on hardware acceleration in the editor or the browser and open the path again.';
const TOO_MANY = `Only the first ${MOST_VERTICES.toLocaleString('en-GB')} points of the path are drawn so.`;

/** The view without WebGL. */
export class NoWebgl {
  readonly #flat = new FlatSvg();
  #isCut = false;

  /** Puts the drawing in the place of the canvas' picture, and closes the way into space. */
  constructor(canvas: HTMLCanvasElement, views: ReadonlyMap<ViewName, HTMLButtonElement>) {
    canvas.before(this.#flat.element);
    const space = views.get('space');
    if (space) {
      space.disabled = true;
      space.title = 'Space needs WebGL, which this window has not got';
    }
  }

  draw(drawing: FlatDrawing): void {
    this.#flat.draw(drawing);
    this.#isCut = drawing.pieces.reduce((sum, { path }) => sum + path.vertexCount, 0) > MOST_VERTICES;
  }

  paint(context: CanvasRenderingContext2D): void {
    this.#flat.paint(context);
  }

  /** What the view must say about it. */
  get words(): string {
    return this.#isCut ? `${FLAT_ONLY} ${TOO_MANY}` : FLAT_ONLY;
  }
}
