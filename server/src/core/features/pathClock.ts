/**
 * How long a move takes: the one place that tells, for `trace`, for hover and for the playback of the path. Nominal times:
 * length by feed, rapids at their rate, waits as they are written, no acceleration. Lengths mm, feeds mm/min, times s.
 */
import { arcLength } from '../geometry/arcMeasure.ts';
import type { PathSpan } from '../geometry/packedPath.ts';
import { chordCount, EXTRAS, type PathMoves } from '../geometry/pathMoves.ts';
import type { Machine } from '../machine/configuration.ts';
import { AXES } from '../machine/machinePosition.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { MoveFlag, MoveKind } from '../machine/moves.ts';

/** What the times depend on beside the moves. */
export interface ClockOptions {
  /** The machine, for the rate of rapids: the slowest axis that moves decides (10,000 mm/min where it is not given). */
  readonly machine?: Machine | undefined;
  /** F of a helix runs along the path in space or in the plane (profile). */
  readonly helixFeed?: 'space' | 'plane';
}

/** Rate that rapids are timed at where the machine's is not known, mm/min. */
const RAPID_RATE = 10_000;

/** True for a straight thread cut (G33), whose extra number is its lead in mm. */
export const isThread = (kinds: number): boolean =>
  (kinds & MoveFlag.synchronised) !== 0 &&
  (kinds & MoveFlag.cycle) === 0 &&
  (kinds & MoveFlag.kindMask) === MoveKind.line;

/** True for a move at feed. */
export const isCut = (kinds: number): boolean => {
  const kind = kinds & MoveFlag.kindMask;
  return kind === MoveKind.line || kind === MoveKind.arc;
};

const known = (distance: number): number => (Number.isNaN(distance) ? 0 : distance);

/** Measures moves; what it found stands in its fields until the next one, so that no move costs an object. */
export class PathClock {
  /** Length in space; axes that are not known at both ends add nothing. */
  length = 0;
  /** Feed along the path; NaN where it is not known or the move has none. */
  feed = Number.NaN;
  /** NaN where the feed is not known. */
  seconds = 0;
  private readonly pool: Pick<ModePool, 'at'>;
  private readonly rapidRates: readonly number[];
  private readonly helixInPlane: boolean;
  private modes = -1;
  private feedMode = 94;
  private word = Number.NaN;
  private turns = Number.NaN;
  private third = 2;

  constructor(pool: Pick<ModePool, 'at'>, { machine, helixFeed = 'space' }: ClockOptions = {}) {
    this.pool = pool;
    this.rapidRates = [0, 1, 2].map((axis) => machine?.axes[AXES[axis]]?.rapid ?? RAPID_RATE);
    this.helixInPlane = helixFeed === 'plane';
  }

  /** S in force, rev/min; NaN where none was given or it is a cutting speed (G96). */
  speed(modes: number): number {
    this.read(modes);
    return this.turns;
  }

  /**
   * Measures a move; `extra` is the place of its extra numbers, −1 where it has none; `entry` is X Y Z before move 0. It
   * takes no coordinates by themselves: numbers that are handed over cost more than all the rest.
   */
  measure(moves: PathMoves, move: number, extra: number, entry: ArrayLike<number>): void {
    const { ends, kinds, modes, extras } = moves;
    const kind = kinds[move] & MoveFlag.kindMask;
    this.length = 0;
    this.feed = Number.NaN;
    this.seconds = 0;
    if (kind === MoveKind.dwell) this.seconds = extra < 0 ? 0 : extras[extra];
    if (kind > MoveKind.arc) return;
    const at = move * 3;
    const dx = known(ends[at] - (move === 0 ? entry[0] : ends[at - 3]));
    const dy = known(ends[at + 1] - (move === 0 ? entry[1] : ends[at - 2]));
    const dz = known(ends[at + 2] - (move === 0 ? entry[2] : ends[at - 1]));
    this.length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    if (kind === MoveKind.rapid) {
      this.seconds = (this.length / this.rapidRate(dx, dy, dz)) * 60;
      return;
    }
    this.read(modes[move]);
    let timed = this.length;
    if (kind === MoveKind.arc && extra >= 0)
      timed = this.arc(extras, extra, this.third === 2 ? dz : this.third === 1 ? dy : dx);
    this.feed = isThread(kinds[move]) ? Math.abs(extras[extra]) * this.turns : this.feedAlong();
    // In inverse time the block takes 1/F minutes, which a feed by its length comes to as well.
    this.seconds = (timed / this.feed) * 60;
  }

