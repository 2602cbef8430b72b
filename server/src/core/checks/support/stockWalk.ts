/**
 * The blank followed through the program by a map of heights: each cut takes off what its cutter may reach, each rapid is
 * looked at against what still stands. What is told stands surely; what may have been taken off is taken as gone. From the
 * first cut on of which that cannot be said (another offset, another program of the file, a turned axis, a block that is
 * not executed) nothing is told any more. Common practice, no source.
 */
import { arcPoint, type PlaneArc } from '../../geometry/arcMeasure.ts';
import { Mode } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { BlankFrame, hidesMoves, TurnedAxes } from './blankFrame.ts';
import { HeightMap, type HighPoint } from './heightMap.ts';
import { arcNumbers, kindOf, startOf } from './pathWalk.ts';
import { type StockShape, stockShape } from './stockShape.ts';
import { flatRadius, radiusOf, sureReach, type ToolShape, toolShape } from './toolShape.ts';

/** Cells of a map: a blank of 100 × 60 mm gets cells of 0.3 mm. */
const CELLS = 65_536;
/** Cells and moves looked at between two chances to do something else: a fraction of a millisecond. */
const PIECE = 4000;
/** Less deep than this is at the face, mm. */
const FACE = 0.1;
/** How far a cutter's outside must reach in by its remark, mm. */
const SIDE = 0.05;
/** Radius that a cutter without a diameter hardly exceeds, mm; a face mill may. */
const USUAL_RADIUS = 25;
/** Ways down are cut into steps of this, and into no more than so many, mm. */
const STEP_DOWN = 0.5;
const MOST_STEPS = 24;
/** An arc of more chords than this is not followed: some hundred turns. */
const MOST_CHORDS = 4096;

/** A rapid through what still stands of the blank. Lengths mm. */
export interface StandingRapid {
  /** Line of the program, from 0, and its modes. */
  readonly line: number;
  readonly modes: number;
  /**
   * `centre`: the tool's middle surely goes through; `outside`: its outside does, by the tool table; `rim`: by the
   * remark; `unsure`: it stands only if a cutter of unknown diameter (`unknownTool`) was no larger than usual.
   */
  readonly part: 'centre' | 'outside' | 'rim' | 'unsure';
  /** Where it is deepest, the rapid's level there, and the level that stands there at least. */
  readonly x: number;
  readonly y: number;
  readonly level: number;
  readonly standing: number;
  readonly tool: ToolShape;
  readonly unknownTool: ToolShape | undefined;
}

/** From the least to the most certain. */
const PARTS: readonly StandingRapid['part'][] = ['unsure', 'rim', 'outside', 'centre'];

const known = new WeakMap<ProgramFacts, readonly StandingRapid[]>();

/** All of them in the order of the run, each line once; gives way now and then. Two rules share one walk. */
export function* standingRapids(facts: ProgramFacts): Generator<undefined, readonly StandingRapid[]> {
  const before = known.get(facts);
  if (before !== undefined) return before;
  const stock = stockShape(facts.configuration);
  if (stock === undefined) return [];
  const walk = new StockWalk(facts, stock);
  for (const { segment, firstLine } of facts.passages()) {
    if (segment.moves.count === 0 && segment.factKinds === 0) continue;
    yield* walk.through(segment, firstLine);
    if (walk.isOver) break;
  }
  const found = [...walk.found.values()];
  known.set(facts, found);
  return found;
}

/** A straight way. */
interface Way {
  readonly from: readonly [number, number, number];
  readonly to: readonly [number, number, number];
}

/** A place where something stands above the cutter. */
interface Place extends HighPoint {
  /** The cutter's level there. */
  readonly at: number;
}

class StockWalk {
  /** By line of the program. */
  readonly found = new Map<number, StandingRapid>();
  /** Nothing is certain from here on. */
  isOver = false;
  private readonly facts: ProgramFacts;
  private readonly stock: StockShape;
  private readonly frame: BlankFrame;
  /** What stands surely, and what stands if cutters of unknown diameter are of a usual size; the same object until one cuts. */
  private readonly sure: HeightMap;
  private usual: HeightMap;
  private unknownTool: ToolShape | undefined;

  constructor(facts: ProgramFacts, stock: StockShape) {
    this.facts = facts;
    this.stock = stock;
    this.frame = new BlankFrame(facts.pool, stock);
    this.sure = new HeightMap(stock.outline, stock.top, CELLS, (x, y, radius) => stock.holds(x, y, -radius));
    this.usual = this.sure;
  }

