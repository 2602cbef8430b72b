/**
 * What the moves of a segment come to: runs of cuts without a rapid between, and sums by tool section. Found once a
 * segment and kept with it, since a segment never changes once it was run. Lengths mm, feeds mm/min, times s, lines counted
 * from the segment's first line.
 */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind } from '../checks/facts.ts';
import type { Segment } from '../checks/segment.ts';
import { chordPlace, includeOutermost } from '../geometry/packedPathArc.ts';
import { EXTRAS } from '../geometry/pathMoves.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { MoveFlag, MoveKind } from '../machine/moves.ts';
import { isCut, PathClock } from './pathClock.ts';

/** A helix about one centre in the XY plane. */
export interface HelixTurns {
  /** Centre X Y and radius of the cutter's path. */
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  turns: number;
  /** Nothing of the run lies outside the circle, and it came in from inside. */
  isInside: boolean;
  isFromInside: boolean;
  /** All helical arcs have this centre and radius. */
  isAlone: boolean;
}

/** Cuts one behind the other, without a rapid, a cycle or a change of the zero between. */
export interface CutRun {
  firstLine: number;
  lastLine: number;
  /** Set of modes of its first cut. */
  readonly modes: number;
  length: number;
  /** Least X Y Z, then greatest. */
  box: readonly number[];
  /** 41 or 42 where the cutter is led beside a contour, else 40. */
  compensation: number;
  /** False where it goes along its tool's axis only. */
  goesSideways: boolean;
  helix: HelixTurns | undefined;
  /** It begins with the segment, and may go on from the one before. */
  readonly isOpen: boolean;
}

/** What the moves of one tool section come to. */
export interface SectionSums {
  cutLength: number;
  seconds: number;
  /** Cuts whose time is not known. */
  untimed: number;
  /** Least Z that is cut; Infinity where nothing is. */
  lowest: number;
  leastFeed: number;
  greatestFeed: number;
  /** F is a feed a minute in all of it. */
  isPerMinute: boolean;
  /** The first cut counts in inches. */
  isInch: boolean | undefined;
}

/** A part of a segment that belongs to one tool section. */
export interface SectionPart {
  /** Line of the tool change that it begins with; undefined where it goes on from the segment before. */
  readonly change: number | undefined;
  readonly sums: SectionSums;
}

/** See the top of the file. */
export interface SegmentDigest {
  readonly runs: readonly CutRun[];
  readonly parts: readonly SectionPart[];
  /** The last move is a cut: a run may go on in the next segment. */
  readonly endsCutting: boolean;
}

/** A way into a bore has no more points than these. */
const MOST_WAY_IN = 12;
/** Coordinates closer than this are one, mm. */
const SAME = 0.01;

const digests = new WeakMap<Segment, SegmentDigest>();

/** Makes digests of the segments of one program under one configuration. */
export class Digester {
  private readonly pool: ModePool;
  private readonly clock: PathClock;

  constructor({ modePool }: Pick<Analysis, 'modePool'>, { machine, profile }: Configuration) {
    this.pool = modePool;
    this.clock = new PathClock(modePool, { machine, helixFeed: profile.helixFeed });
  }

  /** What the moves of a segment come to. */
  of(segment: Segment): SegmentDigest {
    let digest = digests.get(segment);
    if (digest === undefined) {
      digest = new Digesting(segment, this.pool, this.clock).digest();
      digests.set(segment, digest);
    }
    return digest;
  }
}

/** Nothing yet. */
export const noSectionSums = (): SectionSums => ({
  cutLength: 0,
  seconds: 0,
  untimed: 0,
  lowest: Number.POSITIVE_INFINITY,
  leastFeed: Number.POSITIVE_INFINITY,
  greatestFeed: 0,
  isPerMinute: true,
  isInch: undefined,
});

/** Adds `more` to `sums`. */
export function addSectionSums(sums: SectionSums, more: SectionSums): void {
  sums.cutLength += more.cutLength;
  sums.seconds += more.seconds;
  sums.untimed += more.untimed;
  sums.lowest = Math.min(sums.lowest, more.lowest);
  sums.leastFeed = Math.min(sums.leastFeed, more.leastFeed);
  sums.greatestFeed = Math.max(sums.greatestFeed, more.greatestFeed);
  sums.isPerMinute &&= more.isPerMinute;
  sums.isInch ??= more.isInch;
}

const NO_BOX: readonly number[] = [];

