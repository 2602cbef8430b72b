/**
 * Radius compensation on the machine: between the programmed moves and the path. The executor's position stays the
 * programmed one; the moves hold the path of the cutter's centre, `contour` the programmed one while both differ.
 */
import {
  type CentreArc,
  type CentreSink,
  type CompensationFault,
  Compensator,
  type StandingMove,
} from '../geometry/compensation/compensator.ts';
import type { ContourMove, MoveSource, Side } from '../geometry/compensation/element.ts';
import { shiftOpenMoves } from '../geometry/compensation/openMoves.ts';
import { compensationRadius } from './compensationRadius.ts';
import type { Executor } from './executor.ts';
import { AXIS_COUNT } from './letters.ts';
import { Mode } from './modes.ts';
import { MoveFlag, MoveKind, type MoveTable } from './moves.ts';
import { type Plane, planeOf } from './planes.ts';

const NOTHING: readonly number[] = [];
const NOTHING_OPEN = new Float64Array(0);
/** Codes (G number × 10) of blocks that run uncompensated: home, from home, machine coordinates. */
const UNCOMPENSATED = [280, 290, 300, 530];

const same = (a: number, b: number): boolean => a === b || (Number.isNaN(a) && Number.isNaN(b));

/** An open state with the lines of waiting moves moved by `shift`: states count lines from where they are met. */
export const shiftOpenLines = (open: Float64Array, shift: number): Float64Array => {
  if (open.length === 0 || shift === 0) return open;
  const moved = Float64Array.from(open);
  moved.set(shiftOpenMoves(open.subarray(AXIS_COUNT), shift), AXIS_COUNT);
  return moved;
};

/** See the top of the file. */
export class RadiusCompensation implements CentreSink {
  /** The cutter's radius in mm, NaN where it is not known; negative: the cutter runs on the other side. */
  radius = Number.NaN;
  /** Only a remark says the radius. */
  isAssumed = false;
  private readonly executor: Executor;
  private readonly compensator: Compensator;
  /** The plane that the open state is in. */
  private plane: Plane = planeOf(17);

  constructor(executor: Executor) {
    this.executor = executor;
    this.compensator = new Compensator(executor.profile.outsideCorner, this);
  }

  /** True if the cutter's centre is not where the program says: moves wait, or it stands aside of the contour. */
  get isOpen(): boolean {
    return this.compensator.isOpen;
  }

  /** Takes up what modes and registers say; true if moves have to come here. */
  update(): boolean {
    const { modes, configuration, variables, pool } = this.executor;
    if (modes[Mode.radiusCompensation] === 40) {
      this.radius = Number.NaN;
      this.compensator.finish();
      this.followPlane();
      return this.isOpen;
    }
    const isWithin = this.compensator.pending !== undefined;
    if (this.followPlane() && isWithin) {
      this.executor.faultAt('radius-comp-entry', 'plane-change', -1, { code: `G${modes[Mode.radiusCompensation]}` });
    }
    const { radius, isAssumed } = compensationRadius(modes, configuration, variables, pool);
    this.radius = radius;
    this.isAssumed = isAssumed;
    if (Number.isNaN(radius)) this.compensator.finish();
    return !Number.isNaN(radius) || this.isOpen;
  }

  /** True if moves have to come here as things stand. */
  isNeeded(): boolean {
    return this.isOpen || !Number.isNaN(this.radius);
  }

  /** Ends what waits: program end, tool change, another meaning of the position. */
  interrupt(): void {
    this.compensator.finish();
  }

  /** Follows a change of the plane: what waits ends, the cutter stays where it is. True if it changed. */
  private followPlane(): boolean {
    const next = planeOf(this.executor.modes[Mode.plane]);
    const { compensator, plane } = this;
    if (next === plane) return false;
    compensator.finish();
    const centre = this.toAxes(compensator.first, compensator.second, compensator.third);
    this.plane = next;
    compensator.first = centre[next.first];
    compensator.second = centre[next.second];
    compensator.third = centre[next.third];
    return true;
  }

  /**
   * The open state as plain numbers, empty where nothing is open: the programmed position, then what waits, its lines
   * moved by `lineShift`.
   */
  save(lineShift: number): Float64Array {
    if (!this.isOpen) return NOTHING_OPEN;
    return Float64Array.from([...this.executor.position, ...this.compensator.save(lineShift)]);
  }

  /** Takes back what `save` gave, behind the executor's modes and position. */
  restore(numbers: Float64Array): void {
    const { executor } = this;
    this.plane = planeOf(executor.modes[Mode.plane]);
    this.compensator.restore(numbers.subarray(AXIS_COUNT));
    if (numbers.length === 0) return;
    executor.position.set(numbers.subarray(0, AXIS_COUNT));
    executor.target.set(executor.position);
  }

