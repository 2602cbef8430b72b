// The flat views without a graphics card: the path as SVG in the page. Moving and enlarging change one attribute only; its
// lines are laid out anew for another path or another view.
import { type PackedPath, PathStyle, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import { PLANE_AXES } from './backdrop.ts';
import type { Camera, Size, ViewName } from './camera.ts';
import type { Scale } from './colouredBy.ts';
import { wayColours } from './flatColours.ts';
import { isWaySeen } from './pick.ts';
import type { ShownPiece } from './picture.ts';
import type { LitLines } from './scene.ts';
import type { Theme } from './theme.ts';
import type { Hidden } from './toolSections.ts';

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
  /** What is left out of each piece besides, by its id. */
  readonly hidden: ReadonlyMap<number, Hidden>;
  readonly scale: Scale;
  /** The contour as programmed and a second program, drawn beside the path. */
  readonly contour: readonly ShownPiece[];
  readonly other: readonly ShownPiece[];
}

/** One stroked line of the picture. */
interface Stroke {
  readonly data: string;
  readonly colour: string;
  readonly width: number;
  readonly dashes?: string | undefined;
}

/**
 * SVG path data of the ways of a piece that pass, by style and by colour; X to the right and up as the view has them, in mm. A
 * way of no length in the view is a dot.
 */
function wayData(
  path: PackedPath,
  view: ViewName,
  colourOf: (vertex: number) => string,
  passes: (vertex: number) => boolean = () => true,
  vertices = path.vertexCount,
): WayData[] {
  const [right, up] = PLANE_AXES[view];
  const { positions, origin, codes } = path;
  const place = (vertex: number): string =>
    `${short(positions[3 * vertex + right] + origin[right])} ${short(-positions[3 * vertex + up] - origin[up])}`;
  const all = new Map<string, { style: number; colour: string; parts: string[]; pen: number }>();
  for (let vertex = 1; vertex < Math.min(vertices, path.vertexCount); vertex++) {
    const style = codes[vertex] & STYLE_MASK;
    if (style === PathStyle.none || !passes(vertex)) {
      continue;
    }
    const colour = colourOf(vertex);
    const own = all.get(`${style} ${colour}`) ?? { style, colour, parts: [], pen: -1 };
    all.set(`${style} ${colour}`, own);
    if (own.pen !== vertex - 1) {
      own.parts.push(`M${place(vertex - 1)}`);
    }
    own.parts.push(`L${place(vertex)}`);
    own.pen = vertex;
  }
  return [...all.values()].map(({ style, colour, parts }) => ({ style, colour, data: parts.join('') }));
}

/** Ways of one style and colour. */
interface WayData {
  readonly style: number;
  readonly colour: string;
  readonly data: string;
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
    a.hidden === b.hidden &&
    a.scale === b.scale &&
    a.contour === b.contour &&
    a.other === b.other &&
    a.hiddenKinds === b.hiddenKinds
  );
}

/** From millimetres of the view, up negative, to CSS pixels. */
function matrixOf({ camera, size }: FlatDrawing): readonly [number, number, number, number, number, number] {
  const [right, up] = PLANE_AXES[camera.view];
  const { scale, target } = camera;
  return [scale, 0, 0, scale, size.width / 2 - scale * target[right], size.height / 2 + scale * target[up]];
}

function strokesOf(drawing: FlatDrawing): Stroke[] {
  const { camera, theme, pieces, ghost, gone, lit, hiddenKinds, hidden, scale, contour, other } = drawing;
  const strokes: Stroke[] = [];
  const litStrokes: Stroke[] = [];
  const kinds = hiddenKinds.reduce((all, kind) => all & ~(1 << kind), -1);
  let room = MOST_VERTICES;
  for (const piece of pieces) {
    const { id, path, firstLine } = piece;
    const seen = { kinds, hidden: hidden.get(id) ?? ('nothing' as const) };
    const isIn = (vertex: number, lines: LitLines): boolean => {
      const line = firstLine + ((path.codes[vertex] | 0) >> STYLE_BITS);
      return line >= lines.first && line <= lines.last;
    };
    const stays = (vertex: number): boolean => isWaySeen(path.codes, vertex, seen) && !isIn(vertex, gone);
    for (const { style, colour, data } of wayData(path, camera.view, wayColours(piece, scale, theme), stays, room)) {
      strokes.push({ data, colour, ...STROKES[style] });
    }
    const isLit = (vertex: number): boolean => isIn(vertex, lit) && stays(vertex);
    const own = lit.first <= lit.last ? wayData(path, camera.view, () => theme.foreground, isLit, room) : [];
    for (const { style, colour, data } of own) {
      litStrokes.push({ data, colour, ...STROKES[style], width: STROKES[style].width + 1.5 });
    }
    room -= path.vertexCount;
    if (room <= 0) break;
  }
  const besides = [
    ...besideStrokes(contour, camera.view, theme.contour, true),
    ...besideStrokes(other, camera.view, theme.other),
  ];
  return [...strokes, ...besides, ...litStrokes, ...(ghost ? ghostStrokes(ghost, camera.view, theme.ghost) : [])];
}

/** Fine dots for the contour and for the rapids of a second program, dash and dot for its cuts. */
function besideStrokes(pieces: readonly ShownPiece[], view: ViewName, colour: string, isContour = false): Stroke[] {
  return pieces.flatMap(({ path }) =>
    wayData(path, view, () => colour, undefined, MOST_VERTICES).map(({ style, data }) => {
      const isDotted = isContour || style === PathStyle.rapid;
      return { data, colour, width: isContour ? 1.4 : 1.8, dashes: isDotted ? '2.5 2.5' : '12 3 2 3' };
    }),
  );
}

/** Thick dots; rapids thin and dashed. */
const ghostStrokes = (ghost: PackedPath, view: ViewName, colour: string): Stroke[] =>
  wayData(ghost, view, () => colour).map(({ style, data }) =>
    style === PathStyle.rapid
      ? { data, colour, width: 1.6, dashes: '8 5' }
      : { data, colour, width: 5, dashes: '0.1 9' },
  );

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
