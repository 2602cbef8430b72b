/**
 * A drawing of a program's path as SVG: one plane, to scale in millimetres, arcs as arcs, rapids dashed, the overall size
 * dimensioned. The text comes in pieces, so that a million moves need no room.
 */
import { arcPoint } from '../geometry/arcMeasure.ts';
import type { Plane } from '../machine/planes.ts';
import { inItsPlane, type TracedArc, type TracedMove } from './trace.ts';
import type { Extents } from './traceSummary.ts';

/** What is drawn. */
export interface Drawing {
  /** Name of the program's file, for the title. */
  readonly name: string;
  readonly plane: Plane['name'];
  /** Extents of all moves; undefined where nothing moves. */
  readonly extents: Extents | undefined;
  /** Unit of the dimensions; the drawing itself is always to scale in millimetres. */
  readonly units?: 'mm' | 'inch';
  /** False where a limit stopped the run or something is not executed. */
  readonly complete: boolean;
}

/** Axes to the right and upward, and the axis that is looked along. */
interface View {
  readonly right: number;
  readonly up: number;
  readonly along: number;
  readonly words: string;
}

const VIEWS: Readonly<Record<Plane['name'], View>> = {
  XY: { right: 0, up: 1, along: 2, words: 'X to the right, Y up, seen from above' },
  ZX: { right: 0, up: 2, along: 1, words: 'X to the right, Z up, seen from the front' },
  YZ: { right: 1, up: 2, along: 0, words: 'Y to the right, Z up, seen from the right' },
};
const AXES = 'XYZ';

/** Where the numbers of the sheet come from: its edges in drawing coordinates (up is negative), and a size for text. */
interface Sheet {
  readonly view: View;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly text: number;
}

/** A radius that differs by more than this over an arc is drawn as a spiral of chords, mm: an SVG arc has one radius. */
const SPIRAL = 0.02;
const CHORD_STEP = Math.PI / 36;
/** Lettering of the smallest drawing, mm: 1.8 of ISO 3098, from memory. */
const LEAST_TEXT = 1.8;
/** Room for a line of dimension text, in text heights. */
const TEXT_ROOM = 18;
/** Moves in one path element. */
const BATCH = 2000;

/** The drawing in pieces of text, to be written one after the other. */
export function* svgPieces(drawing: Drawing, moves: Iterable<TracedMove>): Generator<string> {
  const sheet = sheetOf(drawing);
  yield head(drawing, sheet);
  yield* paths(sheet, moves);
  if (drawing.extents !== undefined) yield dimensions(sheet, drawing.units === 'inch');
  yield workZero(sheet);
  yield '</svg>\n';
}

function sheetOf({ plane, extents }: Drawing): Sheet {
  const view = VIEWS[plane];
  const known = (value: number | undefined) => (value === undefined || Number.isNaN(value) ? 0 : value);
  const left = known(extents?.min[view.right]);
  const right = known(extents?.max[view.right]);
  const bottom = -known(extents?.min[view.up]);
  const top = -known(extents?.max[view.up]);
  const size = Math.max(right - left, bottom - top);
  return { view, left, right, top, bottom, text: Math.max(size / 40, LEAST_TEXT) };
}

function head({ name, plane, complete, units }: Drawing, sheet: Sheet): string {
  const margin = (size: number) => sheet.text * Math.max(5, (TEXT_ROOM - size / sheet.text) / 2);
  const [across, upward] = [sheet.right - sheet.left, sheet.bottom - sheet.top];
  const x = sheet.left - margin(across);
  const y = sheet.top - margin(upward);
  const width = across + 2 * margin(across);
  const height = upward + 2 * margin(upward);
  const box = [x, y, width, height].map(short).join(' ');
  const size = [width, height].map(short);
  const words = `${sheet.view.words}. ${units === 'inch' ? 'Dimensions in inch' : 'Millimetres'}, to scale; rapids dashed, a ring where the tool goes straight in.${complete ? '' : ' The path is not complete.'}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${size[0]}mm" height="${size[1]}mm" viewBox="${box}" role="img" aria-labelledby="title description">
<title id="title">${xmlText(name)}, path in ${plane}</title>
<desc id="description">${words}</desc>
<rect fill="#fbfaf7" x="${short(x)}" y="${short(y)}" width="${size[0]}" height="${size[1]}"/>
`;
}

