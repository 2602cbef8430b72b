/**
 * The moves of one segment (at most 512 blocks) in typed arrays: an end point per move, where it came from is the end
 * of the move before. Positions are work coordinates in mm; NaN is a coordinate that is not known.
 */

/** What a move is. Kept in the low bits of `MoveTable.kinds`. */
export const MoveKind = {
  rapid: 0,
  /** A straight cut at feed. */
  line: 1,
  /** An arc or helix at feed. Its extra numbers: centre (first and second plane axis), radius at the start, radius at the end, sweep in radians (counter-clockwise positive), third-axis way is in the end point. */
  arc: 2,
  /** A wait. Extra number: seconds. */
  dwell: 3,
  /** No motion: the position is called by other numbers from here on (offset change, G92 …). */
  renamed: 4,
} as const;

/** Further bits of `MoveTable.kinds`. */
export const MoveFlag = {
  kindMask: 7,
  /** Made by a canned cycle. */
  cycle: 8,
  /** Feed move out of a hole. */
  retract: 16,
  /** A thread is cut in step with the spindle (G33, G84, G74). */
  synchronised: 32,
  /** Another program of the file begins here (with a renamed position). */
  programStart: 64,
} as const;

/** Numbers kept for an arc: centre first, centre second, start radius, end radius, sweep. */
export const EXTRA_WIDTH = 5;

const NO_NUMBERS = new Float64Array(0);
const NO_LINES = new Int32Array(0);
const NO_KINDS = new Uint8Array(0);
const NO_IDS = new Uint32Array(0);

/** Growing table of moves. */
export class MoveTable {
  count = 0;
  /** X Y Z of the end point, 3 numbers a move. */
  ends: Float64Array;
  /** Line of the block that caused the move, counted from the segment's first line; negative for a move that began in an earlier segment (radius compensation). */
  lines: Int32Array;
  kinds: Uint8Array;
  /** Set of modes the move runs under. */
  modes: Uint32Array;
  /** Moves that have extra numbers, ascending, and those numbers, `EXTRA_WIDTH` each. */
  extraCount = 0;
  extraMoves: Uint32Array;
  extras: Float64Array;
  /** Moves of other axes, ascending, and the position of A B C U V W after each, 6 numbers each. */
  readonly otherMoves: number[] = [];
  readonly others: number[] = [];

  constructor(capacity = 64) {
    this.ends = capacity === 0 ? NO_NUMBERS : new Float64Array(capacity * 3);
    this.lines = capacity === 0 ? NO_LINES : new Int32Array(capacity);
    this.kinds = capacity === 0 ? NO_KINDS : new Uint8Array(capacity);
    this.modes = capacity === 0 ? NO_IDS : new Uint32Array(capacity);
    this.extraMoves = NO_IDS;
    this.extras = NO_NUMBERS;
  }

  /** Adds a move to (x, y, z); returns its index. */
  add(x: number, y: number, z: number, line: number, kind: number, modes: number): number {
    const i = this.count++;
    if (i >= this.lines.length) this.grow(Math.max(8, this.lines.length * 2));
    this.ends[i * 3] = x;
    this.ends[i * 3 + 1] = y;
    this.ends[i * 3 + 2] = z;
    this.lines[i] = line;
    this.kinds[i] = kind;
    this.modes[i] = modes;
    return i;
  }

  /** Adds a move to the X Y Z that `target` begins with. */
  addTo(target: Float64Array, line: number, kind: number, modes: number): void {
    const i = this.count++;
    if (i >= this.lines.length) this.grow(Math.max(8, this.lines.length * 2));
    const { ends } = this;
    ends[i * 3] = target[0];
    ends[i * 3 + 1] = target[1];
    ends[i * 3 + 2] = target[2];
    this.lines[i] = line;
    this.kinds[i] = kind;
    this.modes[i] = modes;
  }

  /** Gives the last move its extra numbers. */
  addExtra(a: number, b: number, c: number, d: number, e: number): void {
    const k = this.extraCount++;
    if (k >= this.extraMoves.length) this.growExtras(Math.max(4, this.extraMoves.length * 2));
    this.extraMoves[k] = this.count - 1;
    const at = k * EXTRA_WIDTH;
    this.extras[at] = a;
    this.extras[at + 1] = b;
    this.extras[at + 2] = c;
    this.extras[at + 3] = d;
    this.extras[at + 4] = e;
  }

