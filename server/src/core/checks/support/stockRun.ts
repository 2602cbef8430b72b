/**
 * What a stretch of the program does in the blank: where it cut, how deep each cutter went, and rapids below the blank's
 * top. Nothing is taken off here: what was cut is a box in the plan view that holds every cut so far with the cutter's own
 * radius, so that what lies outside it was surely not reached. Common practice, no source.
 */
import { Mode } from '../../machine/modes.ts';
import { MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { hidesMoves, TurnedAxes } from './blankFrame.ts';
import { perSegment, startOf } from './pathWalk.ts';
import { emptyBox, holdsWay, type PlanBox, type Share, takeBox, takeMove, takePoint } from './planBox.ts';
import { type StockShape, stockShape } from './stockShape.ts';
import { radiusOf, type ToolShape, toolShape } from './toolShape.ts';

/** Below the top or inside the blank by less than this is at its face, mm. */
const FACE = 0.01;

/** A rapid below the top of the blank, outside the box of what its segment cut before. */
export interface LowRapid {
  readonly move: number;
  /** What the segment cut before it. */
  readonly before: PlanBox;
}

/** The lowest end of a cutter's way in the blank. */
export interface Deepest {
  readonly move: number;
  readonly level: number;
  readonly tool: ToolShape;
}

/** A stretch as the rules about the blank see it. */
export interface StockRun {
  readonly cut: PlanBox;
  readonly rapids: readonly LowRapid[];
  /** By number of the tool and its remark: lowest cut over the blank (`cuts`), lowest end of any move over it (`moves`). */
  readonly cuts: ReadonlyMap<ToolShape, Deepest>;
  readonly moves: ReadonlyMap<ToolShape, Deepest>;
}

const EVERYWHERE: PlanBox = { minX: -Infinity, minY: -Infinity, maxX: Infinity, maxY: Infinity };

interface GatheredRun extends StockRun {
  readonly rapids: LowRapid[];
  readonly cuts: Map<ToolShape, Deepest>;
  readonly moves: Map<ToolShape, Deepest>;
}

/** Looks through a segment; without a blank nothing is found. */
export const stockRun = perSegment((segment: Segment, facts: ProgramFacts): StockRun => {
  const run: GatheredRun = { cut: emptyBox(), rapids: [], cuts: new Map(), moves: new Map() };
  const stock = stockShape(facts.configuration);
  if (stock === undefined) return run;
  const { kinds, modes, count } = segment.moves;
  if (hidesMoves(segment, facts)) takeBox(run.cut, EVERYWHERE);
  const axes = new TurnedAxes(segment);
  const reader = new StockReader(segment, stock, facts, run);
  for (let move = 0; move < count; move++) {
    // Whether the next program of the file begins with the same blank nobody knows.
    if ((kinds[move] & MoveFlag.programStart) !== 0) takeBox(run.cut, EVERYWHERE);
    const kind = kinds[move] & MoveFlag.kindMask;
    const isTurned = axes.at(move);
    if (kind === MoveKind.dwell || kind === MoveKind.renamed) continue;
    reader.follow(modes[move]);
    // Turned, the blank has another top and another bottom.
    if (!isTurned && reader.isInOwnOffset) reader.take(move, kind);
    else if (kind !== MoveKind.rapid) takeBox(run.cut, EVERYWHERE); // Where another offset lies on it nobody knows.
  }
  return run;
});

const own = emptyBox();

/** Takes the moves of a segment one by one. What the modes say is looked up again where the slow ones change only. */
class StockReader {
  isInOwnOffset = false;
  private readonly segment: Segment;
  private readonly stock: StockShape;
  private readonly facts: ProgramFacts;
  private readonly run: GatheredRun;
  private modes = -1;
  private setup = -1;
  private tool: ToolShape | undefined;
  private radius = 0;
  private deepestCut = Infinity;
  private deepest = Infinity;

  constructor(segment: Segment, stock: StockShape, facts: ProgramFacts, run: GatheredRun) {
    this.segment = segment;
    this.stock = stock;
    this.facts = facts;
    this.run = run;
  }

  /** Goes on under a set of modes. */
  follow(modes: number): void {
    if (modes === this.modes) return;
    this.modes = modes;
    const { pool, configuration } = this.facts;
    const setup = pool.at(modes, Mode.setup);
    if (setup === this.setup) return;
    this.setup = setup;
    this.isInOwnOffset = pool.at(modes, Mode.offset) === this.stock.offset;
    const tool = toolShape(configuration, pool, modes);
    this.tool = tool;
    this.radius = radiusOf(tool);
    this.deepestCut = this.run.cuts.get(tool)?.level ?? Infinity;
    this.deepest = this.run.moves.get(tool)?.level ?? Infinity;
  }

  /** Takes a move in the blank's own offset, if it comes below the top. */
  take(move: number, kind: number): void {
    const { segment, run } = this;
    const end = segment.moves.ends[move * 3 + 2];
    const start = startOf(segment, move, 2);
    const below = this.stock.top - FACE;
    if (!(end < below || start < below) || Number.isNaN(end)) return;
    if (kind === MoveKind.rapid) {
      // Up and out is no way in.
      if (!(end > start) && !holdsWay(run.cut, segment, move)) run.rapids.push({ move, before: { ...run.cut } });
    } else this.cut(move, kind);
    this.noteDepth(move, end, kind !== MoveKind.rapid);
  }

  private cut(move: number, kind: number): void {
    const { segment, run, radius } = this;
    const { ends } = segment.moves;
    const endX = ends[move * 3];
    const endY = ends[move * 3 + 1];
    const x = startOf(segment, move, 0);
    const y = startOf(segment, move, 1);
    if (Number.isNaN(x + y + endX + endY)) takeBox(run.cut, EVERYWHERE, radius);
    else if (kind === MoveKind.line) {
      takePoint(run.cut, Math.min(x, endX) - radius, Math.min(y, endY) - radius);
      takePoint(run.cut, Math.max(x, endX) + radius, Math.max(y, endY) + radius);
    } else {
      resetBox(own);
      takeMove(own, segment, move, this.facts.pool);
      takeBox(run.cut, own, radius);
    }
  }

  private noteDepth(move: number, level: number, isCut: boolean): void {
    const { segment, stock, run, tool } = this;
    if (tool === undefined || !(level < this.deepest || (isCut && level < this.deepestCut))) return;
    const margin = tool.diameter === undefined ? 0 : tool.diameter / 2;
    if (isCut && level < this.deepestCut && isOver(segment, move, stock, margin)) {
      run.cuts.set(tool, { move, level, tool });
      this.deepestCut = level;
    }
    if (level < this.deepest && isOver(segment, move, stock, 0)) {
      run.moves.set(tool, { move, level, tool });
      this.deepest = level;
    }
  }
}

const resetBox = (box: PlanBox): void => {
  box.minX = Infinity;
  box.minY = Infinity;
  box.maxX = -Infinity;
  box.maxY = -Infinity;
};

/** True if the way of a move (its chord, for arcs) comes over the blank widened by `margin`. */
const isOver = (segment: Segment, move: number, stock: StockShape, margin: number): boolean => {
  const { from, to } = wayOver(segment.moves, segment, move, stock, margin);
  return from <= to;
};

/** The share of a move's way over the blank; of one with an unknown start its end alone. */
const wayOver = (moves: MoveTable, segment: Segment, move: number, stock: StockShape, margin: number): Share => {
  const endX = moves.ends[move * 3];
  const endY = moves.ends[move * 3 + 1];
  const x = startOf(segment, move, 0);
  const y = startOf(segment, move, 1);
  const z = startOf(segment, move, 2);
  if (Number.isNaN(endX) || Number.isNaN(endY)) return { from: 0, to: -1 };
  if (Number.isNaN(x) || Number.isNaN(y) || Number.isNaN(z)) return stock.share(endX, endY, 0, 0, margin);
  return stock.share(x, y, endX - x, endY - y, margin);
};

/** A rapid's straight way as far as it is known: a point where its start is not. */
export interface RapidWay {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
  readonly length: number;
  /** The share of it that lies below the top, and in the blank (seen from above, widened). */
  readonly low: Share;
}

/** The way of a low rapid, and what of it lies in the blank widened by `margin` below its top; undefined where its end is unknown. */
export const rapidWay = (segment: Segment, move: number, stock: StockShape, margin: number): RapidWay | undefined => {
  const { ends } = segment.moves;
  const [endX, endY, endZ] = [ends[move * 3], ends[move * 3 + 1], ends[move * 3 + 2]];
  const [startX, startY, startZ] = [startOf(segment, move, 0), startOf(segment, move, 1), startOf(segment, move, 2)];
  if (Number.isNaN(endX) || Number.isNaN(endY) || Number.isNaN(endZ)) return undefined;
  const isWhole = !(Number.isNaN(startX) || Number.isNaN(startY) || Number.isNaN(startZ));
  const x = isWhole ? startX : endX;
  const y = isWhole ? startY : endY;
  const [dx, dy] = [endX - x, endY - y];
  const plan = stock.share(x, y, dx, dy, margin);
  const low = isWhole ? shareBelow(startZ, endZ, stock.top - FACE) : { from: 0, to: endZ < stock.top - FACE ? 1 : -1 };
  const share = { from: Math.max(plan.from, low.from), to: Math.min(plan.to, low.to) };
  return { x, y, dx, dy, length: Math.hypot(dx, dy), low: share };
};

/** The share of a way from one level to another that lies below a third. */
const shareBelow = (start: number, end: number, level: number): Share => {
  if (start < level && end < level) return { from: 0, to: 1 };
  if (start >= level && end >= level) return { from: 0, to: -1 };
  const at = (level - start) / (end - start);
  return start < level ? { from: 0, to: at } : { from: at, to: 1 };
};
