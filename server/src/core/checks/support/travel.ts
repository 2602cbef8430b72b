/** Where the path leaves the travel of the machine: runs of moves beyond a limit of an axis, arcs by their true extents. */
import { arcExtents } from '../../geometry/arcMeasure.ts';
import type { Configuration } from '../../machine/configuration.ts';
import { AXIS_COUNT } from '../../machine/letters.ts';
import { AXES, type ModesAt, machineCoordinate } from '../../machine/machinePosition.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { arcNumbers, kindOf, perSegment, startOf } from './pathWalk.ts';
import { segmentSpan } from './segmentSpan.ts';

/** Beyond by less than this is on the limit, mm or degrees. */
const ON_LIMIT = 1e-4;

/** A run of moves beyond a limit. Machine coordinates, mm or degrees. */
export interface Excess {
  /** Line of the run's first move (of the program, from 0) and the modes there. */
  readonly line: number;
  readonly modes: number;
  /** Place among X Y Z A B C U V W. */
  readonly axis: number;
  readonly limit: number;
  /** The furthest machine coordinate of the run. */
  readonly furthest: number;
}

/** A limit of an axis: `sign` is 1 for the largest coordinate, −1 for the smallest. */
interface Limit {
  readonly axis: number;
  readonly sign: 1 | -1;
  readonly limit: number;
}

interface OwnRun {
  readonly limit: Limit;
  readonly line: number;
  readonly modes: number;
  furthest: number;
  /** Whether the run holds the segment's first (last) moves of its axis, so that it may go on before (behind). */
  readonly atHead: boolean;
  atTail: boolean;
}

interface SegmentTravel {
  readonly runs: readonly OwnRun[];
  /** Limits whose axis was inside at some move of the segment. */
  readonly inside: readonly Limit[];
}

const limitTables = new WeakMap<Configuration, readonly Limit[]>();

/** The limits that the shop's file gives. */
export const limitsOf = (configuration: Configuration): readonly Limit[] => {
  const known = limitTables.get(configuration);
  if (known !== undefined) return known;
  const limits: Limit[] = [];
  AXES.forEach((letter, axis) => {
    const { min, max } = configuration.machine?.axes[letter] ?? {};
    if (min !== undefined) limits.push({ axis, sign: -1, limit: min });
    if (max !== undefined) limits.push({ axis, sign: 1, limit: max });
  });
  limitTables.set(configuration, limits);
  return limits;
};

/** All runs beyond a limit, in the order of the run. A run goes on over the borders of segments. */
export const travelExcesses = (facts: ProgramFacts): readonly Excess[] => {
  const found: { -readonly [K in keyof Excess]: Excess[K] }[] = [];
  const open = new Map<string, (typeof found)[number]>();
  for (const { segment, firstLine } of facts.passages()) {
    const { runs, inside } = travelOf(segment, facts);
    if (runs.length === 0 && open.size === 0) continue;
    const closed = new Set<string>();
    for (const run of runs) {
      const key = keyOf(run.limit);
      const before = run.atHead && !closed.has(key) ? open.get(key) : undefined;
      if (before !== undefined) {
        if (run.limit.sign * (run.furthest - before.furthest) > 0) before.furthest = run.furthest;
      } else {
        const { axis, limit } = run.limit;
        const excess = { line: firstLine + run.line, modes: run.modes, axis, limit, furthest: run.furthest };
        found.push(excess);
        open.set(key, excess);
      }
      if (!run.atTail) {
        open.delete(key);
        closed.add(key);
      }
    }
    for (const limit of inside) {
      const key = keyOf(limit);
      if (!runs.some((run) => run.atTail && keyOf(run.limit) === key)) open.delete(key);
    }
  }
  return found;
};

const keyOf = ({ axis, sign }: Limit): string => `${axis} ${sign}`;

/** Gathers the runs of one segment. Limits go by their place in the list: this is asked for every move. */
class RunKeeper {
  readonly runs: OwnRun[] = [];
  private readonly limits: readonly Limit[];
  private readonly wasInside: boolean[];
  private readonly current: (OwnRun | undefined)[];

  constructor(limits: readonly Limit[]) {
    this.limits = limits;
    this.wasInside = limits.map(() => false);
    this.current = limits.map(() => undefined);
  }

  get inside(): readonly Limit[] {
    return this.limits.filter((_, place) => this.wasInside[place]);
  }

  /** Takes the machine coordinate that a move comes to on a limit's axis. */
  take(place: number, machine: number, line: number, modes: number): void {
    const limit = this.limits[place];
    const run = this.current[place];
    if (limit.sign * (machine - limit.limit) <= ON_LIMIT) {
      this.wasInside[place] = true;
      if (run === undefined) return;
      run.atTail = false;
      this.current[place] = undefined;
    } else if (run === undefined) {
      const begun = { limit, line, modes, furthest: machine, atHead: !this.wasInside[place], atTail: true };
      this.runs.push(begun);
      this.current[place] = begun;
    } else if (limit.sign * (machine - run.furthest) > 0) run.furthest = machine;
  }
}