  /** Index of the first move of a line at or behind `line`. */
  firstOfLine(line: number): number {
    let low = 0;
    let high = this.count;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.lines[middle] < line) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Index into `extras` (in rows) of the first extra that belongs to move `move` or a later one. */
  firstExtra(move: number): number {
    let low = 0;
    let high = this.extraCount;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.extraMoves[middle] < move) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Forgets moves from `count` on. */
  truncate(count: number): void {
    this.count = count;
    this.extraCount = this.firstExtra(count);
    while (this.otherMoves.length > 0 && this.otherMoves[this.otherMoves.length - 1] >= count) {
      this.otherMoves.pop();
      this.others.length -= 6;
    }
  }

  /** Appends moves [from, to) of another table, shifting their lines by `lineShift`. */
  append(other: MoveTable, from: number, to: number, lineShift: number): void {
    const start = this.count;
    const needed = start + to - from;
    if (needed > this.lines.length) this.grow(Math.max(needed, this.lines.length * 2));
    this.ends.set(other.ends.subarray(from * 3, to * 3), start * 3);
    this.kinds.set(other.kinds.subarray(from, to), start);
    this.modes.set(other.modes.subarray(from, to), start);
    if (lineShift === 0) this.lines.set(other.lines.subarray(from, to), start);
    else for (let i = from; i < to; i++) this.lines[start + i - from] = other.lines[i] + lineShift;
    this.count = needed;
    const firstExtra = other.firstExtra(from);
    const extras = other.firstExtra(to) - firstExtra;
    const room = this.extraCount + extras;
    if (room > this.extraMoves.length) this.growExtras(Math.max(room, this.extraMoves.length * 2));
    this.extras.set(
      other.extras.subarray(firstExtra * EXTRA_WIDTH, (firstExtra + extras) * EXTRA_WIDTH),
      this.extraCount * EXTRA_WIDTH,
    );
    for (let k = 0; k < extras; k++) {
      this.extraMoves[this.extraCount + k] = other.extraMoves[firstExtra + k] - from + start;
    }
    this.extraCount = room;
    for (let k = 0; k < other.otherMoves.length; k++) {
      const move = other.otherMoves[k];
      if (move < from || move >= to) continue;
      this.otherMoves.push(move - from + start);
      for (let j = 0; j < 6; j++) this.others.push(other.others[k * 6 + j]);
    }
  }

  /** Empties the table for the next segment; its room stays. */
  clear(): void {
    this.count = 0;
    this.extraCount = 0;
    if (this.otherMoves.length > 0) this.otherMoves.length = 0;
    if (this.others.length > 0) this.others.length = 0;
  }

  /** A copy without spare room, over one buffer: thousands of small ones cost more than they hold. */
  packed(): MoveTable {
    const { count, extraCount } = this;
    const table = new MoveTable(0);
    const numbers = 8 * (count * 3 + extraCount * EXTRA_WIDTH);
    const buffer = new ArrayBuffer(numbers + 4 * (2 * count + extraCount) + count);
    table.ends = new Float64Array(buffer, 0, count * 3);
    table.extras = new Float64Array(buffer, count * 24, extraCount * EXTRA_WIDTH);
    table.modes = new Uint32Array(buffer, numbers, count);
    table.extraMoves = new Uint32Array(buffer, numbers + 4 * count, extraCount);
    table.lines = new Int32Array(buffer, numbers + 4 * (count + extraCount), count);
    table.kinds = new Uint8Array(buffer, numbers + 4 * (2 * count + extraCount), count);
    table.append(this, 0, count, 0);
    return table;
  }

  private grow(capacity: number): void {
    const keep = Math.min(this.count, capacity, this.lines.length);
    const ends = new Float64Array(capacity * 3);
    ends.set(this.ends.subarray(0, keep * 3));
    this.ends = ends;
    const lines = new Int32Array(capacity);
    lines.set(this.lines.subarray(0, keep));
    this.lines = lines;
    const kinds = new Uint8Array(capacity);
    kinds.set(this.kinds.subarray(0, keep));
    this.kinds = kinds;
    const modes = new Uint32Array(capacity);
    modes.set(this.modes.subarray(0, keep));
    this.modes = modes;
  }

  private growExtras(capacity: number): void {
    const keep = Math.min(capacity, this.extraMoves.length);
    const moves = new Uint32Array(capacity);
    moves.set(this.extraMoves.subarray(0, keep));
    this.extraMoves = moves;
    const extras = new Float64Array(capacity * EXTRA_WIDTH);
    extras.set(this.extras.subarray(0, keep * EXTRA_WIDTH));
    this.extras = extras;
  }
}
