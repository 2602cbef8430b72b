// The path in WebGL: one mesh a piece, drawn again only when something has changed.
import {
  Color,
  DataTexture,
  LinearFilter,
  OrthographicCamera,
  PerspectiveCamera,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three';
import { type PackedPath, PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import { basisOf, type Camera, eyeDistance, NEAREST_PART, type Size, VIEW_ANGLE } from './camera.ts';
import type { Scale } from './colouredBy.ts';
import { RAMP_STEPS, rampTable } from './colours.ts';
import type { SideLayer } from './messages.ts';
import type { ShownPiece } from './picture.ts';
import { ALL_WAYS, PieceMesh, type Uniforms } from './pieceMesh.ts';
import { ColourSource, Look, STYLE_COUNT } from './shaders.ts';
import type { Theme } from './theme.ts';
import type { Hidden } from './toolSections.ts';

/** Lines (0-based, of the program) that are lit; `last` below `first`: none. */
export interface LitLines {
  readonly first: number;
  readonly last: number;
}

/** What of the program's path is shown, and how it is coloured. */
export interface PathLook {
  readonly scale: Scale;
  /** Kinds of line that are shown: bit n for `PathStyle` n. */
  readonly kinds: number;
  /** What of a piece is left out. */
  hidden(piece: ShownPiece): Hidden;
}

/** How far a run has come: the pieces before are behind the tool, the pieces after it are ahead. */
export interface RunSeen {
  /** Place of the tool's piece among those that are shown. */
  readonly piece: number;
  /** Whole ways of it that are behind the tool, and the part of the next one, 0 to 1. */
  readonly ways: number;
  readonly part: number;
}

/** How strongly what is ahead of the tool is drawn, of 1. */
const AHEAD_STRENGTH = 0.3;

/** Widths in CSS pixels by style. */
const WIDTHS: readonly number[] = (() => {
  const widths = new Array<number>(STYLE_COUNT).fill(0);
  widths[PathStyle.rapid] = 1.2;
  widths[PathStyle.cut] = 2;
  widths[PathStyle.plunge] = 3;
  widths[PathStyle.helix] = 4;
  widths[PathStyle.arc] = 4.5;
  return widths;
})();

const NO_LINES: LitLines = { first: 1, last: 0 };
const ALL_STYLES = 2 ** STYLE_COUNT - 1;

/** Draws the path. The constructor throws where there is no WebGL. */
export class PathScene {
  readonly #renderer: WebGLRenderer;
  readonly #scene = new Scene();
  readonly #parallel = new OrthographicCamera();
  readonly #perspective = new PerspectiveCamera(VIEW_ANGLE);
  readonly #meshes = new Map<number, PieceMesh>();
  readonly #sides: Record<SideLayer, PieceMesh[]> = { contour: [], other: [] };
  readonly #shared: Uniforms = {
    viewport: { value: new Vector2(1, 1) },
    pixelRatio: { value: 1 },
    widths: { value: WIDTHS },
    colours: { value: WIDTHS.map(() => new Color()) },
    litColour: { value: new Color() },
    ghostColour: { value: new Color() },
    contourColour: { value: new Color() },
    otherColour: { value: new Color() },
    neutralColour: { value: new Color() },
    background: { value: new Color() },
    pixelsPerMm: { value: 1 },
    shownStyles: { value: ALL_STYLES },
    colourSource: { value: ColourSource.style },
    areRapidsColoured: { value: 0 },
    range: { value: new Vector2(0, 1) },
    ramp: { value: null },
    aheadStrength: { value: AHEAD_STRENGTH },
  };
  /** Beside paths show all kinds of line. */
  readonly #sideShared: Uniforms = { ...this.#shared, shownStyles: { value: ALL_STYLES } };
  #theme: Theme | undefined;
  #thinness: number | undefined;
  /** Behind what was drawn last, where somebody waits for it. */
  #fence: WebGLSync | undefined;
  #ghost: PieceMesh | undefined;
  #gone: LitLines = NO_LINES;

  constructor(canvas: HTMLCanvasElement) {
    this.#renderer = new WebGLRenderer({ canvas, alpha: true, antialias: true });
    this.#renderer.setClearColor(0, 0);
    this.#parallel.matrixAutoUpdate = false;
    this.#perspective.matrixAutoUpdate = false;
  }

  /** Fits the drawing to the canvas. */
  resize({ width, height }: Size): void {
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    this.#renderer.setPixelRatio(ratio);
    this.#renderer.setSize(width, height, false);
    this.#shared.viewport.value.set(width * ratio, height * ratio);
    this.#shared.pixelRatio.value = ratio;
  }

  colour(theme: Theme): void {
    this.#theme = theme;
    const raw = (colour: Color, text: string): void => {
      // As written, without conversion: the page's colours are shown as they are.
      colour.setStyle(text, 'srgb-linear');
    };
    const shared = this.#shared;
    theme.path.forEach((text, style) => {
      raw(shared.colours.value[style], text);
    });
    raw(shared.litColour.value, theme.foreground);
    raw(shared.ghostColour.value, theme.ghost);
    raw(shared.contourColour.value, theme.contour);
    raw(shared.otherColour.value, theme.other);
    raw(shared.neutralColour.value, theme.contour);
    raw(shared.background.value, theme.background);
    (shared.ramp.value as DataTexture | null)?.dispose();
    const ramp = new DataTexture(rampTable(theme.ramp), RAMP_STEPS, 1);
    ramp.magFilter = LinearFilter;
    ramp.minFilter = LinearFilter;
    ramp.needsUpdate = true;
    // The same holder is in the uniforms of every mesh.
    shared.ramp.value = ramp;
  }

  /** Shows these pieces; those that were shown before are kept as they are. */
  show(pieces: readonly ShownPiece[]): void {
    const wanted = new Set(pieces.map(({ id }) => id));
    for (const [id, mesh] of this.#meshes) {
      if (!wanted.has(id)) {
        this.#remove(mesh);
        this.#meshes.delete(id);
      }
    }
    for (const piece of pieces) {
      if (!this.#meshes.has(piece.id) && piece.path.vertexCount > 1) {
        const made = new PieceMesh(piece.path, this.#shared, Look.own, this.#thinness);
        this.#meshes.set(piece.id, made);
        this.#scene.add(made.drawn);
      }
    }
  }

  /** Leaves out and colours as wanted what `show` shows. */
  dress(pieces: readonly ShownPiece[], { scale, kinds, hidden }: PathLook): void {
    const { shownStyles, colourSource, areRapidsColoured, range } = this.#shared;
    const isByRow = scale.by === 'tool' || scale.by === 'feed' || scale.by === 'speed';
    const { style, row, depth, time } = ColourSource;
    shownStyles.value = kinds;
    areRapidsColoured.value = scale.by === 'tool' ? 1 : 0;
    colourSource.value = isByRow ? row : scale.by === 'depth' ? depth : scale.by === 'time' ? time : style;
    if ('least' in scale) {
      range.value.set(scale.least, scale.greatest);
    }
    for (const piece of pieces) {
      const mesh = this.#meshes.get(piece.id);
      mesh?.hide(hidden(piece));
      if (isByRow && this.#theme) {
        mesh?.colourRows(scale, this.#theme);
      } else if (scale.by === 'time') {
        mesh?.time(piece.times, piece.startSeconds);
      }
    }
  }

  /** From now on what is ahead of the tool is faint; without a run nothing is. */
  showRun(run: RunSeen | undefined, pieces: readonly ShownPiece[]): void {
    for (const [index, { id }] of pieces.entries()) {
      const isBehind = !run || index < run.piece;
      const ways = isBehind ? ALL_WAYS : index === run.piece ? run.ways : 0;
      this.#meshes.get(id)?.run(ways, index === run?.piece ? run.part : 0);
    }
  }

  /** Draws the pieces of a path beside the program's own instead of those before. */
  showSide(layer: SideLayer, pieces: readonly ShownPiece[]): void {
    for (const mesh of this.#sides[layer]) {
      this.#remove(mesh);
    }
    const drawn = pieces.filter(({ path }) => path.vertexCount > 1);
    this.#sides[layer] = drawn.map(({ path }) => this.#addSide(path, Look[layer]));
  }

  /** Draws another path over the pieces, or none; the lines that it takes the place of are left out. */
  showGhost(path: PackedPath | undefined, gone: LitLines = NO_LINES): void {
    this.#gone = gone;
    if (this.#ghost) {
      this.#remove(this.#ghost);
    }
    this.#ghost = path && path.vertexCount > 1 ? this.#addSide(path, Look.ghost) : undefined;
  }

  /**
   * From now on the program's own path is drawn in lines of one pixel, which is quicker, without what may be left out, mm; or,
   * where that is `undefined`, in lines of their width.
   */
  thin(thinness: number | undefined): void {
    this.#thinness = thinness;
    for (const mesh of this.#meshes.values()) {
      mesh.thin(thinness);
    }
  }

  #addSide(path: PackedPath, look: number): PieceMesh {
    const made = new PieceMesh(path, this.#sideShared, look);
    this.#scene.add(made.drawn);
    return made;
  }

  #remove(mesh: PieceMesh): void {
    this.#scene.remove(mesh.drawn);
    mesh.dispose();
  }

  /** Draws. `reach` is the greatest distance of anything drawn from the camera's target, mm. */
  draw(camera: Camera, size: Size, pieces: readonly ShownPiece[], lit: LitLines, reach: number): void {
    for (const { id, firstLine } of pieces) {
      const mesh = this.#meshes.get(id);
      mesh?.light(lit.first - firstLine, lit.last - firstLine);
      mesh?.leaveOut(this.#gone.first - firstLine, this.#gone.last - firstLine);
    }
    this.#renderer.render(this.#scene, this.#place(camera, size, Math.max(1, reach)));
  }

  /** From now on `isThrough` tells of what has been drawn so far. */
  watch(): void {
    const gl = this.#renderer.getContext() as WebGL2RenderingContext;
    this.#unwatch(gl);
    this.#fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0) ?? undefined;
    gl.flush();
  }

  /** True if what was drawn before `watch` is done; a card that has dropped the picture is done with it. */
  get isThrough(): boolean {
    const gl = this.#renderer.getContext() as WebGL2RenderingContext;
    if (this.#fence && !gl.isContextLost() && gl.getSyncParameter(this.#fence, gl.SYNC_STATUS) !== gl.SIGNALED) {
      return false;
    }
    this.#unwatch(gl);
    return true;
  }

  #unwatch(gl: WebGL2RenderingContext): void {
    gl.deleteSync(this.#fence ?? null);
    this.#fence = undefined;
  }

  /** The colour at a place in CSS pixels as it was drawn last, red green blue alpha of 255; draw just before. */
  pixel(x: number, y: number): [number, number, number, number] {
    const gl = this.#renderer.getContext();
    const ratio = this.#shared.pixelRatio.value;
    const colour = new Uint8Array(4);
    gl.readPixels(
      Math.floor(x * ratio),
      gl.drawingBufferHeight - 1 - Math.floor(y * ratio),
      1,
      1,
      gl.RGBA,
      gl.UNSIGNED_BYTE,
      colour,
    );
    return [colour[0], colour[1], colour[2], colour[3]];
  }

  /** The library's camera, put where ours is. */
  #place(camera: Camera, size: Size, reach: number): OrthographicCamera | PerspectiveCamera {
    const { right, up, toward } = basisOf(camera);
    this.#shared.pixelsPerMm.value = camera.scale * this.#shared.pixelRatio.value;
    const eye = eyeDistance(camera, size);
    const isNear = eye < Number.POSITIVE_INFINITY;
    const at = isNear ? this.#seenFrom(eye, size, reach) : this.#seenParallel(camera, size, reach);
    const place = new Vector3(...camera.target).addScaledVector(new Vector3(...toward), isNear ? eye : 2 * reach);
    at.matrix.makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...toward)).setPosition(place);
    at.updateProjectionMatrix();
    at.updateMatrixWorld(true);
    return at;
  }

  #seenParallel({ scale }: Camera, { width, height }: Size, reach: number): OrthographicCamera {
    const at = this.#parallel;
    at.right = width / 2 / scale;
    at.left = -at.right;
    at.top = height / 2 / scale;
    at.bottom = -at.top;
    at.near = 0;
    at.far = 4 * reach;
    return at;
  }

  #seenFrom(eye: number, { width, height }: Size, reach: number): PerspectiveCamera {
    const at = this.#perspective;
    at.aspect = width / height;
    at.near = Math.max(eye - reach, eye * NEAREST_PART);
    at.far = eye + reach;
    return at;
  }
}