const travelOf = perSegment((segment: Segment, facts: ProgramFacts): SegmentTravel => {
  const { configuration, pool } = facts;
  const limits = limitsOf(configuration);
  const inside = allInside(segment, limits, facts);
  if (inside !== undefined) return inside === limits ? insideAll(limits) : { runs: NO_RUNS, inside };
  const keeper = new RunKeeper(limits);
  const { moves } = segment;
  /** From work to machine coordinates, by limit. */
  const shifts = new Float64Array(limits.length);
  let modes = -1;
  let other = 0;
  for (let move = 0; move < moves.count; move++) {
    const othersAt = moves.otherMoves[other] === move ? other++ * (AXIS_COUNT - 3) : -1;
    const kind = kindOf(moves, move);
    if (kind === MoveKind.dwell || kind === MoveKind.renamed) continue;
    if (moves.modes[move] !== modes) {
      modes = moves.modes[move];
      fillShifts(shifts, limits, (field) => pool.at(modes, field));
    }
    for (let i = 0; i < limits.length; i++) {
      const { axis } = limits[i];
      if (axis >= 3 && othersAt < 0) continue;
      const work =
        axis >= 3 ? moves.others[othersAt + axis - 3] : furthestOf(segment, move, kind, limits[i], shifts[i], pool);
      const machine = work + shifts[i];
      if (!Number.isNaN(machine)) keeper.take(i, machine, moves.lines[move], modes);
    }
  }
  return { runs: keeper.runs, inside: keeper.inside };
});

const NO_RUNS: readonly OwnRun[] = [];
const allInsideOf = new WeakMap<readonly Limit[], SegmentTravel>();

/** What most segments do: one object for all of them. */
const insideAll = (limits: readonly Limit[]): SegmentTravel => {
  const known = allInsideOf.get(limits);
  if (known !== undefined) return known;
  const travel = { runs: NO_RUNS, inside: limits };
  allInsideOf.set(limits, travel);
  return travel;
};

/** The limits that a segment's moves stay within, where its box tells that they stay within all of them: `limits` itself if it is each. */
const allInside = (segment: Segment, limits: readonly Limit[], facts: ProgramFacts): readonly Limit[] | undefined => {
  const span = segmentSpan(segment, facts);
  if (span === undefined || segment.moves.otherMoves.length > 0) return undefined;
  const at: ModesAt = (field) => facts.pool.at(span.modes, field);
  let unmoved: Limit[] | undefined;
  for (const limit of limits) {
    const { axis, sign } = limit;
    const shift = axis >= 3 ? Number.NaN : machineCoordinate(at, axis, 0);
    // An axis beside X Y Z does not move, and an unknown place is beyond nothing.
    if (Number.isNaN(shift) || span.least[axis] > span.most[axis]) {
      unmoved ??= [];
      unmoved.push(limit);
      continue;
    }
    const furthest = sign > 0 ? span.most[axis] : span.least[axis];
    if (!(sign * (furthest + shift - limit.limit) <= 0)) return undefined;
  }
  return unmoved === undefined ? limits : limits.filter((limit) => !unmoved.includes(limit));
};

const fillShifts = (shifts: Float64Array, limits: readonly Limit[], at: ModesAt): void => {
  for (let i = 0; i < limits.length; i++) shifts[i] = machineCoordinate(at, limits[i].axis, 0);
};

/**
 * The furthest work coordinate of a move towards a limit: its end, and of an arc the place where it turns; of an arc whose
 * whole circle stays inside, the circle's. `shift` leads from work to machine coordinates.
 */
const furthestOf = (
  segment: Segment,
  move: number,
  kind: number,
  { axis, sign, limit }: Limit,
  shift: number,
  pool: ModePool,
): number => {
  const { moves } = segment;
  const end = moves.ends[move * 3 + axis];
  if (kind !== MoveKind.arc) return end;
  const { first, second } = planeOf(pool.at(moves.modes[move], Mode.plane));
  if (axis !== first && axis !== second) return end;
  const at = arcNumbers(moves, move);
  const [centreFirst, centreSecond, radius, endRadius, sweep] = moves.extras.subarray(at, at + 5);
  const circle = (axis === first ? centreFirst : centreSecond) + sign * Math.max(radius, endRadius);
  if (sign * (circle + shift - limit) <= 0) return circle;
  const startAngle = Math.atan2(
    startOf(segment, move, second) - centreSecond,
    startOf(segment, move, first) - centreFirst,
  );
  const box = arcExtents({ centreFirst, centreSecond, radius, endRadius, startAngle, sweep });
  if (axis === first) return sign > 0 ? box.maxFirst : box.minFirst;
  return sign > 0 ? box.maxSecond : box.minSecond;
};
