// The flat views without a graphics card: the path as SVG in the page. Moving and enlarging change one attribute only; its
// lines are laid out anew for another path or another view.
import { type PackedPath, PathStyle, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import { PLANE_AXES } from './backdrop.ts';
import type { Camera, Size, ViewName } from './camera.ts';
import type { ShownPiece } from './picture.ts';
import type { LitLines } from './scene.ts';
import type { Theme } from './theme.ts';

/** More vertices than this are more than a page can hold as SVG. */
export const MOST_VERTICES = 200_000;

/** How each style is stroked, CSS pixels; a helix and an arc differ from a cut without colour, too. */
const STROKES: Readonly<Record<number, { readonly width: number; readonly dashes?: string }>> = {
  [PathStyle.rapid]: { width: 1.2, dashes: '7 5' },
  [PathStyle.cut]: { width: 2 },
  [PathStyle.arc]: { width: 3.2 },
  [PathStyle.plunge]: { width: 3, dashes: '1 5' },
  [PathStyle.helix]: { width: 4, dashes: '10 3' },
};
const STYLES = Object.keys(STROKES).map(Number);

/** What a drawing of the view shows. */
export interface FlatDrawing {
  readonly camera: Camera;
  readonly size: Size;
  readonly theme: Theme;
  readonly pieces: readonly ShownPiece[];
  readonly ghost: PackedPath | undefined;
  /** Lines of the program that the ghost takes the place of. */
  readonly gone: LitLines;
  readonly lit: LitLines;
  /** Values of `PathStyle` that are left out. */
  readonly hiddenKinds: readonly number[];
}

/** One stroked line of the picture. */
interface Stroke {
  readonly data: string;
  readonly colour: string;
  readonly width: number;
  readonly dashes?: string | undefined;
}

/**
 * SVG path data of the ways of a piece that pass, by style; X to the right and up as the view has them, in mm. A way of no
 * length in the view is a dot.
 */
function wayData(
  path: PackedPath,
  view: ViewName,
  passes: (line: number) => boolean = () => true,
  vertices = path.vertexCount,
): Map<number, string> {
  const [right, up] = PLANE_AXES[view];
  const { positions, origin, codes } = path;
  const place = (vertex: number): string =>
    `${short(positions[3 * vertex + right] + origin[right])} ${short(-positions[3 * vertex + up] - origin[up])}`;
  const parts = new Map<number, string[]>();
  /** The vertex that the last way of a style ended at. */
  const pens = new Map<number, number>();
  for (let vertex = 1; vertex < Math.min(vertices, path.vertexCount); vertex++) {
    const style = codes[vertex] & ((1 << STYLE_BITS) - 1);
    if (style === PathStyle.none || !passes((codes[vertex] | 0) >> STYLE_BITS)) {
      continue;
    }
    const own = parts.get(style) ?? [];
    parts.set(style, own);
    if (pens.get(style) !== vertex - 1) {
      own.push(`M${place(vertex - 1)}`);
    }
    own.push(`L${place(vertex)}`);
    pens.set(style, vertex);
  }
  return new Map([...parts].map(([style, own]) => [style, own.join('')]));
}

/** Five places of a millimetre, without zeros behind. */
const short = (value: number): string => String(Math.round(value * 1e5) / 1e5 + 0);

/** See the top of the file. */
export class FlatSvg {
  readonly element = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  readonly #group = document.createElementNS('http://www.w3.org/2000/svg', 'g');
  #strokes: readonly Stroke[] = [];
  #drawn: FlatDrawing | undefined;

  constructor() {
    this.element.setAttribute('class', 'flat');
    this.element.setAttribute('aria-hidden', 'true');
    this.element.append(this.#group);
  }

  /** Draws; what is drawn already only goes to its place. */
  draw(drawing: FlatDrawing): void {
    if (!isSame(drawing, this.#drawn)) {
      this.#strokes = strokesOf(drawing);
      this.#group.replaceChildren(...this.#strokes.map(lineOf));
    }
    this.#drawn = drawing;
    this.#group.setAttribute('transform', `matrix(${matrixOf(drawing).join(' ')})`);
  }

  /** Draws the same on a canvas whose unit is the CSS pixel. */
  paint(context: CanvasRenderingContext2D): void {
    if (!this.#drawn) {
      return;
    }
    context.save();
    context.lineCap = 'round';
    context.lineJoin = 'round';
    const matrix = new DOMMatrix([...matrixOf(this.#drawn)]);
    for (const { data, colour, width, dashes } of this.#strokes) {
      const line = new Path2D();
      line.addPath(new Path2D(data), matrix);
      context.strokeStyle = colour;
      context.lineWidth = width;
      context.setLineDash(dashes?.split(' ').map(Number) ?? []);
      context.stroke(line);
    }
    context.restore();
  }
}

/** True if only the camera's place and scale may be other ones. */
function isSame(a: FlatDrawing, b: FlatDrawing | undefined): boolean {
  return (
    b !== undefined &&
    a.camera.view === b.camera.view &&
    a.theme === b.theme &&
    a.pieces === b.pieces &&
    a.ghost === b.ghost &&
    a.gone.first === b.gone.first &&
    a.gone.last === b.gone.last &&
    a.lit.first === b.lit.first &&
    a.lit.last === b.lit.last &&
    a.hiddenKinds === b.hiddenKinds
  );
}

/** From millimetres of the view, up negative, to CSS pixels. */
function matrixOf({ camera, size }: FlatDrawing): readonly [number, number, number, number, number, number] {
  const [right, up] = PLANE_AXES[camera.view];
  const { scale, target } = camera;
  return [scale, 0, 0, scale, size.width / 2 - scale * target[right], size.height / 2 + scale * target[up]];
}

function strokesOf({ camera, theme, pieces, ghost, gone, lit, hiddenKinds }: FlatDrawing): Stroke[] {
  const strokes: Stroke[] = [];
  const litStrokes: Stroke[] = [];
  let room = MOST_VERTICES;
  for (const { path, firstLine } of pieces) {
    const stays = (line: number): boolean => line + firstLine < gone.first || line + firstLine > gone.last;
    const all = wayData(path, camera.view, gone.first <= gone.last ? stays : undefined, room);
    const isLit = (line: number): boolean =>
      stays(line) && line + firstLine >= lit.first && line + firstLine <= lit.last;
    const own = lit.first <= lit.last ? wayData(path, camera.view, isLit, room) : new Map<number, string>();
    for (const style of STYLES.filter((each) => !hiddenKinds.includes(each))) {
      const data = all.get(style);
      const { width, dashes } = STROKES[style];
      if (data) strokes.push({ data, colour: theme.path[style], width, dashes });
      const litData = own.get(style);
      if (litData) litStrokes.push({ data: litData, colour: theme.foreground, width: width + 1.5, dashes });
    }
    room -= path.vertexCount;
    if (room <= 0) break;
  }
  const dotted = ghost ? [...wayData(ghost, camera.view)] : [];
  return [
    ...strokes,
    ...litStrokes,
    ...dotted.map(([style, data]) =>
      style === PathStyle.rapid
        ? { data, colour: theme.ghost, width: 1.6, dashes: '8 5' }
        : { data, colour: theme.ghost, width: 5, dashes: '0.1 9' },
    ),
  ];
}

function lineOf({ data, colour, width, dashes }: Stroke): SVGPathElement {
  const line = document.createElementNS('http://www.w3.org/2000/svg', 'path');
  line.setAttribute('d', data);
  line.setAttribute('stroke', colour);
  line.setAttribute('stroke-width', String(width));
  if (dashes) {
    line.setAttribute('stroke-dasharray', dashes);
  }
  // Widths and dashes count screen pixels, whatever the scale.
  line.setAttribute('vector-effect', 'non-scaling-stroke');
  return line;
}