/** Takes a point in, as far as it is known. */
const include = (box: Float64Array, points: ArrayLike<number>, at: number): void => {
  for (let axis = 0; axis < 3; axis++) {
    const value = points[at + axis];
    if (value < box[axis]) box[axis] = value;
    if (value > box[axis + 3]) box[axis + 3] = value;
  }
};

/** Goes through the moves of one segment. */
class Digesting {
  private readonly segment: Segment;
  private readonly pool: ModePool;
  private readonly clock: PathClock;
  private readonly runs: CutRun[] = [];
  private readonly parts: SectionPart[] = [];
  private run: CutRun | undefined;
  /** X and Y of the points of a run before its helix. */
  private readonly wayIn = new Float64Array(2 * MOST_WAY_IN);
  private wayInCount = 0;
  private sums: SectionSums = noSectionSums();
  private tool = Number.NaN;
  private lastModes = -1;
  private plane = 17;
  private compensation = 40;
  private isPerMinute = true;
  private isInch = false;
  /** That of the run, which gets its own once it is over: thousands of small arrays cost more than all else. */
  private readonly box = new Float64Array(6);
  private readonly arc = chordPlace();

  constructor(segment: Segment, pool: ModePool, clock: PathClock) {
    this.segment = segment;
    this.pool = pool;
    this.clock = clock;
  }

  digest(): SegmentDigest {
    const { moves, entry, facts, factKinds } = this.segment;
    const hasChanges = (factKinds & (1 << FactKind.toolChange)) !== 0;
    const changes = hasChanges ? facts.filter(({ kind }) => kind === FactKind.toolChange) : [];
    this.beginPart(undefined);
    let row = 0;
    let change = 0;
    for (let move = 0; move < moves.count; move++) {
      // Further passes are put together in one segment: there the tool tells which change it was.
      while (change < changes.length && this.isPast(changes[change], move)) this.beginPart(changes[change++].line);
      const extra = row < moves.extraCount && moves.extraMoves[row] === move ? row++ * EXTRAS : -1;
      if (moves.modes[move] !== this.lastModes) this.enter(moves.modes[move]);
      this.clock.measure(moves, move, extra, entry.position);
      this.addMove(move, extra);
    }
    const endsCutting = this.run !== undefined && change === changes.length;
    this.endRun();
    for (; change < changes.length; change++) this.beginPart(changes[change].line);
    return { runs: this.runs, parts: this.parts, endsCutting };
  }

  /** True if a tool change comes before a move. */
  private isPast({ line, a }: { readonly line: number; readonly a: number }, move: number): boolean {
    const { moves, blockCount } = this.segment;
    if (blockCount > 0) return line <= moves.lines[move];
    return this.pool.at(moves.modes[move], Mode.tool) === a && this.tool !== a;
  }

  private beginPart(change: number | undefined): void {
    this.endRun();
    this.lastModes = -1;
    this.sums = noSectionSums();
    this.parts.push({ change, sums: this.sums });
  }

  private enter(modes: number): void {
    this.lastModes = modes;
    this.tool = this.pool.at(modes, Mode.tool);
    this.plane = this.pool.at(modes, Mode.plane);
    this.compensation = this.pool.at(modes, Mode.radiusCompensation);
    this.isPerMinute = this.pool.at(modes, Mode.feedMode) === 94;
    this.isInch = this.pool.at(modes, Mode.units) === 20;
  }

  private addMove(move: number, extra: number): void {
    const { moves } = this.segment;
    const kinds = moves.kinds[move];
    const { sums, clock } = this;
    const isTimed = Number.isFinite(clock.seconds);
    if (isTimed) sums.seconds += clock.seconds;
    if (!isCut(kinds)) {
      // A wait does not part what is cut before and behind it.
      if ((kinds & MoveFlag.kindMask) !== MoveKind.dwell) this.endRun();
      return;
    }
    if (!isTimed && clock.length > 0) sums.untimed++;
    this.addCut(move);
    if ((kinds & MoveFlag.cycle) !== 0) this.endRun();
    else this.addToRun(move, extra);
  }

  private endRun(): void {
    const { run, box } = this;
    if (run !== undefined) run.box = [box[0], box[1], box[2], box[3], box[4], box[5]];
    this.run = undefined;
  }

  private addCut(move: number): void {
    const { sums, clock } = this;
    const z = this.segment.moves.ends[move * 3 + 2];
    sums.cutLength += clock.length;
    if (z < sums.lowest) sums.lowest = z;
    if (clock.feed < sums.leastFeed) sums.leastFeed = clock.feed;
    if (clock.feed > sums.greatestFeed) sums.greatestFeed = clock.feed;
    if (!this.isPerMinute) sums.isPerMinute = false;
    sums.isInch ??= this.isInch;
  }