  /** Follows the moves of a segment. */
  *through(segment: Segment, firstLine: number): Generator<undefined, void> {
    this.isOver ||= hidesMoves(segment, this.facts);
    const { moves } = segment;
    const axes = new TurnedAxes(segment);
    let done = 0;
    for (let move = 0; move < moves.count && !this.isOver; move++) {
      this.take(segment, move, firstLine + moves.lines[move], axes.at(move));
      done++;
      const { sure, usual } = this;
      if (done + sure.work + (usual === sure ? 0 : usual.work) < PIECE) continue;
      done = 0;
      sure.work = 0;
      usual.work = 0;
      yield;
    }
  }

  private take(segment: Segment, move: number, line: number, isTurned: boolean): void {
    const { moves } = segment;
    if ((moves.kinds[move] & MoveFlag.programStart) !== 0) this.isOver = true;
    const kind = kindOf(moves, move);
    if (kind === MoveKind.dwell || kind === MoveKind.renamed || this.isOver) return;
    const isRapid = kind === MoveKind.rapid;
    if (isTurned || !this.frame.holds(moves.modes[move])) {
      this.isOver = !isRapid;
      return;
    }
    const low = Math.min(moves.ends[move * 3 + 2], startOf(segment, move, 2));
    if (low >= this.stock.top && (kind !== MoveKind.arc || this.isFlatArc(moves.modes[move]))) return;
    const tool = toolShape(this.facts.configuration, this.facts.pool, moves.modes[move]);
    if (isRapid) this.takeRapid(segment, move, tool, line);
    else if (kind === MoveKind.arc) this.takeArc(segment, move, tool);
    else this.takeCut(wayOf(segment, move), moves.modes[move], tool);
  }

  private takeRapid(segment: Segment, move: number, tool: ToolShape, line: number): void {
    const way = rapidWayOf(segment, move);
    if (way === undefined) return;
    const modes = segment.moves.modes[move];
    if (this.isCompensated(modes) || way.to[2] > way.from[2]) return;
    const rapid = this.judge(way, tool);
    if (rapid === undefined) return;
    const before = this.found.get(line);
    if (before === undefined || PARTS.indexOf(rapid.part) > PARTS.indexOf(before.part)) {
      this.found.set(line, { line, modes, ...rapid });
    }
    // What it went through is gone, however: told once and not with every rapid behind it.
    this.takeCut(way, modes, tool);
  }

  private isCompensated(modes: number): boolean {
    return this.facts.pool.at(modes, Mode.radiusCompensation) !== 40;
  }

  private isFlatArc(modes: number): boolean {
    return this.facts.pool.at(modes, Mode.plane) === 17;
  }

  private judge(way: Way, tool: ToolShape): Omit<StandingRapid, 'line' | 'modes'> | undefined {
    const { sure, usual, unknownTool } = this;
    const middle = onWay(sure, way);
    if (middle !== undefined) return { part: 'centre', ...asFound(middle), tool, unknownTool };
    const outside = besideWay(sure, way, sureReach(tool));
    if (outside !== undefined) return { part: 'outside', ...asFound(outside), tool, unknownTool };
    const rim = besideWay(sure, way, flatRadius(tool) - SIDE);
    if (rim !== undefined) return { part: 'rim', ...asFound(rim), tool, unknownTool };
    const unsure = usual === sure ? undefined : onWay(usual, way);
    return unsure === undefined ? undefined : { part: 'unsure', ...asFound(unsure), tool, unknownTool };
  }

  /** Takes off what a straight cut reaches. A way down takes off step by step. */
  private takeCut({ from, to }: Way, modes: number, tool: ToolShape, wider = 0, deeper = 0): void {
    const values = from[0] + from[1] + from[2] + to[0] + to[1] + to[2];
    if (Number.isNaN(values)) {
      this.isOver = true;
      return;
    }
    // Under compensation the centre is where the control's register has it.
    const reach = (this.isCompensated(modes) ? 2 : 1) * radiusOf(tool) + wider;
    const isVague = tool.diameter === undefined && tool.kind !== 'face-mill';
    const usualReach = isVague ? USUAL_RADIUS + wider : reach;
    if (isVague && this.usual === this.sure) {
      this.usual = this.sure.copy();
      this.unknownTool = tool;
    }
    const isUpright = from[0] === to[0] && from[1] === to[1];
    const steps = isUpright ? 1 : stepsDown(from[2], to[2]);
    for (let i = 0; i < steps; i++) {
      const [a, b] = [pointOn({ from, to }, i / steps), pointOn({ from, to }, (i + 1) / steps)];
      const level = Math.min(a[2], b[2]) - deeper;
      if (level >= this.stock.top) continue;
      this.sure.takeOff(a[0], a[1], b[0], b[1], reach, level);
      if (this.usual !== this.sure) this.usual.takeOff(a[0], a[1], b[0], b[1], usualReach, level);
    }
  }