type LineKind = 'cut' | 'rapid' | 'plunge' | 'size' | 'zero';

/** Attributes, not a style sheet, which would reach beyond a drawing that stands in a page. */
function lineStyle({ text }: Sheet, kind: LineKind): string {
  const round = 'fill="none" stroke-linejoin="round" stroke-linecap="round"';
  const thin = short(text / 14);
  const thick = short(text / 8);
  if (kind === 'cut') return `${round} stroke="#0b3c5d" stroke-width="${thick}"`;
  if (kind === 'plunge') return `${round} stroke="#0b3c5d" stroke-width="${thin}"`;
  if (kind === 'size') return `${round} stroke="#5a5f58" stroke-width="${thin}"`;
  if (kind === 'zero') return `${round} stroke="#7d3c6c" stroke-width="${thin}"`;
  const dashes = `${short(text / 2)} ${short(text / 3)}`;
  // Thinner than a cut, which shows on both sides of a rapid that comes back over it.
  return `${round} stroke="#b0742a" stroke-width="${thin}" stroke-dasharray="${dashes}"`;
}

function* paths(sheet: Sheet, moves: Iterable<TracedMove>): Generator<string> {
  let kind: LineKind = 'rapid';
  let count = 0;
  let data = '';
  let pen = '';
  const close = () => (data === '' ? '' : `<path ${lineStyle(sheet, kind)} d="${data}"/>\n`);
  for (const move of moves) {
    if (move.kind === 'dwell' || !isDrawn(sheet.view, move)) continue;
    const next = kindOf(sheet.view, move);
    if (next !== kind || ++count > BATCH) {
      yield close();
      kind = next;
      count = 0;
      data = '';
      pen = '';
    }
    if (next === 'plunge') {
      data += ring(sheet, move, data);
      continue;
    }
    const start = place(move.from[sheet.view.right], move.from[sheet.view.up]);
    data += (start === pen ? '' : `M${start}`) + strokes(sheet.view, move);
    pen = place(move.to[sheet.view.right], move.to[sheet.view.up]);
  }
  yield close();
}

const wayOf = ({ right, up }: View, { from, to }: TracedMove): number =>
  Math.hypot(to[right] - from[right], to[up] - from[up]);

function kindOf(view: View, move: TracedMove): LineKind {
  if (move.kind === 'rapid') return 'rapid';
  return move.arc === undefined && wayOf(view, move) === 0 ? 'plunge' : 'cut';
}

/** True if both ends are known in this view and it is more than a point in it, or goes in. */
function isDrawn(view: View, move: TracedMove): boolean {
  const way = wayOf(view, move);
  if (move.arc !== undefined) return way >= 0;
  return way > 0 || (way === 0 && move.kind === 'line' && move.to[view.along] < move.from[view.along]);
}

/** A ring about a place; nothing where the last one stands there already, as at every peck. */
function ring({ view, text }: Sheet, { from }: TracedMove, before: string): string {
  const r = text / 2;
  const data = `M${place(from[view.right] - r, from[view.up])}`;
  const turned = `a${short(r)} ${short(r)} 0 1 1 `;
  const whole = `${data}${turned}${short(2 * r)} 0${turned}${short(-2 * r)} 0`;
  return before.endsWith(whole) ? '' : whole;
}

const place = (right: number, up: number): string => `${short(right)} ${short(-up)}`;

function strokes(view: View, move: TracedMove): string {
  const end = place(move.to[view.right], move.to[view.up]);
  if (move.arc === undefined || Number.isNaN(move.arc.sweep + move.arc.radius)) return `L${end}`;
  const { plane } = inItsPlane(move, move.arc);
  if (plane.third !== view.along) return chords(view, move, move.arc);
  if (Math.abs(move.arc.endRadius - move.arc.radius) > SPIRAL) return chords(view, move, move.arc);
  return trueArc(view, move, move.arc);
}

