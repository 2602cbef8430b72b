/**
 * Walking along the path of a program, move by move in the order of the run, over the borders of segments. For rules that
 * look at what came before a move or comes behind it.
 */
import type { ModePool } from '../../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import type { Passage, ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';

/** Two coordinates closer than this are one, mm. */
export const SAME_PLACE = 1e-6;

/** How many `perSegment` there are: each has its place in `Segment.kept`. */
let finders = 0;
/** Stands there for `undefined`. */
const NOTHING = Symbol('nothing');

/** Keeps what is found in a segment with the segment, which never changes once it was run. */
export const perSegment = <T>(find: (segment: Segment, facts: ProgramFacts) => T) => {
  const place = finders++;
  return (segment: Segment, facts: ProgramFacts): T => {
    segment.kept ??= new Array<unknown>(finders);
    const before = segment.kept[place];
    if (before !== undefined) return (before === NOTHING ? undefined : before) as T;
    const found = find(segment, facts);
    segment.kept[place] = found === undefined ? NOTHING : found;
    return found;
  };
};

/** Kind of a move without its flags. */
export const kindOf = (moves: MoveTable, move: number): number => moves.kinds[move] & MoveFlag.kindMask;

/** Coordinate of an axis (0 X, 1 Y, 2 Z) where a move of a segment starts, mm; NaN unknown. */
export const startOf = (segment: Segment, move: number, axis: number): number =>
  move === 0 ? segment.entry.position[axis] : segment.moves.ends[(move - 1) * 3 + axis];

export const isArc = (moves: MoveTable, move: number): boolean => kindOf(moves, move) === MoveKind.arc;

/** True for a move that is not straight along Z: an arc, or one that changes X or Y. */
export const goesSideways = (segment: Segment, move: number): boolean => {
  const { ends } = segment.moves;
  if (isArc(segment.moves, move)) return true;
  return ends[move * 3] !== startOf(segment, move, 0) || ends[move * 3 + 1] !== startOf(segment, move, 1);
};

/** A place on the path: a move of the program. */
export class PathPlace {
  readonly passages: readonly Passage[];
  passage: number;
  move: number;

  constructor(passages: readonly Passage[], passage: number, move: number) {
    this.passages = passages;
    this.passage = passage;
    this.move = move;
  }

  /** Another walker that begins here. */
  copy(): PathPlace {
    return new PathPlace(this.passages, this.passage, this.move);
  }

  /** One move on; false behind the last one. */
  next(): boolean {
    this.move++;
    while (this.move >= this.passages[this.passage].segment.moves.count) {
      if (this.passage + 1 >= this.passages.length) return false;
      this.passage++;
      this.move = 0;
    }
    return true;
  }

  /** One move back; false before the first one. */
  previous(): boolean {
    this.move--;
    while (this.move < 0) {
      if (this.passage === 0) return false;
      this.passage--;
      this.move = this.segment.moves.count - 1;
    }
    return true;
  }

  /** One move on over waits; false behind the last one. */
  nextMotion(): boolean {
    while (this.next()) if (this.kind !== MoveKind.dwell) return true;
    return false;
  }

  /** One move back over waits; false before the first one. */
  previousMotion(): boolean {
    while (this.previous()) if (this.kind !== MoveKind.dwell) return true;
    return false;
  }

  get segment(): Segment {
    return this.passages[this.passage].segment;
  }

  get kind(): number {
    return kindOf(this.segment.moves, this.move);
  }

  /** True for a line or an arc at feed. */
  get cuts(): boolean {
    return this.kind === MoveKind.line || this.kind === MoveKind.arc;
  }

  /** True for a move that a canned cycle made. */
  get inCycle(): boolean {
    return (this.segment.moves.kinds[this.move] & MoveFlag.cycle) !== 0;
  }

  /** Line of the program, from 0. */
  get line(): number {
    return this.passages[this.passage].firstLine + this.segment.moves.lines[this.move];
  }

  /** Where the move starts and ends on an axis (0 X, 1 Y, 2 Z), mm; NaN unknown. */
  start(axis: number): number {
    return startOf(this.segment, this.move, axis);
  }

  end(axis: number): number {
    return this.segment.moves.ends[this.move * 3 + axis];
  }

  /** Way along Z, mm. */
  get rise(): number {
    return this.end(2) - this.start(2);
  }

  /** True if X or Y changes, or leads to where nobody knows. */
  get sideways(): boolean {
    return this.differs(0) || this.differs(1);
  }

  /** One of the modes that the move runs under. */
  mode(pool: ModePool, field: number): number {
    return pool.at(this.segment.moves.modes[this.move], field);
  }

  private differs(axis: number): boolean {
    const way = this.end(axis) - this.start(axis);
    return Number.isNaN(way) ? !Number.isNaN(this.start(axis)) : Math.abs(way) > SAME_PLACE;
  }
}

/** The extra numbers of an arc among `moves.extras`, as their first index. */
export const arcNumbers = (moves: MoveTable, move: number): number => moves.firstExtra(move) * EXTRA_WIDTH;
