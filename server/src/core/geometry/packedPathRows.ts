/**
 * The rows of the path: what holds on its ways (tool, feed, speed …), each set of it once. Found before the vertices are
 * filled, move by move but without an object a move: as long as the modes stay, so does the row.
 */
import { ROW_WIDTH, RowField, UNKNOWN_TOOL } from './packedLayout.ts';
import { EXTRAS, type PathMoves } from './pathMoves.ts';

/** What a row is made from. */
export interface RowMeaning {
  /** Bits of a move's kind that a row depends on; what follows gets these only. */
  readonly rowKinds: number;
  /** Fills the row of a move: `RowField` says with what. Its feed is left out where `ownFeed` gives it. */
  fillRow(row: Float64Array, modes: number, kind: number, pass: number): void;
  /** True where the feed of such moves follows from each move itself: inverse time, the lead of a thread. */
  hasOwnFeed(modes: number, kind: number): boolean;
  /** That feed, mm/min, NaN unknown. `extra` is the place of its extra numbers, −1 none; `entry` is X Y Z before move 0. */
  ownFeed(moves: PathMoves, move: number, extra: number, entry: Float64Array): number;
}

/** Moves one behind the other that share one row; they go on to where the next run begins, the last to the span's end. */
export interface RowRuns {
  /** Moves that runs begin at, and their rows as the `RowInterner` numbers them. */
  readonly begins: readonly number[];
  readonly rows: readonly number[];
}

/** Rows looked up last, a power of two. */
const RECENT = 64;

/** All different rows of a program, each once. Goes with one pool of modes. */
export class RowInterner {
  private readonly meaning: RowMeaning;
  private readonly numbers: number[] = [];
  /** By what decides a row (modes, bits of the kind, pass), and by what stands in it. */
  private readonly byKey = new Map<number, number>();
  private readonly byContent = new Map<string, number>();
  private readonly recentKeys = new Float64Array(RECENT).fill(-1);
  private readonly recentRows = new Int32Array(RECENT);
  private readonly row = new Float64Array(ROW_WIDTH);

  constructor(meaning: RowMeaning) {
    this.meaning = meaning;
  }

  /** The numbers of a row. */
  content(row: number): readonly number[] {
    return this.numbers.slice(row * ROW_WIDTH, (row + 1) * ROW_WIDTH);
  }

  /** The runs of moves [from, to) of a table whose move 0 starts at `entry`; one at least, for the start of the span. */
  runsOf(moves: PathMoves, entry: Float64Array, from: number, to: number, pass: number): RowRuns {
    const { modes, kinds } = moves;
    const { rowKinds } = this.meaning;
    const begins: number[] = [];
    const rows: number[] = [];
    let lastModes = -1;
    let lastKind = -1;
    let lastRow = -1;
    for (let move = from; move < to; move++) {
      const kind = kinds[move] & rowKinds;
      if (modes[move] === lastModes && kind === lastKind) continue;
      lastModes = modes[move];
      lastKind = kind;
      let row = this.rowOf(modes[move], kind, pass);
      if (row < 0) {
        row = this.ownRow(moves, entry, move, pass);
        lastModes = -1;
      }
      if (row === lastRow) continue;
      begins.push(move);
      rows.push(row);
      lastRow = row;
    }
    if (from >= to) {
      begins.push(from);
      rows.push(this.unknownRow());
    }
    return { begins, rows };
  }

  /** The row of a start that no move follows. */
  private unknownRow(): number {
    this.row.set([UNKNOWN_TOOL, Number.NaN, Number.NaN, 0, 1, 0]);
    return this.intern();
  }

  /** The row of moves of these modes and this kind; −1 where each has its own. */
  private rowOf(modes: number, kind: number, pass: number): number {
    const key = (modes * 256 + kind) * 2 + (pass > 1 ? 1 : 0);
    const place = (modes ^ (kind << 2)) & (RECENT - 1);
    if (this.recentKeys[place] === key) return this.recentRows[place];
    let row = this.byKey.get(key);
    if (row === undefined) {
      if (this.meaning.hasOwnFeed(modes, kind)) row = -1;
      else {
        this.meaning.fillRow(this.row, modes, kind, pass);
        row = this.intern();
      }
      this.byKey.set(key, row);
    }
    this.recentKeys[place] = key;
    this.recentRows[place] = row;
    return row;
  }

  private ownRow(moves: PathMoves, entry: Float64Array, move: number, pass: number): number {
    this.meaning.fillRow(this.row, moves.modes[move], moves.kinds[move] & this.meaning.rowKinds, pass);
    this.row[RowField.feed] = Math.fround(this.meaning.ownFeed(moves, move, extraOf(moves, move), entry));
    return this.intern();
  }

  /** The row with what `this.row` holds now. */
  private intern(): number {
    const content = this.row.join();
    const known = this.byContent.get(content);
    if (known !== undefined) return known;
    const row = this.numbers.length / ROW_WIDTH;
    this.numbers.push(...this.row);
    this.byContent.set(content, row);
    return row;
  }
}

/** Place of a move's extra numbers, −1 where it has none. */
const extraOf = ({ extraMoves, extraCount }: PathMoves, move: number): number => {
  let low = 0;
  let high = extraCount;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (extraMoves[middle] < move) low = middle + 1;
    else high = middle;
  }
  return low < extraCount && extraMoves[low] === move ? low * EXTRAS : -1;
};
