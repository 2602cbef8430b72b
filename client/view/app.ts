// The path view: takes messages, keeps camera and picture, draws when something has changed.
import { readPackedPath, UNKNOWN_TOOL } from '../../server/src/core/geometry/packedLayout.ts';
import { AXIS_NAMES, drawBackdrop, PLANE_AXES } from './backdrop.ts';
import {
  basisOf,
  type Camera,
  dot,
  fitTo,
  type Point,
  pointAt,
  project,
  readCamera,
  type Size,
  startCamera,
  type ViewName,
} from './camera.ts';
import { control } from './controls.ts';
import { buildFrame, type Frame } from './frame.ts';
import { Marks } from './marks.ts';
import type { FromView, ToView } from './messages.ts';
import { extentTexts, lengthText, unitName } from './numbers.ts';
import { pick } from './pick.ts';
import { Picture } from './picture.ts';
import { type LitLines, PathScene } from './scene.ts';
import { readTheme, type Theme } from './theme.ts';

/** What the view runs in. */
export interface Host {
  postMessage(message: FromView): void;
  getState(): unknown;
  setState(state: unknown): void;
}

/** Above this many vertices the line under the pointer is looked up at a click only. */
const HOVER_LIMIT = 200_000;
const NO_MOVES =
  'No moves to show: the program does not move yet, or no position is known before its first X, Y and Z.';
const GHOST = 'Thick dots: the path as the repair marked in the list would make it. Nothing is changed yet.';
const NO_WEBGL =
  'The path cannot be drawn: this window has no WebGL. Turn on hardware acceleration in the editor or the browser, and open the path again.';

/** The view of one window. */
export class PathApp {
  readonly #host: Host;
  readonly #frame: Frame;
  readonly #marks: Marks;
  readonly #picture = new Picture();
  readonly #scene: PathScene | undefined;
  #theme: Theme;
  #camera: Camera;
  #size: Size = { width: 1, height: 1 };
  #uri = '';
  /** The program that the camera has been moved over by hand; until then everything is kept in the picture. */
  #cameraOf: string | undefined;
  /** Nothing whole of this program has been fitted into the picture yet. */
  #fresh = true;
  #ghostShown = false;
  #lit: LitLines = { first: 1, last: 0 };
  #trouble = '';
  #frameAsked = false;
  #pointer: { readonly x: number; readonly y: number } | undefined;

  constructor(into: HTMLElement, host: Host) {
    this.#host = host;
    this.#frame = buildFrame(into);
    this.#theme = readTheme(document.body);
    const kept = host.getState() as { camera?: unknown; uri?: unknown } | undefined;
    const camera = readCamera(kept?.camera);
    this.#camera = camera ?? startCamera;
    this.#cameraOf = camera && typeof kept?.uri === 'string' ? kept.uri : undefined;
    this.#marks = new Marks(this.#frame.marks, (line) => this.#goToLine(line));
    this.#scene = this.#makeScene();
    this.#colourKey();
    this.#listen();
    this.#resize();
  }

  /** Takes a message of the extension. */
  take(message: ToView): void {
    if (message.type === 'trouble') {
      this.#trouble = `The path is not up to date: ${message.text}.`;
    } else if (message.type === 'program') {
      this.#begin(message.uri);
    } else if (message.uri === this.#uri) {
      this.#takeOfProgram(message);
    }
    this.#ask();
  }

