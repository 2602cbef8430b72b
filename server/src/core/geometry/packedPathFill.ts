/** Fills a piece of the path with vertices, span by span. A big program spends its time here: no object a vertex. */
import { BEGINS_AGAIN, emptyBounds, type PackedPath, PathStyle, STYLE_BITS } from './packedLayout.ts';
import { type ChordPlace, chordPlace, fillChords, includeOutermost } from './packedPathArc.ts';
import type { RowRuns } from './packedPathRows.ts';
import { chordCount, countVertices, EXTRAS, type PathMoves, Treatment } from './pathMoves.ts';

/** What filling needs to know of the moves. */
export interface FillMeaning {
  /** A `Treatment` for each value of `kinds`. */
  readonly treatments: Uint8Array;
  /** 17, 18 or 19 for a set of modes. */
  plane(modes: number): number;
  /** Bits: 1 X, 2 Y, 4 Z is never known in the program and drawn at zero. */
  readonly assumedAxes: number;
}

/** The part of a span that is filled. */
interface FilledSpan {
  readonly moves: PathMoves;
  readonly entry: Float64Array;
  readonly from: number;
  readonly to: number;
  readonly lineOffset: number;
  readonly again?: Uint32Array;
}

const SAME = 1e-9;

const include = (box: Float64Array, x: number, y: number, z: number): void => {
  if (x < box[0]) box[0] = x;
  if (y < box[1]) box[1] = y;
  if (z < box[2]) box[2] = z;
  if (x > box[3]) box[3] = x;
  if (y > box[4]) box[4] = y;
  if (z > box[5]) box[5] = z;
};

/** Where the pen is, and where the next vertex goes. */
export class PathFiller {
  private readonly path: PackedPath;
  private readonly meaning: FillMeaning;
  private readonly rowPlaces: ReadonlyMap<number, number>;
  private next = 0;
  private x = Number.NaN;
  private y = Number.NaN;
  private z = Number.NaN;
  private readonly rapidBounds = emptyBounds();
  /** Lines that are added to those of the span. */
  private lineShift = 0;
  /** The modes looked up last, and their plane. */
  private planeModes = -1;
  private plane = 17;
  /** Style of the vertex before, to know which start points the bounds have not seen. */
  private before: number = PathStyle.none;
  /** The arc that is filled, always the same object. */
  private readonly place: ChordPlace = chordPlace();

  /** `rowPlaces`: the place in the piece of each row of the runs. */
  constructor(path: PackedPath, meaning: FillMeaning, rowPlaces: ReadonlyMap<number, number>) {
    this.path = path;
    this.meaning = meaning;
    this.rowPlaces = rowPlaces;
  }

  /** Number of vertices so far. */
  get count(): number {
    return this.next;
  }

  /** Fills a span with the rows of its runs; `lineShift` is added to its lines. */
  span(span: FilledSpan, { begins, rows }: RowRuns, lineShift = 0): void {
    this.lineShift = lineShift + span.lineOffset;
    const { moves, from, to } = span;
    const start = from === 0 ? span.entry : moves.ends.subarray(from * 3 - 3, from * 3);
    const first = this.next;
    let begin = first;
    this.start(this.known(start[0], 1), this.known(start[1], 2), this.known(start[2], 4));
    let extra = 0;
    while (extra < moves.extraCount && moves.extraMoves[extra] < from) extra++;
    for (let run = 0; run < begins.length; run++) {
      const end = run + 1 < begins.length ? begins[run + 1] : to;
      extra = this.run(span, begins[run], end, extra);
      const place = this.rowPlaces.get(rows[run]) ?? 0;
      // A new piece is full of zeros.
      if (place !== 0) this.path.rowOf.fill(place, begin, this.next);
      begin = this.next;
    }
    if (span.again) this.markBlocks(span, span.again, first);
  }

  /** Marks the moves of a span, whose vertices begin at `first`, that begin their block anew. */
  private markBlocks({ moves, from, to }: FilledSpan, again: Uint32Array, first: number): void {
    let counted = from;
    let vertex = first + 1;
    for (const move of again) {
      if (move <= from || move >= to) continue;
      vertex += countVertices(moves, this.meaning.treatments, counted, move) - 1;
      counted = move;
      this.path.codes[vertex] |= BEGINS_AGAIN;
    }
  }

  /** Puts what is cut and what is passed at rapid together. */
  finish(): void {
    const { bounds, cutBounds } = this.path;
    for (const box of [cutBounds, this.rapidBounds]) {
      if (box[0] > box[3]) continue;
      include(bounds, box[0], box[1], box[2]);
      include(bounds, box[3], box[4], box[5]);
    }
  }

  /** Moves [from, to), whose extra numbers begin at `extra` or behind; gives where those behind them begin. */
  private run(span: FilledSpan, from: number, to: number, extra: number): number {
    const { moves } = span;
    const { treatments } = this.meaning;
    let move = from;
    let row = extra;
    for (; row < moves.extraCount && moves.extraMoves[row] < to; row++) {
      const arc = moves.extraMoves[row];
      if (treatments[moves.kinds[arc]] !== Treatment.arc) continue;
      this.straights(span, move, arc);
      this.arc(span, arc, row * EXTRAS);
      move = arc + 1;
    }
    this.straights(span, move, to);
    return row;
  }

