/**
 * Builds the pieces of the toolpath that the view draws, from the moves that are kept. Arcs and helices become chords;
 * the radius is blended linearly over the angle, so that an arc ends where the program says.
 *
 * Every span starts with one vertex at its start point; then each move gives one vertex, an arc one per chord. So the
 * vertices can be counted from the arcs alone, before anything is filled.
 */
import { arcExtents } from './arcMeasure.ts';
import { createPackedPath, emptyBounds, type PackedPath, PathStyle, STYLE_BITS, UNKNOWN_TOOL } from './packedLayout.ts';
import { chordCount, EXTRAS, type PathMoves, Treatment } from './pathMoves.ts';

/** A run of moves of one segment. */
export interface PathSpan {
  readonly moves: PathMoves;
  /** X Y Z before move 0. */
  readonly entry: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Line of the segment's first line, counted from the first line of the piece. */
  readonly lineOffset: number;
}

/** What the numbers in the moves mean. */
export interface PathMeaning {
  /** A `Treatment` for each value of `kinds`. */
  readonly treatments: Uint8Array;
  /** 17, 18 or 19 for a set of modes. */
  plane(modes: number): number;
  /** Tool number for a set of modes, negative unknown. */
  tool(modes: number): number;
  /** Bits: 1 X, 2 Y, 4 Z is never known in the program and drawn at zero. */
  readonly assumedAxes: number;
}

const SAME = 1e-9;
/** A radius that changes by less turns an arc so near its axes that the bounds are right to 0.0001 mm, mm. */
const SPIRAL = 0.01;
const QUARTER_COSINES = [1, 0, -1, 0];

const include = (box: Float64Array, x: number, y: number, z: number): void => {
  if (x < box[0]) box[0] = x;
  if (y < box[1]) box[1] = y;
  if (z < box[2]) box[2] = z;
  if (x > box[3]) box[3] = x;
  if (y > box[4]) box[4] = y;
  if (z > box[5]) box[5] = z;
};

/** Fills one piece: where the pen is, and where the next vertex goes. */
class Filler {
  private readonly path: PackedPath;
  private readonly meaning: PathMeaning;
  private next = 0;
  private x = Number.NaN;
  private y = Number.NaN;
  private z = Number.NaN;
  private readonly rapidBounds = emptyBounds();
  /** Style of the vertex before, to know which start points the bounds have not seen. */
  private before: number = PathStyle.none;
  private modes = -1;
  private tool: number = UNKNOWN_TOOL;
  private readonly point = new Float64Array(3);

  constructor(path: PackedPath, meaning: PathMeaning) {
    this.path = path;
    this.meaning = meaning;
  }

  /** Number of vertices so far. */
  get count(): number {
    return this.next;
  }

  span(span: PathSpan): void {
    const { moves, from, to } = span;
    const { treatments } = this.meaning;
    const start = from === 0 ? span.entry : moves.ends.subarray(from * 3 - 3, from * 3);
    if (from < to) this.toolOf(moves.modes[from]);
    this.vertex(this.known(start[0], 1), this.known(start[1], 2), this.known(start[2], 4), 0, PathStyle.none);
    let move = from;
    for (let row = 0; row < moves.extraCount && moves.extraMoves[row] < to; row++) {
      const arc = moves.extraMoves[row];
      if (arc < from || treatments[moves.kinds[arc]] !== Treatment.arc) continue;
      this.straights(span, move, arc);
      this.arcMove(span, arc, row * EXTRAS);
      move = arc + 1;
    }
    this.straights(span, move, to);
  }

