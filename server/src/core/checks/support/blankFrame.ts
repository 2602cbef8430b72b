/** Whether a move's coordinates are those that the blank is given in. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import type { StockShape } from './stockShape.ts';

const SHIFTS = [0, 1, 2].flatMap((axis) => [Mode.localShift + axis, Mode.presetShift + axis]);
const ZEROS = [Mode.zero, Mode.zero + 1, Mode.zero + 2];

/**
 * Follows a run: its moves lie in the blank's own offset as long as no shift (G52, G92) is in force, the offset's zero is
 * where it was at the first of them, and the tool length is not called off again.
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
    const holds =
      SHIFTS.every((field) => pool.at(modes, field) === 0) &&
      own.every((zero, axis) => Object.is(zero, this.zeros?.[axis]));
    this.known[modes] = holds;
    return holds;
  }
}