/** SVG arcs of at most half a turn each; a helix of several turns lies on one circle, drawn once. */
function trueArc(view: View, move: TracedMove, traced: TracedArc): string {
  const { plane, arc } = inItsPlane(move, traced);
  const turns = Math.trunc(Math.abs(traced.sweep) / 360);
  const whole =
    Math.abs(arc.sweep) <= 2 * Math.PI ? arc.sweep : arc.sweep - Math.sign(arc.sweep) * 2 * Math.PI * (turns - 1);
  const parts = Math.max(1, Math.ceil(Math.abs(whole) / Math.PI - 1e-9));
  // Seen from the front, X to the right and Z up, a turn from Z to X runs the other way round.
  const mirrored = plane.first !== view.right;
  const sweepFlag = arc.sweep > 0 === mirrored ? 1 : 0;
  let data = '';
  for (let part = 1; part <= parts; part++) {
    const [first, second] = arcPoint({ ...arc, sweep: whole }, part / parts);
    const seen = mirrored ? place(second, first) : place(first, second);
    const end = part === parts ? place(move.to[view.right], move.to[view.up]) : seen;
    data += `A${short(arc.radius)} ${short(arc.radius)} 0 0 ${sweepFlag} ${end}`;
  }
  return data;
}

/** An arc that is seen from the side, or whose radius changes: chords of five degrees. */
function chords(view: View, move: TracedMove, traced: TracedArc): string {
  const { plane, arc } = inItsPlane(move, traced);
  const steps = Math.min(720, Math.max(2, Math.ceil(Math.abs(arc.sweep) / CHORD_STEP)));
  const rise = move.to[plane.third] - move.from[plane.third];
  let data = '';
  for (let step = 1; step < steps; step++) {
    const point = [0, 0, 0];
    [point[plane.first], point[plane.second]] = arcPoint(arc, step / steps);
    point[plane.third] = move.from[plane.third] + (rise * step) / steps;
    data += `L${place(point[view.right], point[view.up])}`;
  }
  return `${data}L${place(move.to[view.right], move.to[view.up])}`;
}

/** The overall size: a line below and one at the left, each with its length and the coordinates of its ends. */
function dimensions(sheet: Sheet, inInch: boolean): string {
  const { view, left, right, top, bottom, text } = sheet;
  const low = bottom + text * 1.6;
  const side = left - text * 1.6;
  const tick = text / 2;
  const [across, upward] = [AXES[view.right], AXES[view.up]];
  const middle = (left + right) / 2;
  const centre = (top + bottom) / 2;
  const lines =
    `M${short(left)} ${short(low)}H${short(right)}` +
    `M${short(left)} ${short(low - tick)}v${short(2 * tick)}M${short(right)} ${short(low - tick)}v${short(2 * tick)}` +
    `M${short(side)} ${short(bottom)}V${short(top)}` +
    `M${short(side - tick)} ${short(bottom)}h${short(2 * tick)}M${short(side - tick)} ${short(top)}h${short(2 * tick)}`;
  const font = `font-family="sans-serif" font-size="${short(text)}" fill="#33362f" text-anchor="middle"`;
  const words = (x: number, y: number, said: string, turned = false) =>
    `<text ${font} x="${short(x)}" y="${short(y)}"${turned ? ` transform="rotate(-90 ${short(x)} ${short(y)})"` : ''}>${said}</text>\n`;
  const range = (axis: string, from: number, to: number) =>
    `${axis} ${size(to - from, inInch)} (${size(from, inInch)} to ${size(to, inInch)})`;
  return (
    `<path ${lineStyle(sheet, 'size')} d="${lines}"/>\n` +
    words(middle, low + text * 1.5, range(across, left, right)) +
    words(side - text, centre, range(upward, -bottom, -top), true)
  );
}

/** A mark at the work zero: a ring with a cross. */
function workZero(sheet: Sheet): string {
  const { left, right, top, bottom, text } = sheet;
  if (left > 0 || right < 0 || top > 0 || bottom < 0) return '';
  const [r, s] = [short(text / 2), short(text)];
  return `<path ${lineStyle(sheet, 'zero')} d="M-${s} 0H${s}M0 -${s}V${s}M-${r} 0A${r} ${r} 0 1 1 ${r} 0A${r} ${r} 0 1 1 -${r} 0"/>\n`;
}

/** A coordinate with at most five places, without zeros behind. */
const short = (value: number): string => String(Math.round(value * 1e5) / 1e5 + 0);

const size = (value: number, inInch: boolean): string => {
  const places = inInch ? 4 : 3;
  const shown = inInch ? value / 25.4 : value;
  return (Math.round(shown * 10 ** places) / 10 ** places + 0).toFixed(places);
};

const xmlText = (text: string): string =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are not allowed in XML
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '\ufffd')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