  private addToRun(move: number, extra: number): void {
    const { moves, entry } = this.segment;
    const from = move === 0 ? entry.position : moves.ends;
    const at = move === 0 ? 0 : move * 3 - 3;
    const line = moves.lines[move];
    let { run } = this;
    if (run === undefined) {
      run = this.beginRun(line, moves.modes[move], move === 0 && this.parts.length === 1);
      include(this.box, from, at);
      this.box[2] = Number.POSITIVE_INFINITY;
      this.noteWayIn(from, at);
    }
    run.lastLine = Math.max(run.lastLine, line);
    run.length += this.clock.length;
    if (run.compensation === 40) run.compensation = this.compensation;
    const { ends } = moves;
    if (extra >= 0 && (moves.kinds[move] & MoveFlag.kindMask) === MoveKind.arc) {
      run.goesSideways = true;
      this.addArc(run, move, extra, from, at);
    } else {
      run.goesSideways ||= ends[move * 3] !== from[at] || ends[move * 3 + 1] !== from[at + 1];
      if (run.helix !== undefined) this.leaveCircle(run.helix, ends[move * 3], ends[move * 3 + 1]);
    }
    include(this.box, ends, move * 3);
    if (run.helix === undefined) this.noteWayIn(ends, move * 3);
  }

  private beginRun(line: number, modes: number, isOpen: boolean): CutRun {
    const run: CutRun = {
      firstLine: line,
      lastLine: line,
      modes,
      length: 0,
      box: NO_BOX,
      compensation: 40,
      goesSideways: false,
      helix: undefined,
      isOpen,
    };
    const { box } = this;
    for (let axis = 0; axis < 3; axis++) {
      box[axis] = Number.POSITIVE_INFINITY;
      box[axis + 3] = Number.NEGATIVE_INFINITY;
    }
    this.wayInCount = 0;
    this.run = run;
    this.runs.push(run);
    return run;
  }

  private noteWayIn(points: Float64Array, at: number): void {
    if (this.wayInCount < MOST_WAY_IN) {
      this.wayIn[2 * this.wayInCount] = points[at];
      this.wayIn[2 * this.wayInCount + 1] = points[at + 1];
    }
    this.wayInCount++;
  }

  private addArc(run: CutRun, move: number, extra: number, from: Float64Array, at: number): void {
    const { extras, ends } = this.segment.moves;
    const x = extras[extra];
    const y = extras[extra + 1];
    const radius = extras[extra + 2];
    const rise = ends[move * 3 + 2] - from[at + 2];
    if (this.plane === 17 && rise < -1e-6) {
      run.helix ??= helixFrom(this.wayIn, this.wayInCount, x, y, radius);
      const { helix } = run;
      helix.isAlone &&= Math.hypot(x - helix.x, y - helix.y) < SAME && Math.abs(radius - helix.radius) < SAME;
      helix.turns += Math.abs(extras[extra + 4]) / (2 * Math.PI);
    }
    if (run.helix !== undefined) this.leaveCircle(run.helix, ends[move * 3], ends[move * 3 + 1]);
    const { arc } = this;
    for (let axis = 0; axis < 3; axis++) arc.from[axis] = from[at + axis];
    arc.plane = this.plane;
    arc.extras = extras;
    arc.at = extra;
    includeOutermost(this.box, arc);
    if (this.plane !== 17 && this.box[2] < this.sums.lowest) this.sums.lowest = this.box[2];
  }

  private leaveCircle(helix: HelixTurns, x: number, y: number): void {
    helix.isInside &&= Math.hypot(x - helix.x, y - helix.y) < helix.radius + SAME;
  }
}

/** A helix that begins in a run: so far the run is its way in. */
function helixFrom(wayIn: Float64Array, count: number, x: number, y: number, radius: number): HelixTurns {
  let isInside = count <= MOST_WAY_IN;
  let isFromInside = false;
  for (let i = 0; i < Math.min(count, MOST_WAY_IN); i++) {
    const distance = Math.hypot(wayIn[2 * i] - x, wayIn[2 * i + 1] - y);
    isInside &&= distance < radius + SAME;
    isFromInside ||= distance < radius - SAME;
  }
  return { x, y, radius, turns: 0, isInside, isFromInside, isAlone: true };
}