  /** Straight moves [from, to); an arc whose numbers are missing is none. */
  private straights({ moves }: FilledSpan, from: number, to: number): void {
    const { ends, kinds, lines } = moves;
    const { treatments, assumedAxes } = this.meaning;
    const { positions, codes, origin, cutBounds } = this.path;
    const { lineShift } = this;
    const originX = origin[0];
    const originY = origin[1];
    const originZ = origin[2];
    let { x: x0, y: y0, z: z0, next, before } = this;
    for (let move = from; move < to; move++) {
      let x = ends[move * 3];
      let y = ends[move * 3 + 1];
      let z = ends[move * 3 + 2];
      if (assumedAxes !== 0) {
        x = this.known(x, 1);
        y = this.known(y, 2);
        z = this.known(z, 4);
      }
      const treatment = treatments[kinds[move]];
      const sum = x + y + z;
      let style: number = PathStyle.none;
      if (!Number.isNaN(sum + x0 + y0 + z0)) {
        if (treatment === Treatment.line) {
          style = PathStyle.cut;
          if (Math.abs(x - x0) <= SAME && Math.abs(y - y0) <= SAME && Math.abs(z - z0) > SAME) style = PathStyle.plunge;
          if (before < PathStyle.cut) include(cutBounds, x0, y0, z0);
          include(cutBounds, x, y, z);
        } else if (treatment === Treatment.rapid) {
          style = PathStyle.rapid;
          if (before !== PathStyle.rapid) include(this.rapidBounds, x0, y0, z0);
          include(this.rapidBounds, x, y, z);
        }
      }
      // Where a coordinate is not known the place stays empty; no line leads to it or away from it.
      if (!Number.isNaN(sum)) {
        positions[next * 3] = x - originX;
        positions[next * 3 + 1] = y - originY;
        positions[next * 3 + 2] = z - originZ;
      }
      codes[next++] = ((lines[move] + lineShift) << STYLE_BITS) | style;
      before = style;
      x0 = x;
      y0 = y;
      z0 = z;
    }
    this.x = x0;
    this.y = y0;
    this.z = z0;
    this.next = next;
    this.before = before;
  }

  /** An arc as chords. The last one ends where the program says; the bounds take the outermost points of the arc itself. */
  private arc({ moves }: FilledSpan, move: number, at: number): void {
    const { ends, extras, lines } = moves;
    const x = this.known(ends[move * 3], 1);
    const y = this.known(ends[move * 3 + 1], 2);
    const z = this.known(ends[move * 3 + 2], 4);
    const code = (lines[move] + this.lineShift) << STYLE_BITS;
    const chords = chordCount(Math.max(extras[at + 2], extras[at + 3]), extras[at + 4]);
    // What is not known must not be drawn; the sum is NaN where one of its numbers is.
    const sum = x + y + z + this.x + this.y + this.z + extras[at] + extras[at + 1];
    if (Number.isNaN(sum)) {
      this.path.codes.fill(code, this.next, this.next + chords - 1);
      this.next += chords - 1;
      this.end(x, y, z, code);
      return;
    }
    const plane = this.planeOf(moves.modes[move]);
    const { place } = this;
    place.from[0] = this.x;
    place.from[1] = this.y;
    place.from[2] = this.z;
    place.to[0] = x;
    place.to[1] = y;
    place.to[2] = z;
    place.plane = plane;
    place.chords = chords;
    place.extras = extras;
    place.at = at;
    const { cutBounds } = this.path;
    const third = plane === 17 ? z - this.z : plane === 18 ? y - this.y : x - this.x;
    const style = Math.abs(third) > SAME ? PathStyle.helix : PathStyle.arc;
    fillChords(this.path, this.next, code | style, place);
    include(cutBounds, this.x, this.y, this.z);
    include(cutBounds, x, y, z);
    includeOutermost(cutBounds, place);
    this.next += chords - 1;
    this.end(x, y, z, code | style);
    this.before = style;
  }

  private planeOf(modes: number): number {
    if (modes !== this.planeModes) {
      this.planeModes = modes;
      this.plane = this.meaning.plane(modes);
    }
    return this.plane;
  }

  private known(value: number, axis: number): number {
    return Number.isNaN(value) && (this.meaning.assumedAxes & axis) !== 0 ? 0 : value;
  }

  /** The start of a span: no way leads there. */
  private start(x: number, y: number, z: number): void {
    this.end(x, y, z, 0);
  }

  /** The next vertex; the pen stands there. */
  private end(x: number, y: number, z: number, code: number): void {
    const { positions, codes, origin } = this.path;
    const at = this.next++;
    if (!Number.isNaN(x + y + z)) {
      positions[at * 3] = x - origin[0];
      positions[at * 3 + 1] = y - origin[1];
      positions[at * 3 + 2] = z - origin[2];
    }
    codes[at] = code;
    this.before = PathStyle.none;
    this.x = x;
    this.y = y;
    this.z = z;
  }
}
