/**
 * A coarse map of how high a blank surely still stands: square cells seen from above. What is taken off is taken off every
 * cell that the cutter may have touched with its edge, so that a cell stands at its level over its whole square, surely.
 * A cell only ever gets lower. Lengths mm.
 */
import type { PlanBox } from './planBox.ts';

/** Nearly flat or upright ways are taken as such. */
const STRAIGHT = 1e-9;

/** The highest cell under a cutter. */
export interface HighPoint {
  readonly level: number;
  /** Its middle. */
  readonly x: number;
  readonly y: number;
}

/** See the top of the file. */
export class HeightMap {
  /** Side of a cell. */
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  /** Cells looked at so far: a measure of the work that was done. */
  work = 0;
  private readonly minX: number;
  private readonly minY: number;
  private readonly levels: Float32Array;
  /** No cell is higher. */
  private ceiling: number;
  private first = 0;
  private last = -1;

  /**
   * A map of at most about `mostCells` cells over `outline`, standing at `top` where `isInside` says of a cell's middle
   * that a circle of this radius around it lies in the blank.
   */
  constructor(
    outline: PlanBox,
    top: number,
    mostCells: number,
    isInside: (x: number, y: number, radius: number) => boolean,
  ) {
    const [width, depth] = [outline.maxX - outline.minX, outline.maxY - outline.minY];
    this.cell = Math.max(Math.sqrt((width * depth) / mostCells), width / mostCells, depth / mostCells);
    this.columns = Math.max(1, Math.floor(width / this.cell));
    this.rows = Math.max(1, Math.floor(depth / this.cell));
    this.minX = outline.minX;
    this.minY = outline.minY;
    this.ceiling = top;
    this.levels = new Float32Array(this.columns * this.rows).fill(Number.NEGATIVE_INFINITY);
    for (let row = 0; row < this.rows; row++) {
      for (let column = 0; column < this.columns; column++) {
        const isStanding = isInside(this.middleX(column), this.middleY(row), this.halfDiagonal);
        if (isStanding) this.levels[row * this.columns + column] = top;
      }
    }
  }

  /** A second map, as this one is now. */
  copy(): HeightMap {
    const other: HeightMap = Object.create(HeightMap.prototype);
    return Object.assign(other, this, { levels: this.levels.slice() });
  }

  /** From the middle of a cell to its corner. */
  get halfDiagonal(): number {
    return this.cell * Math.SQRT1_2;
  }

  /** The level that surely stands at a place, −Infinity outside the blank. */
  levelAt(x: number, y: number): number {
    const column = Math.floor((x - this.minX) / this.cell);
    const row = Math.floor((y - this.minY) / this.cell);
    if (!(column >= 0 && column < this.columns && row >= 0 && row < this.rows)) return Number.NEGATIVE_INFINITY;
    return this.levels[row * this.columns + column];
  }

  /** Takes off what a cutter of this radius may touch on a straight way at `level` (the lowest of the way). */
  takeOff(fromX: number, fromY: number, toX: number, toY: number, radius: number, level: number): void {
    this.work++;
    if (level >= this.ceiling) return;
    const reach = radius + this.halfDiagonal;
    const { levels, columns } = this;
    let touched = 0;
    const [low, high] = this.rowsBetween(Math.min(fromY, toY) - reach, Math.max(fromY, toY) + reach);
    for (let row = low; row <= high; row++) {
      this.span(row, fromX, fromY, toX - fromX, toY - fromY, reach);
      const end = row * columns + this.last;
      for (let i = row * columns + this.first; i <= end; i++) if (levels[i] > level) levels[i] = level;
      touched += 1 + this.last - this.first;
    }
    this.work += touched + 4 * Math.max(0, high - low);
    if (touched === levels.length) this.ceiling = level;
  }

  /** The highest cell whose middle is within `radius` of a straight way; undefined where none is. */
  highestBeside(fromX: number, fromY: number, toX: number, toY: number, radius: number): HighPoint | undefined {
    const { levels, columns } = this;
    let best = -1;
    const [low, high] = this.rowsBetween(Math.min(fromY, toY) - radius, Math.max(fromY, toY) + radius);
    for (let row = low; row <= high; row++) {
      this.span(row, fromX, fromY, toX - fromX, toY - fromY, radius);
      const end = row * columns + this.last;
      for (let i = row * columns + this.first; i <= end; i++) if (best < 0 || levels[i] > levels[best]) best = i;
      this.work += 4 + this.last - this.first;
    }
    if (best < 0) return undefined;
    return { level: levels[best], x: this.middleX(best % columns), y: this.middleY(Math.floor(best / columns)) };
  }

  private middleX(column: number): number {
    return this.minX + (column + 0.5) * this.cell;
  }

  private middleY(row: number): number {
    return this.minY + (row + 0.5) * this.cell;
  }

  /** Rows whose middle lies between two coordinates. */
  private rowsBetween(low: number, high: number): readonly [number, number] {
    const { minY, cell, rows } = this;
    return [
      Math.max(0, Math.ceil((low - minY) / cell - 0.5)),
      Math.min(rows - 1, Math.floor((high - minY) / cell - 0.5)),
    ];
  }

  /**
   * Sets `first` and `last` to the columns of a row whose middles are within `radius` of the way from (x, y) by (dx, dy):
   * what a rectangle along it and a circle at each end cut out of the line through the row's middle.
   */
  private span(row: number, x: number, y: number, dx: number, dy: number, radius: number): void {
    const height = this.middleY(row) - y;
    let low = Infinity;
    let high = -Infinity;
    const atStart = radius * radius - height * height;
    if (atStart >= 0) {
      low = x - Math.sqrt(atStart);
      high = x + Math.sqrt(atStart);
    }
    const length = Math.hypot(dx, dy);
    if (length > STRAIGHT) {
      const atEnd = radius * radius - (height - dy) * (height - dy);
      if (atEnd >= 0) {
        low = Math.min(low, x + dx - Math.sqrt(atEnd));
        high = Math.max(high, x + dx + Math.sqrt(atEnd));
      }
      const [from, to] = alongside(dx / length, dy / length, length, height, radius);
      if (from <= to) {
        low = Math.min(low, x + from);
        high = Math.max(high, x + to);
      }
    }
    this.first = Math.max(0, Math.ceil((low - this.minX) / this.cell - 0.5));
    this.last = Math.min(this.columns - 1, Math.floor((high - this.minX) / this.cell - 0.5));
    if (!(this.first <= this.last)) this.last = this.first - 1;
  }
}

/** From where to where (along X, from the way's start) a line at this height runs in the rectangle along a way in direction (ux, uy). */
const alongside = (
  ux: number,
  uy: number,
  length: number,
  height: number,
  radius: number,
): readonly [number, number] => {
  let low = -Infinity;
  let high = Infinity;
  if (Math.abs(uy) < STRAIGHT) {
    if (Math.abs(height) > radius) return [1, -1];
  } else {
    const [a, b] = [(height * ux - radius) / uy, (height * ux + radius) / uy];
    low = Math.min(a, b);
    high = Math.max(a, b);
  }
  if (Math.abs(ux) < STRAIGHT) return height * uy >= 0 && height * uy <= length ? [low, high] : [1, -1];
  const [a, b] = [(-height * uy) / ux, (length - height * uy) / ux];
  return [Math.max(low, Math.min(a, b)), Math.min(high, Math.max(a, b))];
};
