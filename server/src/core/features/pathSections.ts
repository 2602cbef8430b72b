/**
 * The sections of a path: stretches without a tool change, with times, lengths and extents. Summed up once for each part
 * of the path that stays as it is, then put together for the whole, so that an edit costs its own part only.
 */

import { emptyBounds } from '../geometry/packedLayout.ts';
import type { PathSpan } from '../geometry/packedPath.ts';
import { chordPlace, includeOutermost } from '../geometry/packedPathArc.ts';
import { EXTRAS, type PathMoves } from '../geometry/pathMoves.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { MoveFlag, MoveKind } from '../machine/moves.ts';
import { firstExtraRow, type PathClock, verticesOfMove } from './pathClock.ts';

/** Sums over moves. Times s, lengths mm; a time that is not known counts nothing. */
export interface PathSums {
  cutSeconds: number;
  rapidSeconds: number;
  waitSeconds: number;
  cutLength: number;
  rapidLength: number;
  /** Moves at feed whose feed is not known. */
  untimed: number;
}

/** A stretch of one tool inside a part of the path. */
export interface SectionPart {
  readonly tool: number;
  /** Modes of its first move. */
  readonly modes: number;
  /** Line of its first move, as the spans count, and the vertex that its first way starts at, from the part's first. */
  readonly line: number;
  readonly vertex: number;
  readonly sums: PathSums;
  /** Least and greatest X Y Z of what is cut, work coordinates in mm. */
  readonly cutBounds: Float64Array;
}

/** What a part of the path comes to. */
export interface PartSums {
  readonly sections: readonly SectionPart[];
  /** `Mode.offset` of the moves, each once, in order. */
  readonly offsets: readonly number[];
}

/** The arc that is looked at. */
const ARC = chordPlace();

/** No moves. */
export const noSums = (): PathSums => ({
  cutSeconds: 0,
  rapidSeconds: 0,
  waitSeconds: 0,
  cutLength: 0,
  rapidLength: 0,
  untimed: 0,
});

/** Adds `more` to `sums`. */
export function addSums(sums: PathSums, more: PathSums): void {
  sums.cutSeconds += more.cutSeconds;
  sums.rapidSeconds += more.rapidSeconds;
  sums.waitSeconds += more.waitSeconds;
  sums.cutLength += more.cutLength;
  sums.rapidLength += more.rapidLength;
  sums.untimed += more.untimed;
}

/** Rapids, cuts and waits together, s. */
export const secondsOf = (sums: PathSums): number => sums.cutSeconds + sums.rapidSeconds + sums.waitSeconds;

/** Sums up a part of the path: its spans in order. */
export function sumPart(spans: readonly PathSpan[], pool: Pick<ModePool, 'at'>, clock: PathClock): PartSums {
  const summing = new Summing(pool, clock);
  for (const span of spans) summing.addSpan(span);
  return { sections: summing.sections, offsets: summing.offsets };
}

class Summing {
  readonly sections: SectionPart[] = [];
  readonly offsets: number[] = [];
  private readonly pool: Pick<ModePool, 'at'>;
  private readonly clock: PathClock;
  private current: SectionPart | undefined;
  private vertex = 0;
  private lastModes = -1;

  constructor(pool: Pick<ModePool, 'at'>, clock: PathClock) {
    this.pool = pool;
    this.clock = clock;
  }

  addSpan(span: PathSpan): void {
    const { moves, entry, from, to } = span;
    const { modes, kinds, extraMoves, extraCount } = moves;
    let row = firstExtraRow(moves, from);
    for (let move = from; move < to; move++) {
      const extra = row < extraCount && extraMoves[row] === move ? row++ * EXTRAS : -1;
      if (modes[move] !== this.lastModes && (kinds[move] & MoveFlag.kindMask) !== MoveKind.renamed) {
        this.enter(modes[move], moves.lines[move] + span.lineOffset);
      }
      this.clock.measure(moves, move, extra, entry);
      if (this.current !== undefined) this.addMove(this.current, moves, move, extra, entry);
      this.vertex += extra < 0 ? 1 : verticesOfMove(moves, move, extra);
    }
    // The start point of the next span.
    this.vertex++;
  }

  /** Another set of modes: perhaps another tool or offset. */
  private enter(modes: number, line: number): void {
    this.lastModes = modes;
    const offset = this.pool.at(modes, Mode.offset);
    if (!this.offsets.includes(offset)) this.offsets.push(offset);
    const tool = this.pool.at(modes, Mode.tool);
    if (this.current?.tool === tool) return;
    this.current = { tool, modes, line, vertex: this.vertex, sums: noSums(), cutBounds: emptyBounds() };
    this.sections.push(this.current);
  }

  private addMove(section: SectionPart, moves: PathMoves, move: number, extra: number, entry: Float64Array): void {
    const { sums, cutBounds } = section;
    const { length } = this.clock;
    const isTimed = Number.isFinite(this.clock.seconds);
    const seconds = isTimed ? this.clock.seconds : 0;
    const kind = moves.kinds[move] & MoveFlag.kindMask;
    if (kind === MoveKind.rapid) {
      sums.rapidLength += length;
      sums.rapidSeconds += seconds;
      return;
    }
    if (kind !== MoveKind.line && kind !== MoveKind.arc) {
      sums.waitSeconds += seconds;
      return;
    }
    sums.cutLength += length;
    sums.cutSeconds += seconds;
    if (!isTimed && length > 0) sums.untimed++;
    if (move === 0) include(cutBounds, entry, 0);
    else include(cutBounds, moves.ends, move * 3 - 3);
    include(cutBounds, moves.ends, move * 3);
    if (extra >= 0 && kind === MoveKind.arc) this.addArc(cutBounds, moves, move, extra, entry);
  }

  private addArc(box: Float64Array, moves: PathMoves, move: number, extra: number, entry: Float64Array): void {
    ARC.from.set(move === 0 ? entry.subarray(0, 3) : moves.ends.subarray(move * 3 - 3, move * 3));
    ARC.plane = this.pool.at(moves.modes[move], Mode.plane);
    ARC.extras = moves.extras;
    ARC.at = extra;
    includeOutermost(box, ARC);
  }
}

/** Takes a point in, as far as it is known. */
const include = (box: Float64Array, points: Float64Array, at: number): void => {
  for (let axis = 0; axis < 3; axis++) {
    const value = points[at + axis];
    if (value < box[axis]) box[axis] = value;
    if (value > box[axis + 3]) box[axis + 3] = value;
  }
};