  /** An arc by its chords, each as much wider as the arc bulges out of it. */
  private takeArc(segment: Segment, move: number, tool: ToolShape): void {
    const { moves } = segment;
    const { first, second, third } = planeOf(this.facts.pool.at(moves.modes[move], Mode.plane));
    const at = arcNumbers(moves, move);
    const [centreFirst, centreSecond, radius, endRadius, sweep] = moves.extras.subarray(at, at + 5);
    const { from, to } = wayOf(segment, move);
    const startAngle = Math.atan2(from[second] - centreSecond, from[first] - centreFirst);
    const arc: PlaneArc = { centreFirst, centreSecond, radius, endRadius, startAngle, sweep };
    const largest = Math.max(radius, endRadius);
    const bulge = this.sure.cell / 4;
    const step = largest > bulge ? 2 * Math.acos(1 - bulge / largest) : Math.PI / 2;
    const chords = Math.max(1, Math.ceil(Math.abs(sweep) / Math.min(step, Math.PI / 4)));
    if (!(chords <= MOST_CHORDS)) {
      this.isOver = true;
      return;
    }
    const wider = bulge + Math.abs(endRadius - radius) / chords;
    let before = from;
    for (let i = 1; i <= chords; i++) {
      const next: [number, number, number] = [0, 0, 0];
      [next[first], next[second]] = arcPoint(arc, i / chords);
      next[third] = from[third] + ((to[third] - from[third]) * i) / chords;
      this.takeCut({ from: before, to: next }, moves.modes[move], tool, wider, third === 2 ? 0 : wider);
      before = next;
    }
  }
}

const wayOf = (segment: Segment, move: number): Way => {
  const { ends } = segment.moves;
  return {
    from: [startOf(segment, move, 0), startOf(segment, move, 1), startOf(segment, move, 2)],
    to: [ends[move * 3], ends[move * 3 + 1], ends[move * 3 + 2]],
  };
};

/** A rapid's way; of one whose start is not known the end alone, undefined where that is not known either. */
const rapidWayOf = (segment: Segment, move: number): Way | undefined => {
  const { from, to } = wayOf(segment, move);
  if (Number.isNaN(to[0] + to[1] + to[2])) return undefined;
  return Number.isNaN(from[0] + from[1] + from[2]) ? { from: to, to } : { from, to };
};

const pointOn = ({ from, to }: Way, part: number): readonly [number, number, number] =>
  part === 0
    ? from
    : part === 1
      ? to
      : [from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part, from[2] + (to[2] - from[2]) * part];

const stepsDown = (from: number, to: number): number =>
  Math.min(MOST_STEPS, Math.max(1, Math.ceil(Math.abs(to - from) / STEP_DOWN)));

/** Where a tool's middle goes deepest into what stands; undefined where it does not. */
const onWay = (map: HeightMap, way: Way): Place | undefined => {
  const length = Math.hypot(way.to[0] - way.from[0], way.to[1] - way.from[1]);
  const steps = Math.max(1, Math.ceil((2 * length) / map.cell));
  map.work += steps;
  let deepest: Place | undefined;
  for (let i = 0; i <= steps; i++) {
    const [x, y, at] = pointOn(way, i / steps);
    const level = map.levelAt(x, y);
    const depth = level - at;
    if (depth > FACE && !(depth <= (deepest === undefined ? 0 : deepest.level - deepest.at))) {
      deepest = { x, y, at, level };
    }
  }
  return deepest;
};

/** The same for a flat cutter's outside, `radius` around its middle. */
const besideWay = (map: HeightMap, way: Way, radius: number): Place | undefined => {
  if (!(radius > 0)) return undefined;
  const isUpright = way.from[0] === way.to[0] && way.from[1] === way.to[1];
  const steps = isUpright ? 1 : stepsDown(way.from[2], way.to[2]);
  let deepest: Place | undefined;
  for (let i = 0; i < steps; i++) {
    const [a, b] = [pointOn(way, i / steps), pointOn(way, (i + 1) / steps)];
    const at = isUpright ? Math.min(a[2], b[2]) : Math.max(a[2], b[2]);
    const high = map.highestBeside(a[0], a[1], b[0], b[1], radius);
    if (high === undefined || !(high.level - at > FACE)) continue;
    if (deepest === undefined || high.level - at > deepest.level - deepest.at) deepest = { ...high, at };
  }
  return deepest;
};

const asFound = ({ x, y, at, level }: Place): Pick<StandingRapid, 'x' | 'y' | 'level' | 'standing'> => ({
  x,
  y,
  level: at,
  standing: level,
});
