/**
 * The path of a program move by move, with lengths, nominal times and extents, for the command line and for words about
 * a block. Lengths mm, feeds mm/min, speeds rev/min, times s, angles degrees, whatever the program's own units. Positions
 * are work coordinates; NaN is a coordinate that is not known and adds nothing to a length.
 */
import type { PlaneArc } from '../geometry/arcMeasure.ts';
import { machinePositionOf, offsetName } from '../machine/machinePosition.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../machine/moves.ts';
import { type Plane, planeOf } from '../machine/planes.ts';
import { type ClockOptions, isCut, PathClock } from './pathClock.ts';

/** X, Y and Z. */
export type Point = readonly [number, number, number];

/** What only an arc has. */
export interface TracedArc {
  /** Centre in X Y Z; along the plane's normal it lies at the start's height. */
  readonly centre: Point;
  readonly radius: number;
  readonly endRadius: number;
  /** Degrees, counter-clockwise positive; ±360 is a full turn, ±360·n a helix of n turns. */
  readonly sweep: number;
  readonly clockwise: boolean;
}

/** One move. */
export interface TracedMove {
  /** Line that caused it, counted from 0. */
  readonly line: number;
  readonly kind: 'rapid' | 'line' | 'arc' | 'dwell';
  readonly from: Point;
  readonly to: Point;
  /** The work offset in force, such as G54 or G54.1 P3. */
  readonly offset: string;
  readonly plane: Plane['name'];
  readonly arc?: TracedArc;
  /** mm/min along the path; NaN where it is not known or does not apply (rapids, dwells). */
  readonly feed: number;
  /** S in force; NaN where none was given or it is a cutting speed (G96). */
  readonly speed: number;
  /** Tool in the spindle; NaN where it is not known. */
  readonly tool: number;
  /** Machine positions of both ends, where they were asked for; NaN where zero, tool length or place are not known. */
  readonly fromMachine?: Point;
  readonly toMachine?: Point;
  readonly length: number;
  /** Nominal time; NaN where the feed is not known. */
  readonly seconds: number;
}

/** What a trace needs of a program that was executed. */
export interface TraceSource {
  readonly modePool: Pick<ModePool, 'at' | 'string'>;
  /** Segments in the order of the run, with the line of the program that each counts its lines from. */
  passages(): Iterable<{ readonly segment: TraceSegment; readonly firstLine: number }>;
}

interface TraceSegment {
  readonly entry: { readonly position: Float64Array; readonly openMoves: Float64Array };
  readonly moves: MoveTable;
  /** 1 for the first pass through its lines. */
  readonly pass: number;
  readonly blockCount: number;
}

/** Which moves, and how they are timed. */
export interface TraceOptions extends ClockOptions {
  /** Only moves of the lines from here, and up to here (inclusive), counted from 0; then of any program in the file. */
  readonly firstLine?: number;
  readonly lastLine?: number;
  /** Only the first pass through lines that a loop or a call comes through several times. */
  readonly firstPassOnly?: boolean;
  /** Also the machine positions. */
  readonly withMachine?: boolean;
}

const DEGREES = 180 / Math.PI;

/**
 * All moves of the file's first program in the order of the run. Moves of no length are left out; dwells stay, and so does a move from or to a place
 * that is not known.
 */
export function* tracedMoves(source: TraceSource, options: TraceOptions = {}): Generator<TracedMove> {
  const { firstLine = 0, lastLine = Number.POSITIVE_INFINITY } = options;
  const walk: Walk = { clock: new PathClock(source.modePool, options), position: UNKNOWN };
  for (const { segment, firstLine: start } of source.passages()) {
    if (options.firstPassOnly && segment.pass > 1) continue;
    const isFirstPass = segment.pass === 1;
    if (isFirstPass && start > lastLine && segment.entry.openMoves.length === 0) continue;
    if (isFirstPass && start + segment.blockCount <= firstLine) continue;
    const isLast = yield* segmentMoves(source, segment, start, options, walk);
    if (isLast) return;
  }
}

const UNKNOWN: Point = [Number.NaN, Number.NaN, Number.NaN];

/** What goes along from move to move: the clock, and where the machine stands. */
interface Walk {
  readonly clock: PathClock;
  position: Point;
}

