// Draws the view when something has changed: what lies behind the path, the path, what lies over it, and the words.
import { drawBackdrop } from './backdrop.ts';
import { type Camera, reachOf } from './camera.ts';
import type { CameraKeeper } from './cameraKeeper.ts';
import { ContextLoss } from './contextLoss.ts';
import type { Frame } from './frame.ts';
import type { Marks } from './marks.ts';
import type { MeasureTool } from './measureTool.ts';
import { NoWebgl } from './noWebgl.ts';
import { Overlay } from './overlay.ts';
import { isLarge, Pace, type PictureKind } from './pace.ts';
import type { Picture, ShownPiece } from './picture.ts';
import { colourAt } from './picturesOutCanvas.ts';
import type { Playback } from './playback.ts';
import type { Reading } from './reading.ts';
import { pointerText, setText, showWords } from './readout.ts';
import { isZeroSeen } from './rulers.ts';
import { type LitLines, PathScene } from './scene.ts';
import type { ShownGhost } from './shownGhost.ts';
import type { Sight } from './sight.ts';
import { drawsBySoftware } from './softwareCheck.ts';
import type { SpaceTools } from './standardViews.ts';
import { readTheme } from './theme.ts';
import { roundedDown } from './thinned.ts';
import type { ViewState } from './viewState.ts';

/** What is drawn besides the path. */
interface Drawn {
  readonly sight: Sight;
  readonly reading: Reading;
  readonly measure: MeasureTool;
  readonly playback: Playback;
  readonly marks: Marks;
  readonly ghost: ShownGhost;
  readonly spaceTools: SpaceTools;
}

const THIN = 'Without a fast graphics card a path as long as this one is drawn in thin lines.';

/** Milliseconds between two looks whether a picture is through. */
const LOOK_EACH = 8;

/** See the top of the file. */
export class Painting {
  readonly #frame: Frame;
  readonly #state: ViewState;
  readonly #picture: Picture;
  readonly #keeper: CameraKeeper;
  readonly #drawn: () => Drawn;
  readonly #over: Overlay;
  readonly #loss: ContextLoss;
  readonly #scene: PathScene | undefined;
  readonly #flat: NoWebgl | undefined;
  readonly #pace = new Pace(drawsBySoftware(), () => this.ask());
  #frameAsked = false;
  /** A picture of a large path is begun and not through yet. */
  #isUnderWay = false;
  /** What the last picture showed, and in which lines. */
  #last: { readonly camera: Camera; readonly pieces: readonly ShownPiece[]; readonly thinness?: number } | undefined;
  /** The path itself must be drawn anew, not only what lies over it. */
  #isStale = false;

  /** `drawn` is asked for with the first picture, not before. */
  constructor(frame: Frame, state: ViewState, picture: Picture, keeper: CameraKeeper, drawn: () => Drawn) {
    this.#frame = frame;
    this.#state = state;
    this.#picture = picture;
    this.#keeper = keeper;
    this.#drawn = drawn;
    this.#over = new Overlay(frame.over);
    this.#loss = new ContextLoss(frame.canvas, () => this.ask());
    try {
      this.#scene = new PathScene(frame.canvas);
      this.#scene.colour(state.theme);
    } catch {
      this.#flat = new NoWebgl(frame.canvas, frame.views);
    }
  }

  /** Draws the path; none where there is no WebGL. */
  get scene(): PathScene | undefined {
    return this.#scene;
  }

  /** Draws in place of the scene where there is no WebGL. */
  get flat(): NoWebgl | undefined {
    return this.#flat;
  }

  /** Pixels at the upper edge that the buttons cover. */
  get top(): number {
    return this.#frame.tools.offsetTop + this.#frame.tools.offsetHeight + 2;
  }

  /** The camera has moved. */
  moved(): void {
    this.#pace.moved();
    this.ask();
  }

  /** The colour at a place of the page: the path over what lies behind it. For tests. */
  pixel(x: number, y: number): [number, number, number] {
    this.draw();
    return colourAt(this.#frame, this.#scene, x, y);
  }

  /** Takes the size that the picture has on the page. */
  resize(): void {
    const { canvas, backdrop } = this.#frame;
    const size = { width: Math.max(1, canvas.clientWidth), height: Math.max(1, canvas.clientHeight) };
    this.#state.size = size;
    const ratio = window.devicePixelRatio || 1;
    backdrop.width = Math.round(size.width * ratio);
    backdrop.height = Math.round(size.height * ratio);
    this.#scene?.resize(size);
  }

  /** Takes the colours of the page. */
  retheme(): void {
    this.#state.theme = readTheme(document.body);
    this.#scene?.colour(this.#state.theme);
  }

  /** Least and greatest X Y Z of all that is drawn, dots and a second program included. */
  bounds(): Float64Array {
    const { reading, ghost } = this.#drawn();
    const bounds = this.#picture.bounds('bounds');
    for (const beside of [reading.bounds(), ghost.path?.bounds ?? bounds]) {
      for (let axis = 0; axis < 3; axis++) {
        bounds[axis] = Math.min(bounds[axis], beside[axis]);
        bounds[axis + 3] = Math.max(bounds[axis + 3], beside[axis + 3]);
      }
    }
    return bounds;
  }

  /** Draws with the next picture of the screen, however often it is asked; all of it or only what lies over the path. */
  ask(isWhole = true): void {
    this.#isStale ||= isWhole;
    if (!this.#frameAsked) {
      this.#frameAsked = true;
      requestAnimationFrame(() => this.#nextPicture());
    }
  }

  #nextPicture(): void {
    this.#frameAsked = false;
    const pause = this.#pace.pause(performance.now(), this.#kind());
    if (this.#isStale && !this.#isUnderWay && pause <= 0) {
      this.draw();
      return;
    }
    if (this.#isStale && !this.#isUnderWay) {
      setTimeout(() => this.ask(), pause);
    }
    // What lies over the path goes with the path below it.
    if (!this.#isStale || this.#last?.camera === this.#keeper.camera) {
      this.#drawOver(this.bounds());
    }
  }

  #kind(): PictureKind {
    const { pieces, complete } = this.#picture;
    return { ways: pieces.reduce((sum, { path }) => sum + path.vertexCount, 0), isGrowing: !complete };
  }

