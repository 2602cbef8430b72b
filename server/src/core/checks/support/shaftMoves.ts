/**
 * What a segment does along Z and round one centre: the moves that make, open and thread holes. Found once a segment;
 * `threadWork.ts` puts them together over the borders of segments.
 */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { arcNumbers, kindOf, perSegment, SAME_PLACE, startOf } from './pathWalk.ts';

/** What a shaft move is. */
export type ShaftKind = 'plunge' | 'rise' | 'rapid-rise' | 'wait' | 'circle' | 'away' | 'renamed' | 'program-start';

/** One of them. Work coordinates, mm. */
export interface ShaftMove {
  readonly kind: ShaftKind;
  /** Move and line in the segment. */
  readonly move: number;
  readonly line: number;
  /** Set of modes it runs under. */
  readonly modes: number;
  readonly x: number;
  readonly y: number;
  /** Z before and behind; of a circle both are the level that its full diameter reaches. */
  readonly from: number;
  readonly to: number;
  readonly inCycle: boolean;
  /** In step with the spindle (G33). */
  readonly synchronised: boolean;
  /** Seconds of a wait, radius of a circle's centre path. */
  readonly amount: number;
  /** Where the rotary axes stand. */
  readonly turn: string;
}

const FULL_TURN = 2 * Math.PI - 1e-3;

/** Walks through a segment's moves and keeps what is done along Z. */
class ShaftReader {
  readonly found: ShaftMove[] = [];
  private readonly segment: Segment;
  private readonly pool: ModePool;
  private turn: string;
  private other = 0;
  /** The circle that arcs one behind the other make up: centre, radius, and how far they went round. */
  private round = { x: Number.NaN, y: Number.NaN, radius: Number.NaN, angle: 0 };

  constructor(segment: Segment, pool: ModePool) {
    this.segment = segment;
    this.pool = pool;
    this.turn = turnOf(segment.entry.position, 3);
  }

  read(): readonly ShaftMove[] {
    const { moves } = this.segment;
    for (let move = 0; move < moves.count; move++) {
      if (this.goesOnAside(move)) {
        move = this.lastAside(move);
        continue;
      }
      if (this.other < moves.otherMoves.length && moves.otherMoves[this.other] === move) {
        this.turn = turnOf(moves.others, this.other * 6);
        this.other++;
      }
      this.take(move, kindOf(moves, move));
    }
    return this.found;
  }

  /** True for a straight way aside behind another one: most moves of a program are, and say nothing new. */
  private goesOnAside(move: number): boolean {
    const { ends, kinds, otherMoves } = this.segment.moves;
    if (move === 0 || (kinds[move] & MoveFlag.kindMask) > MoveKind.line || this.round.angle !== 0) return false;
    if (this.last !== 'away' || this.other < otherMoves.length) return false;
    const at = move * 3;
    return Math.abs(ends[at] - ends[at - 3]) > SAME_PLACE || Math.abs(ends[at + 1] - ends[at - 2]) > SAME_PLACE;
  }

  /** The last of the straight ways aside that follow one another from a move on. */
  private lastAside(move: number): number {
    const { ends, kinds, count } = this.segment.moves;
    let last = move;
    for (let next = move + 1; next < count; next++) {
      if ((kinds[next] & MoveFlag.kindMask) > MoveKind.line) break;
      const at = next * 3;
      if (!(Math.abs(ends[at] - ends[at - 3]) > SAME_PLACE || Math.abs(ends[at + 1] - ends[at - 2]) > SAME_PLACE))
        break;
      last = next;
    }
    return last;
  }

  private take(move: number, kind: number): void {
    const { moves } = this.segment;
    if (kind === MoveKind.arc) {
      this.arc(move);
      return;
    }
    if (kind === MoveKind.dwell) {
      if (this.last !== undefined && this.last !== 'away')
        this.add('wait', move, moves.extras[arcNumbers(moves, move)]);
      return;
    }
    if (kind === MoveKind.renamed) {
      const isStart = (moves.kinds[move] & MoveFlag.programStart) !== 0;
      this.add(isStart ? 'program-start' : 'renamed', move);
      return;
    }
    this.round.angle = 0;
    if (this.isSideways(move)) this.away(move);
    else this.straight(move, kind);
  }