  /** Where a point of the work is seen, CSS pixels of the page. For tests. */
  project(point: Point): { x: number; y: number } {
    const { left, top } = this.#frame.canvas.getBoundingClientRect();
    const { x, y } = project(this.#camera, this.#size, point);
    return { x: x + left, y: y + top };
  }

  /** The colour at a place of the page: the path over what lies behind it. For tests. */
  pixel(x: number, y: number): [number, number, number] {
    const { left, top } = this.#frame.canvas.getBoundingClientRect();
    this.#draw();
    const { backdrop } = this.#frame;
    const ratio = backdrop.width / this.#size.width;
    const behind = backdrop.getContext('2d')?.getImageData((x - left) * ratio, (y - top) * ratio, 1, 1).data;
    const before = this.#scene?.pixel(x - left, y - top) ?? [0, 0, 0, 0];
    const through = 1 - before[3] / 255;
    const mixed = (channel: number): number => Math.round(before[channel] + (behind?.[channel] ?? 0) * through);
    return [mixed(0), mixed(1), mixed(2)];
  }

  #makeScene(): PathScene | undefined {
    try {
      const scene = new PathScene(this.#frame.canvas);
      scene.colour(this.#theme);
      return scene;
    } catch {
      this.#frame.notice.setAttribute('role', 'alert');
      return undefined;
    }
  }

  #colourKey(): void {
    for (const [style, word] of this.#frame.key) {
      word.style.setProperty('--line', this.#theme.path[style]);
    }
  }

  #listen(): void {
    const { canvas, views, fit: fitButton } = this.#frame;
    control(canvas, {
      camera: () => this.#camera,
      size: () => this.#size,
      moved: (camera) => this.#look(camera),
      pointer: (place) => {
        this.#pointer = place;
        this.#ask();
      },
      clicked: (x, y) => {
        const found = pick(this.#picture.pieces, this.#camera, this.#size, x, y);
        if (found) {
          this.#goToLine(found.line);
        }
      },
    });
    for (const [view, button] of views) {
      button.addEventListener('click', () => this.#turnTo(view));
    }
    fitButton.addEventListener('click', () => this.#fit(this.#camera));
    new ResizeObserver(() => this.#resize()).observe(canvas);
    new MutationObserver(() => this.#retheme()).observe(document.body, { attributeFilter: ['class', 'style'] });
    canvas.addEventListener('webglcontextrestored', () => this.#ask());
  }

  #begin(uri: string): void {
    if (uri !== this.#uri) {
      this.#picture.clear();
      this.#marks.show([]);
      this.#scene?.show([]);
      this.#showGhost(undefined);
      this.#lit = { first: 1, last: 0 };
      this.#uri = uri;
      this.#fresh = true;
    }
    this.#trouble = '';
  }

  #takeOfProgram(message: Exclude<ToView, { type: 'trouble' | 'program' }>): void {
    if (message.type === 'lit') {
      this.#lit = message;
      return;
    }
    if (message.type === 'ghost') {
      this.#showGhost(message.data);
      return;
    }
    this.#trouble = '';
    const changed =
      message.type === 'index'
        ? this.#picture.takeIndex(message.index)
        : this.#picture.takePiece(message.id, message.data);
    if (changed) {
      this.#scene?.show(this.#picture.pieces);
    }
    if (this.#picture.complete) {
      this.#marks.show(this.#picture.findings);
    }
    if (changed && this.#cameraOf !== this.#uri && (this.#fresh || !this.#holdsAll())) {
      this.#camera = this.#fitted(this.#camera);
      this.#fresh = !(this.#picture.complete && this.#picture.bounds('bounds')[0] < Infinity);
    }
  }

  /** Draws what a repair would lead to over the path, until it is taken or another one is looked at. */
  #showGhost(data: ArrayBuffer | undefined): void {
    const path = data && readPackedPath(data);
    this.#ghostShown = path !== undefined;
    this.#scene?.showGhost(path);
  }

  /** True if everything is in the picture already, at a size that can be seen. */
  #holdsAll(): boolean {
    const bounds = this.#picture.bounds('bounds');
    const fitted = this.#fitted(this.#camera);
    if (!(bounds[0] <= bounds[3]) || this.#camera.scale < fitted.scale / 4) {
      return false;
    }
    const corners: Point[] = [
      [bounds[0], bounds[1], bounds[2]],
      [bounds[3], bounds[4], bounds[5]],
    ];
    return corners.every((corner) => {
      const { x, y } = project(this.#camera, this.#size, corner);
      return x >= 0 && y >= 0 && x <= this.#size.width && y <= this.#size.height;
    });
  }

  #fitted(camera: Camera): Camera {
    const { tools } = this.#frame;
    const covered = tools.offsetTop + tools.offsetHeight;
    return fitTo(camera, this.#size, this.#picture.bounds('bounds'), covered);
  }

  #turnTo(view: ViewName): void {
    this.#fit({ ...this.#camera, view });
  }

  /** Everything into the picture, now and after edits, until the camera is moved by hand. */
  #fit(camera: Camera): void {
    this.#camera = this.#fitted(camera);
    this.#cameraOf = undefined;
    this.#keep();
  }

  /** The camera stands here from now on. */
  #look(camera: Camera): void {
    this.#camera = camera;
    this.#cameraOf = this.#uri;
    this.#keep();
  }

  /** The camera is the same again after the view was hidden. */
  #keep(): void {
    this.#host.setState({ uri: this.#cameraOf, camera: this.#camera });
    this.#ask();
  }