  /** Straight moves [from, to). This is where a big program spends its time: no calls, no fields in the loop. */
  private straights(span: PathSpan, from: number, to: number): void {
    const { ends, kinds, lines, modes } = span.moves;
    const { treatments, assumedAxes } = this.meaning;
    const { positions, codes, tools, origin, cutBounds } = this.path;
    const originX = origin[0];
    const originY = origin[1];
    const originZ = origin[2];
    const { lineOffset } = span;
    let x0 = this.x;
    let y0 = this.y;
    let z0 = this.z;
    let next = this.next;
    let before = this.before;
    // The bounds of what is cut are kept in variables of their own while the loop runs.
    let leastX = cutBounds[0];
    let leastY = cutBounds[1];
    let leastZ = cutBounds[2];
    let greatestX = cutBounds[3];
    let greatestY = cutBounds[4];
    let greatestZ = cutBounds[5];
    for (let move = from; move < to; move++) {
      let x = ends[move * 3];
      let y = ends[move * 3 + 1];
      let z = ends[move * 3 + 2];
      if (assumedAxes !== 0) {
        x = this.known(x, 1);
        y = this.known(y, 2);
        z = this.known(z, 4);
      }
      if (modes[move] !== this.modes) this.toolOf(modes[move]);
      const treatment = treatments[kinds[move]];
      let style: number = PathStyle.none;
      const sum = x + y + z + x0 + y0 + z0;
      if (!Number.isNaN(sum) && (treatment === Treatment.line || treatment === Treatment.rapid)) {
        style = PathStyle.rapid;
        if (treatment === Treatment.line) {
          const inPlace = Math.abs(x - x0) <= SAME && Math.abs(y - y0) <= SAME;
          style = inPlace && Math.abs(z - z0) > SAME ? PathStyle.plunge : PathStyle.cut;
          if (before < PathStyle.cut) {
            leastX = Math.min(leastX, x0);
            leastY = Math.min(leastY, y0);
            leastZ = Math.min(leastZ, z0);
            greatestX = Math.max(greatestX, x0);
            greatestY = Math.max(greatestY, y0);
            greatestZ = Math.max(greatestZ, z0);
          }
          if (x < leastX) leastX = x;
          if (y < leastY) leastY = y;
          if (z < leastZ) leastZ = z;
          if (x > greatestX) greatestX = x;
          if (y > greatestY) greatestY = y;
          if (z > greatestZ) greatestZ = z;
        } else {
          if (before !== PathStyle.rapid) include(this.rapidBounds, x0, y0, z0);
          include(this.rapidBounds, x, y, z);
        }
      }
      // Where a coordinate is not known the place stays empty; no line leads to it or away from it.
      if (!Number.isNaN(x + y + z)) {
        positions[next * 3] = x - originX;
        positions[next * 3 + 1] = y - originY;
        positions[next * 3 + 2] = z - originZ;
      }
      codes[next] = ((lines[move] + lineOffset) << STYLE_BITS) | style;
      tools[next++] = this.tool;
      before = style;
      x0 = x;
      y0 = y;
      z0 = z;
    }
    cutBounds[0] = leastX;
    cutBounds[1] = leastY;
    cutBounds[2] = leastZ;
    cutBounds[3] = greatestX;
    cutBounds[4] = greatestY;
    cutBounds[5] = greatestZ;
    this.x = x0;
    this.y = y0;
    this.z = z0;
    this.next = next;
    this.before = before;
  }

  private arcMove({ moves, lineOffset }: PathSpan, move: number, at: number): void {
    const { ends, lines, modes } = moves;
    if (modes[move] !== this.modes) this.toolOf(modes[move]);
    const x = this.known(ends[move * 3], 1);
    const y = this.known(ends[move * 3 + 1], 2);
    const z = this.known(ends[move * 3 + 2], 4);
    this.arc(x, y, z, (lines[move] + lineOffset) << STYLE_BITS, moves.extras, at);
  }

  private known(value: number, axis: number): number {
    return Number.isNaN(value) && (this.meaning.assumedAxes & axis) !== 0 ? 0 : value;
  }

  private toolOf(modes: number): void {
    this.modes = modes;
    const tool = this.meaning.tool(modes);
    this.tool = tool >= 0 && tool < UNKNOWN_TOOL ? tool : UNKNOWN_TOOL;
  }