  private isSideways(move: number): boolean {
    const { ends } = this.segment.moves;
    for (let axis = 0; axis < 2; axis++) {
      const way = ends[move * 3 + axis] - startOf(this.segment, move, axis);
      if (!(Math.abs(way) <= SAME_PLACE)) return true;
    }
    return false;
  }

  private straight(move: number, kind: number): void {
    const { moves } = this.segment;
    const to = moves.ends[move * 3 + 2];
    const way = to - startOf(this.segment, move, 2);
    const isRapid = kind === MoveKind.rapid;
    // A drill that pecks comes up again and again.
    if (way > 0 && isRapid && this.last === 'rapid-rise') return;
    if (way > 0) this.add(isRapid ? 'rapid-rise' : 'rise', move);
    else if (way < 0 && !isRapid) {
      const id = moves.modes[move];
      if (this.pool.at(id, Mode.plane) !== 17) return;
      const isPeck =
        (moves.kinds[move] & MoveFlag.cycle) !== 0 && Math.abs(to - this.pool.at(id, Mode.cycleDepth)) > SAME_PLACE;
      if (!isPeck) this.add('plunge', move);
    } else if (way !== 0) this.away(move);
  }

  /** Arcs about one centre that come to a full turn open a hole of their diameter. */
  private arc(move: number): void {
    const { moves } = this.segment;
    this.away(move);
    if (this.pool.at(moves.modes[move], Mode.plane) !== 17) return;
    const at = arcNumbers(moves, move);
    const { extras } = moves;
    const x = extras[at];
    const y = extras[at + 1];
    const radius = extras[at + 2];
    const endRadius = extras[at + 3];
    const sweep = extras[at + 4];
    const { round } = this;
    const isSame = Math.hypot(x - round.x, y - round.y) < 0.01 && Math.abs(radius - round.radius) < 0.01;
    if (Math.abs(radius - endRadius) > 0.01) return;
    this.round = { x, y, radius, angle: (isSame ? round.angle : 0) + Math.abs(sweep) };
    if (this.round.angle < FULL_TURN) return;
    const to = moves.ends[move * 3 + 2];
    const from = startOf(this.segment, move, 2);
    const leadPerTurn = (Math.abs(to - from) * 2 * Math.PI) / Math.abs(sweep);
    const level = Math.min(from, to) + leadPerTurn;
    this.found.push({ ...this.place('circle', move, radius), x, y, from: level, to: level });
  }

  private get last(): ShaftKind | undefined {
    return this.found[this.found.length - 1]?.kind;
  }

  /** A way aside ends what went on in a hole; said once. */
  private away(move: number): void {
    if (this.last !== 'away') this.add('away', move);
  }

  private add(kind: ShaftKind, move: number, amount = 0): void {
    this.found.push(this.place(kind, move, amount));
  }

  private place(kind: ShaftKind, move: number, amount: number): ShaftMove {
    const { moves } = this.segment;
    return {
      kind,
      move,
      line: moves.lines[move],
      modes: moves.modes[move],
      x: moves.ends[move * 3],
      y: moves.ends[move * 3 + 1],
      from: startOf(this.segment, move, 2),
      to: moves.ends[move * 3 + 2],
      inCycle: (moves.kinds[move] & MoveFlag.cycle) !== 0,
      synchronised: (moves.kinds[move] & MoveFlag.synchronised) !== 0,
      amount,
      turn: this.turn,
    };
  }
}

const turnOf = (position: ArrayLike<number>, at: number): string => {
  let turn = '';
  for (let axis = at; axis < at + 3; axis++) turn += `${Math.round(position[axis] * 1000) || 0} `;
  return turn;
};

/** The shaft moves of a segment, in order. */
export const shaftMoves = perSegment((segment: Segment, { pool }: ProgramFacts): readonly ShaftMove[] =>
  new ShaftReader(segment, pool).read(),
);
