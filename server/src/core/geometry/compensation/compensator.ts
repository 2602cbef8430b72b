/**
 * Cutter radius compensation, one programmed move at a time: gives out the moves of the cutter's centre as soon as they
 * are certain, which is when the next move of the contour is known. Plane coordinates, mm and radians.
 *
 * After ISO 6983-1 (G40 G41 G42, D) as far as that goes, from memory; what it leaves open is common practice without a
 * source, said where it is done:
 * - The first move in the plane leads in: straight from where the cutter stands to the place square to the start of the
 *   move behind it. Leaving, the cutter ends square to the last move's end, and the next move in the plane leads out.
 * - Moves along the normal axis and waits between two contour moves are carried out at their joint.
 * - Another D blends in over the block that it is given in. Another side is taken up by a straight way from the end of
 *   the one move to the start of the other, each square to its own.
 */
import {
  type ContourMove,
  createElement,
  type Element,
  isArcPath,
  lengthOf,
  type MoveSource,
  type Side,
} from './element.ts';
import { type CornerStyle, type Joint, joinElements, type ShortStep } from './joint.ts';
import { readOpenMoves, writeOpenMoves } from './openMoves.ts';

/** A move along the normal axis, a wait, or another thing that happens where the cutter stands. */
export interface StandingMove {
  readonly source: MoveSource;
  /** Height behind it. */
  readonly third: number;
  /** Kept for who asked: seconds of a wait. */
  readonly extra: number;
  readonly others: readonly number[];
}

/** What compensation cannot do, about the move just taken. */
export type CompensationFault =
  | { readonly kind: 'arc-lead-in' | 'arc-lead-out'; readonly radius: number }
  | { readonly kind: 'short-lead-in'; readonly radius: number; readonly length: number }
  | { readonly kind: 'inside-radius'; readonly radius: number; readonly arcRadius: number }
  | ({ readonly kind: 'short-step' } & ShortStep);

/** Who gets the moves of the centre, in order. */
export interface CentreSink {
  line(first: number, second: number, third: number, source: MoveSource, others: readonly number[]): void;
  arc(end: CentreArc, source: MoveSource, others: readonly number[]): void;
  standing(first: number, second: number, move: StandingMove): void;
  fault(fault: CompensationFault): void;
}

/** An arc of the centre. */
export interface CentreArc {
  readonly endFirst: number;
  readonly endSecond: number;
  readonly endThird: number;
  readonly centreFirst: number;
  readonly centreSecond: number;
  readonly radius: number;
  readonly endRadius: number;
  readonly sweep: number;
}

/** The contour move that waits for the next one. */
export interface Pending {
  readonly element: Element;
  /** It leads in: it ends square to the next move. */
  readonly isLead: boolean;
  /** How much of its path's start was cut off by the joint before, mm of a line, radians of an arc. */
  readonly behind: number;
  /** It was told already that it is too short for the corner before it. */
  readonly isShort: boolean;
}

const NOTHING: readonly number[] = [];
/** Two places closer than this are one, mm. */
const SAME = 1e-9;

/** See the top of the file. */
export class Compensator {
  /** Where the centre stands: behind the last move that was given out. */
  first = Number.NaN;
  second = Number.NaN;
  third = Number.NaN;
  /** True if the centre is not where the program says although nothing waits: behind G40 until the way out. */
  isAside = false;
  pending: Pending | undefined;
  /** Standing moves behind the pending one. */
  readonly standing: StandingMove[] = [];
  private readonly sink: CentreSink;
  private readonly style: CornerStyle;

  constructor(style: CornerStyle, sink: CentreSink) {
    this.style = style;
    this.sink = sink;
  }

  /** True if the centre's path is not at the programmed end: moves wait, or the cutter stands aside. */
  get isOpen(): boolean {
    return this.pending !== undefined || this.isAside;
  }

  /** Takes a contour move beside which the cutter is to run. */
  take(move: ContourMove, side: Side, radius: number): void {
    if (this.pending === undefined) this.leadIn(move, side, radius);
    else this.follow(this.pending, createElement(move, side, this.pending.element.endRadius, radius));
  }

  /** Takes a move in the plane that is not compensated any more: the way out. Pending ones are finished before. */
  leadOut(move: ContourMove): void {
    this.finish();
    if (move.isArc) this.sink.fault({ kind: 'arc-lead-out', radius: move.radius });
    this.isAside = false;
    this.first = move.endFirst;
    this.second = move.endSecond;
    this.third = move.endThird;
    this.sink.line(move.endFirst, move.endSecond, move.endThird, move.source, move.others);
  }

  /** Takes a move along the normal axis, a wait, or another thing without a way in the plane; only while something is open. */
  stand(move: StandingMove): void {
    if (this.pending !== undefined) this.standing.push(move);
    else this.giveStanding(move);
  }