  /** Takes the programmed move from the executor's position to its target; `others` if further axes move along. */
  take(kind: number, others: boolean): void {
    const { executor, plane } = this;
    const { position, target } = executor;
    const bare = kind & MoveFlag.kindMask;
    if (bare === MoveKind.renamed) {
      this.rename(kind);
      return;
    }
    this.keepContour(kind);
    const runsBeside = this.runsBeside(kind);
    const isArc = bare === MoveKind.arc;
    const staysPut =
      !isArc && same(position[plane.first], target[plane.first]) && same(position[plane.second], target[plane.second]);
    const source = { line: executor.line, kind, modes: executor.modesId() };
    const along = others ? Array.from(target.subarray(3)) : NOTHING;
    if (staysPut || (!runsBeside && !this.isOpen)) {
      if (!runsBeside) this.compensator.finish();
      if (this.isOpen) this.compensator.stand({ source, third: target[plane.third], extra: 0, others: along });
      else {
        this.addMove(target, source, along);
        if (isArc) this.addArcNumbers();
      }
      return;
    }
    const move = this.contourMove(source, isArc, along);
    if (!runsBeside) {
      this.compensator.leadOut(move);
      return;
    }
    this.compensator.take(move, this.side(), Math.abs(this.radius));
  }

  /** The side as the path runs in work coordinates: a mirror and a radius below nothing exchange them. */
  private side(): Side {
    const { executor } = this;
    const isLeft = executor.modes[Mode.radiusCompensation] === 41;
    return (isLeft === this.radius >= 0) !== executor.isMirrored() ? 1 : -1;
  }

  /** Mean radius of the centre's path beside the arc that is being executed, mm; 0 where the cutter does not get in. */
  pathRadius(): number {
    const { arc } = this.executor;
    const radius = (arc.radius + arc.endRadius) / 2;
    if (!this.runsBeside(MoveKind.arc)) return radius;
    return Math.max(0, radius - this.side() * Math.sign(arc.sweep) * Math.abs(this.radius));
  }

  /** A wait where the cutter stands; seconds. */
  wait(seconds: number, kind: number): void {
    const { executor, plane, compensator } = this;
    const source = { line: executor.line, kind, modes: executor.modesId() };
    const third = compensator.pending === undefined ? compensator.third : executor.position[plane.third];
    compensator.stand({ source, third, extra: seconds, others: NOTHING });
  }

  /**
   * Fills `out` with the direction in which the programmed path arrives (unit vector in X Y Z; NaN behind a rapid); false
   * where nothing waits, so that the moves tell.
   */
  arrival(out: Float64Array): boolean {
    const { pending, standing } = this.compensator;
    if (pending === undefined) return false;
    const { plane } = this;
    const { move, inFirst, inSecond } = pending.element;
    out.fill(0);
    for (let i = standing.length - 1; i >= 0; i--) {
      const kind = standing[i].source.kind & MoveFlag.kindMask;
      if (kind === MoveKind.dwell) continue;
      if (kind === MoveKind.rapid) out.fill(Number.NaN);
      else out[plane.third] = Math.sign(standing[i].third - (i > 0 ? standing[i - 1].third : move.endThird));
      return true;
    }
    if (move.isRapid) {
      out.fill(Number.NaN);
      return true;
    }
    const rise = move.isArc ? 0 : move.endThird - move.startThird;
    const way = Math.hypot(move.endFirst - move.startFirst, move.endSecond - move.startSecond);
    const flat = rise === 0 ? 1 : way / Math.hypot(way, rise);
    out[plane.first] = inFirst * flat;
    out[plane.second] = inSecond * flat;
    out[plane.third] = rise === 0 ? 0 : rise / Math.hypot(way, rise);
    return true;
  }

  // What the compensator gives.

  line(first: number, second: number, third: number, source: MoveSource, others: readonly number[]): void {
    const isArc = (source.kind & MoveFlag.kindMask) === MoveKind.arc;
    const kind = isArc ? (source.kind & ~MoveFlag.kindMask) | MoveKind.line : source.kind;
    this.addMove(this.toAxes(first, second, third), { ...source, kind }, others);
  }

  arc(arc: CentreArc, source: MoveSource, others: readonly number[]): void {
    const kind = (source.kind & ~MoveFlag.kindMask) | MoveKind.arc;
    this.addMove(this.toAxes(arc.endFirst, arc.endSecond, arc.endThird), { ...source, kind }, others);
    this.executor.moves.addExtra(arc.centreFirst, arc.centreSecond, arc.radius, arc.endRadius, arc.sweep);
  }