  /** Adds the start of a span or the end of an arc; `style` none where either end of the way is not known. */
  private vertex(x: number, y: number, z: number, code: number, style: number): void {
    const { positions, codes, tools, origin, cutBounds } = this.path;
    const at = this.next++;
    if (!Number.isNaN(x + y + z)) {
      positions[at * 3] = x - origin[0];
      positions[at * 3 + 1] = y - origin[1];
      positions[at * 3 + 2] = z - origin[2];
    }
    codes[at] = code | style;
    tools[at] = this.tool;
    if (style !== PathStyle.none) {
      include(cutBounds, this.x, this.y, this.z);
      include(cutBounds, x, y, z);
    }
    this.before = style;
    this.x = x;
    this.y = y;
    this.z = z;
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

  private arc(x: number, y: number, z: number, code: number, extras: Float64Array, at: number): void {
    const plane = this.meaning.plane(this.modes);
    const centreFirst = extras[at];
    const centreSecond = extras[at + 1];
    const startRadius = extras[at + 2];
    const endRadius = extras[at + 3];
    const sweep = extras[at + 4];
    const chords = chordCount(Math.max(startRadius, endRadius), sweep);
    const [x0, y0, z0] = [this.x, this.y, this.z];
    const third0 = plane === 17 ? z0 : plane === 18 ? y0 : x0;
    const third = plane === 17 ? z : plane === 18 ? y : x;
    const first0 = plane === 17 ? x0 : plane === 18 ? z0 : y0;
    const second0 = plane === 17 ? y0 : plane === 18 ? x0 : z0;
    const style = Math.abs(third - third0) > SAME ? PathStyle.helix : PathStyle.cut;
    const angle = Math.atan2(second0 - centreSecond, first0 - centreFirst);
    const turnCos = Math.cos(sweep / chords);
    const turnSin = Math.sin(sweep / chords);
    let cos = Math.cos(angle);
    let sin = Math.sin(angle);
    const firstAt = plane === 17 ? 0 : plane === 18 ? 2 : 1;
    const secondAt = (firstAt + 1) % 3;
    const thirdAt = (firstAt + 2) % 3;
    const { positions, origin } = this.path;
    const middleFirst = centreFirst - origin[firstAt];
    const middleSecond = centreSecond - origin[secondAt];
    const level = third0 - origin[thirdAt];
    // What is not known must not be drawn; the sums are NaN where one of their numbers is.
    const drawn = this.isKnown(x, y, z) && !Number.isNaN(centreFirst + centreSecond);
    const begin = this.next;
    this.next += chords - 1;
    this.path.codes.fill(drawn ? code | style : code, begin, this.next);
    this.path.tools.fill(this.tool, begin, this.next);
    for (let i = 1, to = begin * 3; drawn && i < chords; i++, to += 3) {
      const turned = cos * turnCos - sin * turnSin;
      sin = cos * turnSin + sin * turnCos;
      cos = turned;
      const part = i / chords;
      const radius = startRadius + (endRadius - startRadius) * part;
      positions[to + firstAt] = middleFirst + radius * cos;
      positions[to + secondAt] = middleSecond + radius * sin;
      positions[to + thirdAt] = level + (third - third0) * part;
    }
    // The last chord ends where the program says; the bounds take the outermost points of the arc itself.
    this.vertex(x, y, z, code, drawn ? style : PathStyle.none);
    if (drawn) this.quadrants([firstAt, secondAt, thirdAt], angle, sweep, extras, at, third0, third);
  }

  /** True if a line from where the pen is to this point can be drawn. */
  private isKnown(x: number, y: number, z: number): boolean {
    const sum = x + y + z + this.x + this.y + this.z;
    return !Number.isNaN(sum);
  }

  /** Puts the outermost points of an arc into the bounds, which its chords alone miss by their height. */
  private quadrants(
    axes: readonly number[],
    angle: number,
    sweep: number,
    extras: Float64Array,
    at: number,
    third0: number,
    third: number,
  ): void {
    if (Math.abs(extras[at + 3] - extras[at + 2]) > SPIRAL) {
      this.spiral(axes, angle, sweep, extras, at, third);
      return;
    }
    const { cutBounds } = this.path;
    const firstAt = axes[0];
    const secondAt = axes[1];
    const thirdAt = axes[2];
    const point = this.point;
    const quarter = Math.PI / 2;
    const least = Math.ceil(Math.min(angle, angle + sweep) / quarter);
    const greatest = Math.floor(Math.max(angle, angle + sweep) / quarter);
    for (let k = least; k <= greatest; k++) {
      const part = (k * quarter - angle) / sweep;
      const radius = extras[at + 2] + (extras[at + 3] - extras[at + 2]) * part;
      // Exact cosines of quarter turns: an arc of radius 20 about zero reaches 20.
      point[firstAt] = extras[at] + radius * QUARTER_COSINES[k & 3];
      point[secondAt] = extras[at + 1] + radius * QUARTER_COSINES[(k + 3) & 3];
      point[thirdAt] = third0 + (third - third0) * part;
      include(cutBounds, point[0], point[1], point[2]);
    }
  }

  /** The same for an arc whose radius changes: it turns beside the axes, not on them. */
  private spiral(
    axes: readonly number[],
    startAngle: number,
    sweep: number,
    extras: Float64Array,
    at: number,
    third: number,
  ): void {
    const [centreFirst, centreSecond, radius, endRadius] = extras.subarray(at, at + 4);
    const box = arcExtents({ centreFirst, centreSecond, radius, endRadius, startAngle, sweep });
    const point = this.point;
    point[axes[2]] = third;
    for (const [first, second] of [
      [box.minFirst, box.minSecond],
      [box.maxFirst, box.maxSecond],
    ]) {
      point[axes[0]] = first;
      point[axes[1]] = second;
      include(this.path.cutBounds, point[0], point[1], point[2]);
    }
  }
}

/** A point to measure the piece's positions from: its first known one. */
const originOf = (spans: readonly PathSpan[]): [number, number, number] => {
  for (const { entry, moves, from, to } of spans) {
    for (let move = from - 1; move < to; move++) {
      const at = move * 3;
      const [x, y, z] = move < 0 ? entry : moves.ends.subarray(at, at + 3);
      if (!Number.isNaN(x + y + z)) return [x, y, z];
    }
  }
  return [0, 0, 0];
};

/**
 * Builds one piece of the path. `vertexCount` is the sum of what `countVertices` or `splitMoves` gave for the spans.
 * Throws a RangeError where it is not.
 */
export function packPath(spans: readonly PathSpan[], vertexCount: number, meaning: PathMeaning): PackedPath {
  const path = createPackedPath(vertexCount, meaning.assumedAxes);
  path.origin.set(originOf(spans));
  const filler = new Filler(path, meaning);
  for (const span of spans) filler.span(span);
  filler.finish();
  if (filler.count !== vertexCount) throw new RangeError(`path of ${filler.count} vertices, counted ${vertexCount}`);
  return path;
}
