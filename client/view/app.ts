// The path view: takes messages, keeps camera and picture, draws when something has changed.
import { type PackedPath, PathStyle, readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { drawBackdrop } from './backdrop.ts';
import { type Point, project, reachOf, type Size, type ViewName } from './camera.ts';
import { depthSeen } from './cameraDepth.ts';
import { CameraKeeper } from './cameraKeeper.ts';
import { ContextLoss } from './contextLoss.ts';
import { listenForKeys } from './controlKeys.ts';
import { control } from './controls.ts';
import { Explanations } from './explain.ts';
import { FollowSwitch } from './follow.ts';
import { buildFrame, type Frame } from './frame.ts';
import { Kept } from './kept.ts';
import { Marks } from './marks.ts';
import { MeasureTool } from './measureTool.ts';
import type { FromView, ToView } from './messages.ts';
import { NoWebgl } from './noWebgl.ts';
import { Overlay } from './overlay.ts';
import { Pace } from './pace.ts';
import { type PickedPlace, placeOf } from './pickedPlace.ts';
import { Picture } from './picture.ts';
import { PicturesOut } from './picturesOut.ts';
import { colourAt } from './picturesOutCanvas.ts';
import { Playback } from './playback.ts';
import { Reading } from './reading.ts';
import { copyText, pointerText, setText, showWords } from './readout.ts';
import { rulersCover } from './rulers.ts';
import { type LitLines, PathScene } from './scene.ts';
import { Sight, type Way } from './sight.ts';
import { SpaceTools } from './standardViews.ts';
import { Summary } from './summary.ts';
import { readTheme, type Theme } from './theme.ts';

/** What the view runs in. */
export interface Host {
  postMessage(message: FromView): void;
  getState(): unknown;
  setState(state: unknown): void;
}

const REPAIR = 'Thick dots: the marked repair. Nothing is changed yet.';
const BLOCK = 'Thick dots: the block of the form. It is not in the program yet.';

/** The view of one window. */
export class PathApp {
  readonly #host: Host;
  readonly #kept: Kept;
  readonly #frame: Frame;
  readonly #sight: Sight;
  readonly #reading: Reading;
  readonly #over: Overlay;
  readonly #explanations: Explanations;
  readonly #measure: MeasureTool;
  readonly #spaceTools: SpaceTools;
  readonly #follow: FollowSwitch;
  readonly #playback: Playback;
  readonly #marks: Marks;
  readonly #picture = new Picture();
  readonly #scene: PathScene | undefined;
  /** Draws in place of the scene where there is no WebGL. */
  #flat: NoWebgl | undefined;
  readonly #loss: ContextLoss;
  readonly #summary = new Summary();
  #theme: Theme;
  readonly #keeper: CameraKeeper;
  #size: Size = { width: 1, height: 1 };
  #uri = '';
  #name = '';
  /** Nothing whole of this program has been fitted into the picture yet. */
  #fresh = true;
  /** What is drawn in dots, and the words on it. */
  #ghost: { readonly path: PackedPath; readonly words: string } | undefined;
  /** The camera stands back to hold the dots as well. */
  #fittedToGhost = false;
  #lit: LitLines = { first: 1, last: 0 };
  #trouble = '';
  #isBoxShown: boolean;
  #frameAsked = false;
  readonly #pace = new Pace(() => this.#ask());
  /** The path itself must be drawn anew, not only what lies over it. */
  #isStale = false;
  #pointer: { readonly x: number; readonly y: number } | undefined;

  constructor(into: HTMLElement, host: Host) {
    this.#host = host;
    this.#frame = buildFrame(into);
    this.#theme = readTheme(document.body);
    this.#kept = new Kept(host);
    this.#keeper = new CameraKeeper(this.#kept, {
      size: () => this.#size,
      covered: (view) => ({ top: this.#top(), ...rulersCover(view) }),
      bounds: () => this.#bounds(),
      depth: (camera) => depthSeen(this.#picture.pieces, camera, this.#size),
      changed: () => {
        this.#pace.moved();
        this.#ask();
      },
    });
    this.#sight = new Sight(
      this.#picture,
      this.#keeper,
      () => this.#size,
      (piece) => this.#reading.seenOf(piece),
    );
    this.#reading = this.#makeReading();
    this.#over = new Overlay(this.#frame.over);
    this.#explanations = new Explanations((message) => host.postMessage(message));
    this.#measure = this.#makeMeasure();
    this.#frame.desk.after(this.#measure.panel.element);
    this.#isBoxShown = this.#kept.read('box') !== false;
    this.#spaceTools = new SpaceTools({
      turn: (change) => this.#keeper.turnTo(change),
      showBox: (shown) => this.#showBox(shown),
    });
    this.#frame.fitLit.after(this.#spaceTools.element);
    this.#follow = new FollowSwitch(this.#frame.follow, this.#kept, (isOn) =>
      host.postMessage({ type: 'follow', isOn }),
    );
    this.#playback = new Playback(this.#frame.play, this.#kept, {
      picture: this.#picture,
      wantTimes: () => host.postMessage({ type: 'times', uri: this.#uri }),
      runs: (line) => host.postMessage({ type: 'runs', uri: this.#uri, ...(line !== undefined && { line }) }),
      changed: () => this.#ask(),
    });
    this.#marks = new Marks(this.#frame.marks, (line) => this.#goToLine(line));
    this.#scene = this.#makeScene();
    this.#loss = new ContextLoss(this.#frame.canvas, () => this.#ask());
    this.#frame.measure.after(this.#makeOut().element);
    into.append(this.#summary.element);
    this.#listen();
    this.#resize();
  }

  /** Takes a message of the extension. */
  take(message: ToView): void {
    if (message.type === 'trouble') {
      this.#trouble = `The path is not up to date: ${message.text}.`;
    } else if (message.type === 'follows') {
      this.#follow.take(message.isOn);
    } else if (message.type === 'program') {
      this.#name = message.name;
      this.#begin(message.uri);
    } else if (message.uri === this.#uri) {
      this.#takeOfProgram(message);
    }
    this.#ask();
  }

  /** Where a point of the work is seen, CSS pixels of the page. For tests. */
  project(point: Point): { x: number; y: number } {
    const { left, top } = this.#frame.canvas.getBoundingClientRect();
    const { x, y } = project(this.#keeper.camera, this.#size, point);
    return { x: x + left, y: y + top };
  }

  /** The colour at a place of the page: the path over what lies behind it. For tests. */
  pixel(x: number, y: number): [number, number, number] {
    this.#draw();
    return colourAt(this.#frame, this.#scene, x, y);
  }

  #makeScene(): PathScene | undefined {
    try {
      const scene = new PathScene(this.#frame.canvas);
      scene.colour(this.#theme);
      return scene;
    } catch {
      this.#flat = new NoWebgl(this.#frame.canvas, this.#frame.views);
      this.#turnTo(this.#keeper.camera.view);
      return undefined;
    }
  }

  /** Another view; space is none without WebGL. */
  #turnTo(view: ViewName): void {
    this.#keeper.turnTo({ view: view === 'space' && this.#flat ? 'top' : view });
  }

  #makeOut(): PicturesOut {
    return new PicturesOut({
      frame: this.#frame,
      picture: this.#picture,
      flat: this.#flat,
      program: () => ({ uri: this.#uri, name: this.#name }),
      view: () => this.#keeper.camera.view,
      theme: () => this.#theme,
      hidden: () => ({ kinds: this.#reading.hiddenKinds, sections: this.#reading.hiddenSections }),
      draw: () => this.#draw(),
      say: (message) => this.#host.postMessage(message),
    });
  }

  #makeReading(): Reading {
    return new Reading({
      frame: this.#frame,
      picture: this.#picture,
      scene: () => this.#scene,
      sight: this.#sight,
      kept: this.#kept,
      theme: () => this.#theme,
      isRunning: () => this.#playback.isOpen,
      say: (message) => this.#host.postMessage(message),
      explain: (way) => this.#explain(way),
      grown: () => {
        if (this.#keeper.follows && !this.#keeper.holdsAll()) {
          this.#keeper.refit();
        }
      },
      changed: (isWhole) => this.#ask(isWhole),
    });
  }

  #listen(): void {
    const { canvas, views, fit: fitButton, fitLit } = this.#frame;
    control(canvas, {
      camera: () => this.#keeper.camera,
      size: () => this.#size,
      moved: (camera) => this.#keeper.look(camera),
      aimed: (camera, x, y) => this.#sight.aimed(camera, x, y),
      pointer: (place) => {
        this.#pointer = place;
        this.#measure.pointed();
        this.#reading.pointed(this.#measure.isOn || this.#ghost ? undefined : place);
        this.#ask(false);
      },
      keyed: (event) => this.#measure.key(event),
      clicked: (x, y) => {
        if (this.#measure.isOn) {
          this.#measure.click({ x, y });
          return;
        }
        const found = this.#sight.pick({ x, y });
        if (found) {
          this.#goToLine(found.line, placeOf(this.#picture.pieces, found));
        }
      },
    });
    for (const [view, button] of views) {
      button.addEventListener('click', () => this.#turnTo(view));
    }
    fitButton.addEventListener('click', () => this.#keeper.fitAll());
    fitLit.addEventListener('click', () => this.#sight.fitLit(this.#lit));
    listenForKeys(document, {
      turnTo: (view) => this.#turnTo(view),
      fitAll: () => this.#keeper.fitAll(),
      fitLit: () => this.#sight.fitLit(this.#lit),
      switchLens: () => this.#spaceTools.switchLens(),
      switchBox: () => this.#spaceTools.switchBox(),
      measure: () => this.#measure.toggle(),
      sheet: () => this.#reading.toggleSheet(),
      colourByNext: () => this.#reading.colourByNext(),
      rapids: () => this.#reading.toggleKind(PathStyle.rapid),
      copy: () => void this.#measure.copy(),
    });
    const sizes = new ResizeObserver(() => this.#resize());
    sizes.observe(canvas);
    // What is fitted in, and the rulers, begin below the buttons, which may need another row in another view.
    sizes.observe(this.#frame.tools);
    new MutationObserver(() => this.#retheme()).observe(document.body, { attributeFilter: ['class', 'style'] });
  }

  #begin(uri: string): void {
    if (uri !== this.#uri) {
      this.#playback.begin();
      this.#picture.clear();
      this.#explanations.forget();
      this.#measure.clear();
      this.#marks.show([]);
      this.#scene?.show([]);
      this.#showGhost(undefined);
      this.#lit = { first: 1, last: 0 };
      this.#uri = uri;
      this.#keeper.begin(uri);
      this.#reading.light(this.#lit);
      this.#kept.write({ program: uri });
      this.#fresh = true;
    }
    this.#trouble = '';
    this.#reading.begin(uri);
  }

  #takeOfProgram(message: Exclude<ToView, { type: 'trouble' | 'program' | 'follows' }>): void {
    if (message.type === 'lit') {
      this.#lit = message;
      this.#reading.light(message);
      return;
    }
    if (message.type === 'ghost') {
      this.#showGhost(message.data, message.isBlock ? BLOCK : REPAIR);
      return;
    }
    if (message.type === 'explained') {
      this.#explanations.take(message.ticket, message.move);
      return;
    }
    if (message.type === 'over') {
      this.#reading.layOver(message.name);
      return;
    }
    if (message.layer) {
      this.#reading.take(message, message.layer);
      return;
    }
    if (message.type === 'times') {
      if (this.#picture.takeTimes(message.id, message.data)) {
        this.#reading.refresh();
      }
      this.#playback.pathChanged();
      return;
    }
    this.#trouble = '';
    const changed =
      message.type === 'index'
        ? this.#picture.takeIndex(message.index)
        : this.#picture.takePiece(message.id, message.data);
    if (changed) {
      this.#measure.clear();
      this.#scene?.show(this.#picture.pieces);
      this.#reading.refresh();
    }
    this.#playback.pathChanged();
    if (this.#picture.complete) {
      this.#marks.show(this.#picture.findings);
      this.#summary.say(this.#name, this.#picture);
    }
    if (changed && this.#keeper.follows && (this.#fresh || !this.#keeper.holdsAll())) {
      this.#keeper.refit();
      this.#fresh = !(this.#picture.complete && this.#picture.bounds('bounds')[0] < Infinity);
    }
  }

  /** Draws what a repair or a block would lead to over the path, until it is taken or another one is looked at. */
  #showGhost(data: ArrayBuffer | undefined, words = ''): void {
    const path = data && readPackedPath(data);
    this.#ghost = path && { path, words };
    this.#scene?.showGhost(path);
    if (this.#keeper.follows && (path ? !this.#keeper.holdsAll() : this.#fittedToGhost)) {
      this.#keeper.refit();
      this.#fittedToGhost = path !== undefined;
    }
  }

  /** Least and greatest X Y Z of all that is drawn, dots and a second program included. */
  #bounds(): Float64Array {
    const bounds = this.#picture.bounds('bounds');
    for (const beside of [this.#reading.bounds(), this.#ghost?.path.bounds ?? bounds]) {
      for (let axis = 0; axis < 3; axis++) {
        bounds[axis] = Math.min(bounds[axis], beside[axis]);
        bounds[axis + 3] = Math.max(bounds[axis + 3], beside[axis + 3]);
      }
    }
    return bounds;
  }

  /** Pixels at the upper edge that the buttons cover. */
  #top(): number {
    return this.#frame.tools.offsetTop + this.#frame.tools.offsetHeight + 2;
  }

  #makeMeasure(): MeasureTool {
    return new MeasureTool(this.#frame.measure, this.#sight, {
      explain: (picked) => this.#explain(picked),
      pointer: () => this.#pointer,
      movePointer: (place) => {
        this.#pointer = place;
        this.#ask(false);
      },
      copy: copyText,
      changed: () => this.#ask(false),
    });
  }

  #explain(picked: Way): Promise<PathMove | null> {
    const place = placeOf(this.#picture.pieces, picked);
    return this.#explanations.ask({ uri: this.#uri, line: picked.line, ...place });
  }

  #showBox(shown: boolean): void {
    this.#isBoxShown = shown;
    this.#kept.write({ box: shown });
    this.#ask();
  }

  #box(): Float64Array | undefined {
    return this.#isBoxShown ? this.#sight.box() : undefined;
  }

  #goToLine(line: number, place: Partial<PickedPlace> = {}): void {
    this.#host.postMessage({ type: 'goToLine', uri: this.#uri, line, ...place });
  }

  #resize(): void {
    const { canvas, backdrop } = this.#frame;
    this.#size = { width: Math.max(1, canvas.clientWidth), height: Math.max(1, canvas.clientHeight) };
    const ratio = window.devicePixelRatio || 1;
    backdrop.width = Math.round(this.#size.width * ratio);
    backdrop.height = Math.round(this.#size.height * ratio);
    this.#scene?.resize(this.#size);
    if (this.#picture.pieces.length > 0 || this.#ghost) {
      this.#keeper.refit();
    }
    this.#ask();
  }

  #retheme(): void {
    this.#theme = readTheme(document.body);
    this.#scene?.colour(this.#theme);
    this.#reading.refresh();
    this.#ask();
  }

  /** Draws with the next picture of the screen, however often it is asked; all of it or only what lies over the path. */
  #ask(isWhole = true): void {
    this.#isStale ||= isWhole;
    if (!this.#frameAsked) {
      this.#frameAsked = true;
      const asked = performance.now();
      requestAnimationFrame(() => {
        this.#frameAsked = false;
        if (!this.#sight.isSmall()) {
          this.#pace.waited(performance.now() - asked);
        }
        if (this.#isStale) {
          this.#draw();
        } else {
          this.#drawOver(this.#bounds());
        }
      });
    }
  }

  #draw(): void {
    this.#isStale = false;
    const bounds = this.#bounds();
    const { camera } = this.#keeper;
    const { inch, pieces } = this.#picture;
    const [size, theme] = [this.#size, this.#theme];
    drawBackdrop(this.#frame.backdrop, { camera, size, theme, inch, bounds, box: this.#box() });
    const run = this.#playback.seen;
    // The cutter is in one place at a time: where the run is, or at the lit block.
    if (!run) {
      this.#reading.drawBehind(this.#frame.backdrop.getContext('2d'));
    }
    this.#scene?.showRun(run, pieces);
    this.#scene?.thin(this.#pace.isThin);
    this.#scene?.draw(camera, size, pieces, this.#playback.lit ?? this.#lit, reachOf(bounds, camera));
    const [ghost, lit] = [this.#ghost?.path, this.#lit];
    this.#flat?.draw({ camera, size, theme, pieces, ghost, lit, hiddenKinds: this.#reading.hiddenKinds });
    this.#marks.place(camera, size);
    this.#drawOver(bounds);
  }

  /** What lies over the path, and the words about it. */
  #drawOver(bounds: Float64Array): void {
    const { camera } = this.#keeper;
    const { inch } = this.#picture;
    const [size, theme, pointer] = [this.#size, this.#theme, this.#pointer];
    const snapped = pointer && this.#sight.isSmall() ? this.#sight.snap(pointer) : undefined;
    const overlaid = {
      camera,
      size,
      theme,
      inch,
      top: this.#top(),
      pointer,
      box: this.#isBoxShown ? this.#sight.box() : undefined,
      snapped,
    };
    this.#over.draw(overlaid, (context) => {
      this.#reading.drawOver(context);
      this.#playback.drawTool(context, camera, size, theme);
      this.#measure.draw(context, theme);
    });
    this.#words(bounds);
  }

  #words(bounds: Float64Array): void {
    const { pointer, ghost, views } = this.#frame;
    const { camera } = this.#keeper;
    const isEmpty = !(bounds[0] <= bounds[3]);
    const trouble = [this.#trouble, this.#flat?.words].filter(Boolean).join(' ');
    showWords(this.#frame, this.#picture, trouble, this.#loss.words, isEmpty);
    const place = this.#ghost ? undefined : this.#pointer;
    const found = place && this.#sight.isSmall() ? this.#sight.pick(place) : undefined;
    setText(pointer, place ? pointerText(camera, this.#size, place, this.#picture.inch, found) : '');
    setText(ghost, this.#ghost?.words ?? '');
    for (const [view, button] of views) {
      button.setAttribute('aria-pressed', String(view === camera.view));
    }
    this.#spaceTools.show(camera, this.#isBoxShown);
  }
}