/** The moves of a segment; returns true where the next program of the file begins in it. */
function* segmentMoves(
  source: TraceSource,
  segment: TraceSegment,
  firstLine: number,
  options: TraceOptions,
  walk: Walk,
): Generator<TracedMove, boolean> {
  const { firstLine: wantedFrom = 0, lastLine: wantedTo = Number.POSITIVE_INFINITY } = options;
  const { moves, entry } = segment;
  let from: Point = [entry.position[0], entry.position[1], entry.position[2]];
  let extra = 0;
  for (let i = 0; i < moves.count; i++) {
    if (options.firstLine === undefined && (moves.kinds[i] & MoveFlag.programStart) !== 0) return true;
    const line = firstLine + moves.lines[i];
    const to: Point = [moves.ends[i * 3], moves.ends[i * 3 + 1], moves.ends[i * 3 + 2]];
    const hasExtra = extra < moves.extraCount && moves.extraMoves[extra] === i;
    const at = hasExtra ? extra++ * EXTRA_WIDTH : -1;
    const isWanted = line >= wantedFrom && line <= wantedTo;
    const move = isWanted ? tracedMove(source, walk.clock, moves, i, at, from, to, line) : undefined;
    from = to;
    const ends = options.withMachine ? machineEnds(source, moves.modes[i], to, walk) : undefined;
    if (move !== undefined && isKept(move)) yield ends === undefined ? move : { ...move, ...ends };
  }
  return false;
}

/** A move begins where the machine stands; its end follows from the zero and the tool length that hold for it. */
function machineEnds(
  source: TraceSource,
  modes: number,
  to: Point,
  walk: Walk,
): { readonly fromMachine: Point; readonly toMachine: Point } {
  const [x, y, z] = machinePositionOf((field) => source.modePool.at(modes, field), to);
  const ends = { fromMachine: walk.position, toMachine: [x, y, z] as const };
  walk.position = ends.toMachine;
  return ends;
}

const isKept = ({ kind, length, from, to }: TracedMove): boolean =>
  length > 0 || kind === 'dwell' || from.some((value, axis) => Number.isNaN(value) !== Number.isNaN(to[axis]));

/** A move with its numbers; `extra` is the place of its extra ones, −1 none. Undefined where nothing moves or waits. */
export function tracedMove(
  source: Pick<TraceSource, 'modePool'>,
  clock: PathClock,
  moves: MoveTable,
  index: number,
  extra: number,
  from: Point,
  to: Point,
  line: number,
): TracedMove | undefined {
  const kind = kindName(moves.kinds[index] & MoveFlag.kindMask);
  if (kind === undefined) return undefined;
  const modes = moves.modes[index];
  const at = (field: number) => source.modePool.at(modes, field);
  const plane = planeOf(at(Mode.plane));
  const arc = kind === 'arc' ? arcOf(moves.extras, extra, plane, from) : undefined;
  clock.measure(moves, index, extra, from);
  return {
    line,
    kind,
    from,
    to,
    offset: offsetName(at(Mode.offset)),
    plane: plane.name,
    ...(arc === undefined ? {} : { arc }),
    feed: isCut(moves.kinds[index]) ? clock.feed : Number.NaN,
    speed: clock.speed(modes),
    tool: at(Mode.tool) < 0 ? Number.NaN : at(Mode.tool),
    length: clock.length,
    seconds: clock.seconds,
  };
}

function kindName(kind: number): TracedMove['kind'] | undefined {
  if (kind === MoveKind.rapid) return 'rapid';
  if (kind === MoveKind.line) return 'line';
  if (kind === MoveKind.arc) return 'arc';
  return kind === MoveKind.dwell ? 'dwell' : undefined;
}

function arcOf(extras: Float64Array, at: number, plane: Plane, from: Point): TracedArc {
  const centre: [number, number, number] = [from[0], from[1], from[2]];
  centre[plane.first] = at < 0 ? Number.NaN : extras[at];
  centre[plane.second] = at < 0 ? Number.NaN : extras[at + 1];
  const sweep = extras[at + 4];
  return { centre, radius: extras[at + 2], endRadius: extras[at + 3], sweep: sweep * DEGREES, clockwise: sweep < 0 };
}

const PLANE_CODES: Readonly<Record<Plane['name'], number>> = { XY: 17, ZX: 18, YZ: 19 };

/** An arc in its own plane, for measuring and drawing. */
export function inItsPlane(move: TracedMove, arc: TracedArc): { plane: Plane; arc: PlaneArc } {
  const plane = planeOf(PLANE_CODES[move.plane]);
  const centreFirst = arc.centre[plane.first];
  const centreSecond = arc.centre[plane.second];
  const startAngle = Math.atan2(move.from[plane.second] - centreSecond, move.from[plane.first] - centreFirst);
  const { radius, endRadius } = arc;
  return { plane, arc: { centreFirst, centreSecond, radius, endRadius, startAngle, sweep: arc.sweep / DEGREES } };
}