  /** Length of an arc into `length`; gives the length that F counts along. */
  private arc(extras: Float64Array, extra: number, rise: number): number {
    const radius = extras[extra + 2];
    const endRadius = extras[extra + 3];
    const sweep = extras[extra + 4];
    const length = arcLength(radius, endRadius, sweep, rise);
    if (!Number.isNaN(length)) this.length = length;
    return this.helixInPlane && this.feedMode !== 93 ? arcLength(radius, endRadius, sweep, 0) : this.length;
  }

  /** G94 as it is, G95 times the speed, G93 by the length. */
  private feedAlong(): number {
    if (this.feedMode === 95) return this.word * this.turns;
    return this.feedMode === 93 ? this.word * this.length : this.word;
  }

  /** That of the slowest of the axes that move. */
  private rapidRate(dx: number, dy: number, dz: number): number {
    const [x, y, z] = this.rapidRates;
    let rate = Number.POSITIVE_INFINITY;
    if (dx !== 0) rate = x;
    if (dy !== 0 && y < rate) rate = y;
    if (dz !== 0 && z < rate) rate = z;
    return rate === Number.POSITIVE_INFINITY ? RAPID_RATE : rate;
  }

  private read(modes: number): void {
    if (modes === this.modes) return;
    const { pool } = this;
    this.modes = modes;
    const [feed, speed, plane] = [pool.at(modes, Mode.feed), pool.at(modes, Mode.speed), pool.at(modes, Mode.plane)];
    this.feedMode = pool.at(modes, Mode.feedMode);
    this.word = feed < 0 ? Number.NaN : feed;
    this.turns = pool.at(modes, Mode.speedMode) === 96 || speed < 0 ? Number.NaN : speed;
    this.third = plane === 18 ? 1 : plane === 19 ? 0 : 2;
  }
}

/** Row of the first extra numbers that belong to a move at or behind `from`. */
export function firstExtraRow({ extraMoves, extraCount }: PathMoves, from: number): number {
  let row = 0;
  while (row < extraCount && extraMoves[row] < from) row++;
  return row;
}

/** Vertices that a move gives: those of `packPath`. */
export const verticesOfMove = ({ kinds, extras }: PathMoves, move: number, extra: number): number =>
  extra < 0 || (kinds[move] & MoveFlag.kindMask) !== MoveKind.arc
    ? 1
    : chordCount(Math.max(extras[extra + 2], extras[extra + 3]), extras[extra + 4]);

/**
 * Fills in the seconds at each vertex of a span, from `at` on, the first with `start`; gives those at the last. A wait
 * counts at its own vertex; a time that is not known counts nothing.
 */
export function fillSeconds(
  span: PathSpan,
  clock: PathClock,
  seconds: Float64Array,
  at: number,
  start: number,
): number {
  const { moves, entry, from, to } = span;
  let next = at;
  let now = start;
  let row = firstExtraRow(moves, from);
  seconds[next++] = now;
  for (let move = from; move < to; move++) {
    const extra = row < moves.extraCount && moves.extraMoves[row] === move ? row++ * EXTRAS : -1;
    clock.measure(moves, move, extra, entry);
    const taken = Number.isFinite(clock.seconds) ? clock.seconds : 0;
    const vertices = verticesOfMove(moves, move, extra);
    for (let i = 1; i < vertices; i++) seconds[next++] = now + (taken * i) / vertices;
    now += taken;
    seconds[next++] = now;
  }
  return now;
}