  standing(first: number, second: number, move: StandingMove): void {
    this.addMove(this.toAxes(first, second, move.third), move.source, move.others);
    if ((move.source.kind & MoveFlag.kindMask) === MoveKind.dwell) {
      this.executor.moves.addExtra(move.extra, 0, 0, 0, 0);
    }
  }

  fault(fault: CompensationFault): void {
    const { executor, isAssumed } = this;
    const { unit, modes } = executor;
    const assumed = isAssumed && fault.kind !== 'arc-lead-in' && fault.kind !== 'arc-lead-out' ? '-assumed' : '';
    const data: Record<string, string | number> = {
      code: `G${modes[Mode.radiusCompensation]}`,
      radius: fault.radius / unit,
    };
    if ('length' in fault) data.length = fault.length / unit;
    if ('arcRadius' in fault) data.arcRadius = fault.arcRadius / unit;
    if (fault.kind === 'short-step' && fault.isBefore) {
      executor.faultAt('radius-comp-gouge', `short-step-before${assumed}`, -1, data);
      return;
    }
    const isGouge = fault.kind === 'short-step' || fault.kind === 'inside-radius';
    const rule = isGouge ? 'radius-comp-gouge' : 'radius-comp-entry';
    executor.faultAt(rule, `${fault.kind}${assumed}`, -1, data);
  }

  /** True if the cutter is to run beside this move. */
  private runsBeside(kind: number): boolean {
    const { executor, plane } = this;
    const { target, modes } = executor;
    if (modes[Mode.radiusCompensation] === 40 || Number.isNaN(this.radius)) return false;
    if ((kind & (MoveFlag.cycle | MoveFlag.synchronised)) !== 0 || UNCOMPENSATED.includes(executor.once)) return false;
    return !Number.isNaN(target[plane.first] + target[plane.second]);
  }

  private contourMove(source: MoveSource, isArc: boolean, others: readonly number[]): ContourMove {
    const { executor, plane } = this;
    const { position, target, arc } = executor;
    return {
      source,
      isRapid: (source.kind & MoveFlag.kindMask) === MoveKind.rapid,
      isArc,
      startFirst: position[plane.first],
      startSecond: position[plane.second],
      startThird: position[plane.third],
      endFirst: target[plane.first],
      endSecond: target[plane.second],
      endThird: target[plane.third],
      centreFirst: isArc ? arc.centreFirst : 0,
      centreSecond: isArc ? arc.centreSecond : 0,
      radius: isArc ? arc.radius : 0,
      endRadius: isArc ? arc.endRadius : 0,
      sweep: isArc ? arc.sweep : 0,
      others,
    };
  }

  /** The position is called by other numbers: the cutter stays where it is, beside it by the same way. */
  private rename(kind: number): void {
    const { executor, plane, compensator } = this;
    const { position, target } = executor;
    compensator.finish();
    const place = Float64Array.from(target);
    if (compensator.isAside) {
      place[plane.first] += compensator.first - position[plane.first];
      place[plane.second] += compensator.second - position[plane.second];
      compensator.first = place[plane.first];
      compensator.second = place[plane.second];
      compensator.third = place[plane.third];
      compensator.isAside = !Number.isNaN(compensator.first + compensator.second);
    }
    const source = { line: executor.line, kind, modes: executor.modesId() };
    this.addMove(place, source, executor.hasOthersMoved() ? Array.from(target.subarray(3)) : NOTHING);
  }

  /** Keeps the programmed move; where nothing was open before it, its start stands before it. */
  private keepContour(kind: number): void {
    const { executor } = this;
    const { contour, position, target, arc } = executor;
    const id = executor.modesId();
    if (!this.isOpen || contour.count === 0) {
      contour.add(position[0], position[1], position[2], executor.line, MoveKind.renamed, id);
    }
    contour.add(target[0], target[1], target[2], executor.line, kind, id);
    if ((kind & MoveFlag.kindMask) === MoveKind.arc) {
      contour.addExtra(arc.centreFirst, arc.centreSecond, arc.radius, arc.endRadius, arc.sweep);
    }
  }

  private addArcNumbers(): void {
    const { moves, arc } = this.executor;
    moves.addExtra(arc.centreFirst, arc.centreSecond, arc.radius, arc.endRadius, arc.sweep);
  }

  private addMove(place: Float64Array, { line, kind, modes }: MoveSource, others: readonly number[]): void {
    const moves: MoveTable = this.executor.moves;
    moves.add(place[0], place[1], place[2], line, kind, modes);
    if (others.length === 0) return;
    moves.otherMoves.push(moves.count - 1);
    moves.others.push(...others);
  }

  private toAxes(first: number, second: number, third: number): Float64Array {
    const { plane } = this;
    const place = new Float64Array(3);
    place[plane.first] = first;
    place[plane.second] = second;
    place[plane.third] = third;
    return place;
  }
}