  /** Draws all of it now. */
  draw(): void {
    this.#isStale = false;
    const bounds = this.bounds();
    const { camera } = this.#keeper;
    const { inch, pieces } = this.#picture;
    const { size, theme, lit } = this.#state;
    const { sight, reading, playback, marks, ghost } = this.#drawn();
    const box = this.#state.isBoxShown ? sight.box() : undefined;
    drawBackdrop(this.#frame.backdrop, {
      camera,
      size,
      theme,
      inch,
      bounds,
      box,
      top: this.top,
      isZeroSeen: isZeroSeen(camera, size),
    });
    const run = playback.seen;
    // The cutter is in one place at a time: where the run is, or at the lit block.
    if (!run) {
      this.#belowBar(this.#frame.backdrop.getContext('2d'), (context) => reading.drawBehind(context));
    }
    this.#scene?.showRun(run, pieces);
    this.#drawPath(playback.lit ?? lit, reachOf(bounds, camera));
    this.#flat?.draw({
      camera,
      size,
      theme,
      pieces,
      ghost: ghost.path,
      gone: ghost.gone,
      lit,
      ...reading.flatLook,
    });
    marks.place(camera, size);
    this.#drawOver(bounds);
  }

  #drawPath(lit: LitLines, reach: number): void {
    const scene = this.#scene;
    const { camera } = this.#keeper;
    const { pieces } = this.#picture;
    const kind = this.#kind();
    const pixels = this.#pace.thinness(kind);
    const thinness = pixels && roundedDown(pixels / camera.scale);
    const isFirst = this.#last?.pieces !== pieces || this.#last.thinness !== thinness;
    this.#last = { camera, pieces, ...(thinness && { thinness }) };
    const begun = performance.now();
    scene?.thin(thinness);
    scene?.draw(camera, this.#state.size, pieces, lit, reach);
    if (!scene || !isLarge(kind.ways)) {
      return;
    }
    scene.watch();
    this.#isUnderWay = true;
    const drawn = this.#last;
    const look = (): void => {
      if (this.#last !== drawn) {
        return;
      }
      if (!scene.isThrough) {
        setTimeout(look, LOOK_EACH);
        return;
      }
      this.#isUnderWay = false;
      const end = performance.now();
      this.#pace.took(end - begun, end, kind.ways, thinness === undefined, isFirst);
      if (this.#isStale) {
        this.ask();
      }
    };
    setTimeout(look, LOOK_EACH);
  }

  /** What lies over the path, and the words about it. */
  #drawOver(bounds: Float64Array): void {
    const { camera } = this.#keeper;
    const { inch } = this.#picture;
    const { size, theme, pointer, isBoxShown } = this.#state;
    const { sight, reading, playback, measure } = this.#drawn();
    const snapped = pointer && sight.isSmall() ? sight.snap(pointer) : undefined;
    const box = isBoxShown ? sight.box() : undefined;
    this.#over.draw({ camera, size, theme, inch, top: this.top, pointer, box, snapped }, (context) => {
      reading.drawOver(context);
      this.#belowBar(context, () => playback.drawTool(context, camera, size, theme));
      measure.draw(context, theme);
    });
    this.#words(bounds);
  }

  /** Draws something large that is not to lie behind the words at the upper edge. */
  #belowBar(context: CanvasRenderingContext2D | null, draw: (context: CanvasRenderingContext2D) => void): void {
    if (context) {
      const { width, height } = this.#state.size;
      context.save();
      context.beginPath();
      context.rect(0, this.top, width, Math.max(0, height - this.top));
      context.clip();
      draw(context);
      context.restore();
    }
  }

  #words(bounds: Float64Array): void {
    const { camera } = this.#keeper;
    const { size, trouble, pointer, isBoxShown } = this.#state;
    const { sight, ghost, spaceTools } = this.#drawn();
    const isEmpty = !(bounds[0] <= bounds[3]);
    const isThin = this.#scene && this.#pace.restsThin(this.#kind());
    const troubles = [trouble, this.#flat?.words, isThin && THIN].filter(Boolean).join(' ');
    showWords(this.#frame, this.#picture, troubles, this.#loss.words, isEmpty, ghost.path);
    const place = ghost.path ? undefined : pointer;
    const found = place && sight.isSmall() ? sight.pick(place) : undefined;
    setText(this.#frame.pointer, place ? pointerText(camera, size, place, this.#picture.inch, found) : '');
    setText(this.#frame.ghost, ghost.words);
    for (const [view, button] of this.#frame.views) {
      button.setAttribute('aria-pressed', String(view === camera.view));
    }
    spaceTools.show(camera, isBoxShown);
  }
}
