/** What a whole path comes to: extents, lengths, nominal times, and each tool's part of it. */
import { arcExtents } from '../geometry/arcMeasure.ts';
import { inItsPlane, type Point, type TracedMove } from './trace.ts';

/** Smallest and largest known coordinate on each axis, mm; NaN on an axis that is nowhere known. */
export interface Extents {
  readonly min: Point;
  readonly max: Point;
}

/** A tool's part of a path. */
export interface ToolPart {
  readonly number: number;
  /** Length of its moves, rapids included, mm. */
  length: number;
  /** Nominal time of its moves and dwells, s. */
  seconds: number;
}

type Numbers = [number, number, number];

/** Grows with each move. */
class Box {
  readonly min: Numbers = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  readonly max: Numbers = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  private hasMoves = false;

  /** Takes in a move; arcs by their exact extents. */
  add(move: TracedMove): void {
    this.hasMoves = true;
    this.addPoint(move.from);
    this.addPoint(move.to);
    if (move.arc === undefined) return;
    const { plane, arc } = inItsPlane(move, move.arc);
    if (Number.isNaN(arc.startAngle + arc.sweep)) return;
    const extents = arcExtents(arc);
    this.addValue(plane.first, extents.minFirst);
    this.addValue(plane.first, extents.maxFirst);
    this.addValue(plane.second, extents.minSecond);
    this.addValue(plane.second, extents.maxSecond);
  }

  get extents(): Extents | undefined {
    if (!this.hasMoves) return undefined;
    const known = (value: number) => (Number.isFinite(value) ? value : Number.NaN);
    const [[a, b, c], [d, e, f]] = [this.min, this.max];
    return { min: [known(a), known(b), known(c)], max: [known(d), known(e), known(f)] };
  }

  private addPoint(point: Point): void {
    for (let axis = 0; axis < 3; axis++) this.addValue(axis, point[axis]);
  }

  private addValue(axis: number, value: number): void {
    if (value < this.min[axis]) this.min[axis] = value;
    if (value > this.max[axis]) this.max[axis] = value;
  }
}

/** Adds up moves one by one. */
export class TraceSummary {
  readonly length = { rapid: 0, cut: 0 };
  readonly seconds = { rapid: 0, cut: 0, dwell: 0 };
  private readonly all = new Box();
  private readonly cuts = new Box();
  private readonly parts = new Map<number, ToolPart>();

  /** Takes in the next move. A time that is not known adds nothing. */
  add(move: TracedMove): void {
    const seconds = Number.isFinite(move.seconds) ? move.seconds : 0;
    if (move.kind === 'dwell') this.seconds.dwell += seconds;
    else this.addMotion(move, seconds);
    if (Number.isNaN(move.tool)) return;
    const part = this.parts.get(move.tool) ?? { number: move.tool, length: 0, seconds: 0 };
    this.parts.set(move.tool, part);
    part.length += move.length;
    part.seconds += seconds;
  }

  /** Extents of rapids and cuts; undefined where nothing moves. */
  get extents(): Extents | undefined {
    return this.all.extents;
  }

  /** Extents of lines and arcs at feed only; undefined where nothing cuts. */
  get cut(): Extents | undefined {
    return this.cuts.extents;
  }

  /** Rapids, cuts and dwells together, s. */
  get totalSeconds(): number {
    return this.seconds.rapid + this.seconds.cut + this.seconds.dwell;
  }

  /** Each tool's part, in the order of their first move. */
  get tools(): readonly ToolPart[] {
    return [...this.parts.values()];
  }

  private addMotion(move: TracedMove, seconds: number): void {
    const way = move.kind === 'rapid' ? 'rapid' : 'cut';
    this.length[way] += move.length;
    this.seconds[way] += seconds;
    this.all.add(move);
    if (way === 'cut') this.cuts.add(move);
  }
}
