/** Whether a move's coordinates are those that the blank is given in, and whether all of the path is seen. */
import { AXIS_COUNT } from '../../machine/letters.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import type { MoveTable } from '../../machine/moves.ts';
import { FactKind, type ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import type { StockShape } from './stockShape.ts';

/** Axes beside X Y Z. */
const OTHERS = AXIS_COUNT - 3;
const ZEROS = [Mode.zero, Mode.zero + 1, Mode.zero + 2];

/**
 * Follows a run: its moves lie in the blank's own offset as long as the offset's zero is where it was at the first of
 * them, and the tool length is not called off again. Shifts (G52, G92) are in the coordinates of a move already.
 */
export class BlankFrame {
  private readonly pool: ModePool;
  private readonly stock: StockShape;
  private readonly known: (boolean | undefined)[] = [];
  private zeros: readonly number[] | undefined;
  private sawLength = false;
  private lastModes = -1;
  private last = false;

  constructor(pool: ModePool, stock: StockShape) {
    this.pool = pool;
    this.stock = stock;
  }

  /** True for moves under a set of modes; to be asked in the order of the run. */
  holds(modes: number): boolean {
    if (modes === this.lastModes) return this.last;
    this.lastModes = modes;
    this.last = this.judge(modes);
    return this.last;
  }

  private judge(modes: number): boolean {
    const { pool } = this;
    if (pool.at(modes, Mode.offset) !== this.stock.offset) return false;
    if (pool.at(modes, Mode.lengthCompensation) !== 49) this.sawLength = true;
    else if (this.sawLength) return false;
    const known = this.known[modes];
    if (known !== undefined) return known;
    const own = ZEROS.map((field) => pool.at(modes, field));
    this.zeros ??= own;
    const holds = own.every((zero, axis) => Object.is(zero, this.zeros?.[axis]));
    this.known[modes] = holds;
    return holds;
  }
}

/**
 * Follows the axes beside X Y Z through a segment: where one stands elsewhere than at its zero, the blank is not where it
 * was given.
 */
export class TurnedAxes {
  private readonly moves: MoveTable;
  private next = 0;
  private isTurned: boolean;

  constructor({ entry, moves }: Segment) {
    this.moves = moves;
    this.isTurned = entry.position.subarray(3).some(isAway);
  }

  /** True if one is turned behind a move; to be asked move by move. */
  at(move: number): boolean {
    const { otherMoves, others } = this.moves;
    if (this.next < otherMoves.length && otherMoves[this.next] === move) {
      this.isTurned = others.slice(this.next * OTHERS, (this.next + 1) * OTHERS).some(isAway);
      this.next++;
    }
    return this.isTurned;
  }
}

/** True where no axis beside X Y Z is turned, nor moves, all through a segment. */
export const staysUnturned = ({ entry, moves }: Segment): boolean => {
  if (moves.otherMoves.length > 0) return false;
  for (let axis = 3; axis < AXIS_COUNT; axis++) if (isAway(entry.position[axis])) return false;
  return true;
};

const isAway = (position: number): boolean => position !== 0 && !Number.isNaN(position);

/** True if a stretch may cut where nobody sees it: by a block or a call that is not executed. */
export const hidesMoves = (segment: Segment, facts: ProgramFacts): boolean => {
  if ((segment.factKinds & (1 << FactKind.notExecuted)) !== 0) return true;
  if ((segment.factKinds & (1 << FactKind.callTarget)) === 0) return false;
  return segment.facts.some(({ kind, a }) => kind === FactKind.callTarget && (a < 0 || !facts.isKnownProgram(a)));
};