  #goToLine(line: number): void {
    this.#host.postMessage({ type: 'goToLine', uri: this.#uri, line });
  }

  #resize(): void {
    const { canvas, backdrop } = this.#frame;
    this.#size = { width: Math.max(1, canvas.clientWidth), height: Math.max(1, canvas.clientHeight) };
    const ratio = window.devicePixelRatio || 1;
    backdrop.width = Math.round(this.#size.width * ratio);
    backdrop.height = Math.round(this.#size.height * ratio);
    this.#scene?.resize(this.#size);
    if (this.#cameraOf !== this.#uri && this.#picture.pieces.length > 0) {
      this.#camera = this.#fitted(this.#camera);
    }
    this.#ask();
  }

  #retheme(): void {
    this.#theme = readTheme(document.body);
    this.#colourKey();
    this.#scene?.colour(this.#theme);
    this.#ask();
  }

  /** Draws with the next picture of the screen, however often it is asked. */
  #ask(): void {
    if (!this.#frameAsked) {
      this.#frameAsked = true;
      requestAnimationFrame(() => {
        this.#frameAsked = false;
        this.#draw();
      });
    }
  }

  #draw(): void {
    const { backdrop } = this.#frame;
    const bounds = this.#picture.bounds('bounds');
    const context = backdrop.getContext('2d');
    if (context) {
      const ratio = backdrop.width / this.#size.width;
      context.setTransform(ratio, 0, 0, ratio, 0, 0);
      drawBackdrop(context, this.#camera, this.#size, this.#theme, this.#picture.inch, bounds);
    }
    this.#scene?.draw(this.#camera, this.#size, this.#picture.pieces, this.#lit, reachOf(bounds, this.#camera));
    this.#marks.place(this.#camera, this.#size);
    this.#words(bounds);
  }

  #words(bounds: Float64Array): void {
    const { notice, notes, extents, pointer, views } = this.#frame;
    const { inch, complete, assumedAxes, unplaced } = this.#picture;
    const nothing = complete && !(bounds[0] <= bounds[3]);
    setText(notice, this.#scene ? (nothing ? NO_MOVES : '') : NO_WEBGL);
    notice.hidden = notice.textContent === '';
    const cut = extentTexts(this.#picture.bounds('cutBounds'), inch);
    setParts(extents, cut.length > 0 ? [`Cut, ${unitName(inch)}:`, ...cut] : []);
    const assumed = AXIS_NAMES.filter((_, axis) => assumedAxes & (1 << axis)).map(
      (axis) => `${axis} is never given: drawn at ${axis}0.`,
    );
    const missing = unplaced === 0 ? '' : `${unplaced} more finding${unplaced === 1 ? '' : 's'} without a mark here.`;
    const ghost = this.#ghostShown ? GHOST : '';
    setText(notes, [this.#trouble, ghost, ...assumed, complete ? missing : ''].filter(Boolean).join(' '));
    setText(pointer, this.#pointerText());
    for (const [view, button] of views) {
      button.setAttribute('aria-pressed', String(view === this.#camera.view));
    }
  }

  /** The position under the pointer, and the line and tool of the path there. */
  #pointerText(): string {
    if (!this.#pointer) {
      return '';
    }
    const { x, y } = this.#pointer;
    const { inch, pieces } = this.#picture;
    const parts: string[] = [];
    if (this.#camera.view !== 'space') {
      const at = pointAt(this.#camera, this.#size, x, y);
      for (const axis of PLANE_AXES[this.#camera.view]) {
        parts.push(`${AXIS_NAMES[axis]} ${lengthText(at[axis], inch)}`);
      }
      parts.push(unitName(inch));
    }
    const vertices = pieces.reduce((sum, { path }) => sum + path.vertexCount, 0);
    const found = vertices <= HOVER_LIMIT ? pick(pieces, this.#camera, this.#size, x, y) : undefined;
    if (found) {
      parts.push(`line ${found.line + 1}${found.tool === UNKNOWN_TOOL ? '' : `, T${found.tool}`}`);
    }
    return parts.join('  ');
  }
}

function setText(element: HTMLElement, text: string): void {
  if (element.textContent !== text) {
    element.textContent = text;
  }
}

/** Sets texts that are not to be broken inside. */
function setParts(element: HTMLElement, texts: readonly string[]): void {
  if (element.textContent !== texts.join('')) {
    element.replaceChildren(
      ...texts.map((text) => {
        const span = document.createElement('span');
        span.textContent = text;
        return span;
      }),
    );
  }
}

/** The greatest distance of anything drawn from the plane through the camera's target, mm. */
function reachOf(bounds: Float64Array, camera: Camera): number {
  if (!(bounds[0] <= bounds[3])) {
    return 1;
  }
  const { toward } = basisOf(camera);
  let reach = 0;
  for (let corner = 0; corner < 8; corner++) {
    const from = (axis: 0 | 1 | 2): number => bounds[corner & (1 << axis) ? axis + 3 : axis] - camera.target[axis];
    reach = Math.max(reach, Math.abs(dot(toward, [from(0), from(1), from(2)])));
  }
  return reach * 1.01 + 1;
}