  /** Ends compensation (G40, or what interrupts it): the pending move ends square to its end, the cutter stays aside. */
  finish(): void {
    const { pending } = this;
    if (pending === undefined) return;
    const { element } = pending;
    const { move } = element;
    this.pending = undefined;
    const { toFirst, toSecond } = element;
    const isKnown = !Number.isNaN(toFirst + toSecond);
    if (pending.isLead) this.straight(isKnown ? toFirst : move.endFirst, isKnown ? toSecond : move.endSecond, element);
    else this.give(pending, toFirst, toSecond, 0);
    this.giveAllStanding();
    this.isAside = lengthOf(this.first - move.endFirst, this.second - move.endSecond) > SAME;
  }

  /** The pending state as plain numbers: equal states give equal arrays; empty where nothing is open. */
  save(lineShift: number): Float64Array {
    return writeOpenMoves(this, lineShift);
  }

  /** Takes back what `save` gave. */
  restore(numbers: Float64Array): void {
    readOpenMoves(this, numbers);
  }

  private leadIn(move: ContourMove, side: Side, radius: number): void {
    if (!this.isAside) {
      this.first = move.startFirst;
      this.second = move.startSecond;
      this.third = move.startThird;
    }
    this.isAside = false;
    const length = lengthOf(move.endFirst - this.first, move.endSecond - this.second);
    if (move.isArc) this.sink.fault({ kind: 'arc-lead-in', radius });
    else if (length < radius - 1e-6) this.sink.fault({ kind: 'short-lead-in', radius, length });
    const isStraightOnly = {
      ...move,
      isArc: false,
      centreFirst: 0,
      centreSecond: 0,
      radius: 0,
      endRadius: 0,
      sweep: 0,
    };
    this.pending = {
      element: createElement(isStraightOnly, side, radius, radius),
      isLead: true,
      behind: 0,
      isShort: false,
    };
  }

  private follow(pending: Pending, element: Element): void {
    const { move } = element;
    const { radius } = move;
    if (element.isBroken) this.sink.fault({ kind: 'inside-radius', radius: element.endRadius, arcRadius: radius });
    if (pending.isLead) {
      this.straight(element.fromFirst, element.fromSecond, pending.element);
      this.giveAllStanding();
      this.pending = { element, isLead: false, behind: 0, isShort: false };
      return;
    }
    const joint = joinElements(pending.element, pending.element.length - pending.behind, element, this.style);
    const { short } = joint;
    const isTold = short?.isBefore === true && pending.isShort;
    if (short !== undefined && !isTold) this.sink.fault({ kind: 'short-step', ...short });
    this.give(pending, joint.endFirst, joint.endSecond, joint.before);
    this.giveCorner(pending.element, joint);
    this.giveAllStanding();
    this.pending = { element, isLead: false, behind: joint.behind, isShort: short?.isBefore === false };
  }

  /** Gives out what is certain now of the pending move. */
  private give(pending: Pending, endFirst: number, endSecond: number, before: number): void {
    const { element, behind } = pending;
    const { move } = element;
    if (!isArcPath(element)) {
      this.straight(endFirst, endSecond, element);
      return;
    }
    const { centreFirst, centreSecond } = move;
    const radius = lengthOf(this.first - centreFirst, this.second - centreSecond);
    const endRadius = lengthOf(endFirst - centreFirst, endSecond - centreSecond);
    const turn = element.length - behind - before;
    if (Math.max(radius, endRadius) * turn < SAME) {
      this.straight(endFirst, endSecond, element);
      return;
    }
    this.first = endFirst;
    this.second = endSecond;
    this.third = move.endThird;
    const sweep = Math.sign(move.sweep) * turn;
    const { endThird, source, others } = move;
    this.sink.arc(
      { endFirst, endSecond, endThird, centreFirst, centreSecond, radius, endRadius, sweep },
      source,
      others,
    );
  }

  private straight(endFirst: number, endSecond: number, { move }: Element): void {
    this.lineTo(endFirst, endSecond, move.endThird, move.source, move.others);
  }

  /** The way round an outside corner; it belongs to the block before the corner. */
  private giveCorner(element: Element, joint: Joint): void {
    const { source, endFirst: centreFirst, endSecond: centreSecond } = element.move;
    const { startFirst, startSecond, sweep } = joint;
    for (const [first, second] of joint.corners) this.lineTo(first, second, this.third, source, NOTHING);
    if (sweep === 0) {
      this.lineTo(startFirst, startSecond, this.third, source, NOTHING);
      return;
    }
    const radius = element.endRadius;
    const end = { endFirst: startFirst, endSecond: startSecond, endThird: this.third };
    this.first = startFirst;
    this.second = startSecond;
    this.sink.arc({ ...end, centreFirst, centreSecond, radius, endRadius: radius, sweep }, source, NOTHING);
  }

  private lineTo(first: number, second: number, third: number, source: MoveSource, others: readonly number[]): void {
    const way = lengthOf(first - this.first, second - this.second) + Math.abs(third - this.third);
    if (way <= SAME && others.length === 0) return;
    this.first = first;
    this.second = second;
    this.third = third;
    this.sink.line(first, second, third, source, others);
  }

  private giveStanding(move: StandingMove): void {
    this.third = move.third;
    this.sink.standing(this.first, this.second, move);
  }

  private giveAllStanding(): void {
    for (const move of this.standing) this.giveStanding(move);
    this.standing.length = 0;
  }
}
