/**
 * The operations of a tool as a machinist calls them: holes of a cycle, contours beside a compensated cutter, helical
 * bores, tapping; everything else is a cut to a depth. Nothing is called a pocket or a bore that only may be one.
 */
import { tapUnder } from '../checks/support/tapInSpindle.ts';
import { type ToolShape, toolShape } from '../checks/support/toolShape.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { planeOf } from '../machine/planes.ts';
import { gCodeName } from '../reference/codes.ts';
import type { ToolKind } from '../reference/toolRemark.ts';
import { shortNumber } from './hoverPlace.ts';
import type { CutRun } from './operationsDigest.ts';

/** Cuts that belong together: runs beside each other or one above the other, with the same cutter on the same side. */
export interface CutOperation {
  readonly line: number;
  endLine: number;
  readonly modes: number;
  length: number;
  readonly box: number[];
  /** 41 or 42 where the cutter is led beside a contour, else 40. */
  compensation: number;
  /** False for plunges. */
  goesSideways: boolean;
  helix: CutRun['helix'];
  /** How many bores or plunges it is. */
  count: number;
}

/** Holes of one cycle, one behind the other. */
export interface HoleOperation {
  readonly cycle: string;
  readonly modes: number;
  count: number;
  /** Levels of the bottoms, mm. */
  lowest: number;
  highest: number;
}

/** Cutters that make a mark or a bevel: the hole has another diameter than they have. */
const SPOTTING: readonly (ToolKind | undefined)[] = ['spot-drill', 'centre-drill'];
/** Who knows no diameter of the cutter takes cuts this far apart for one operation, mm. */
const USUAL_DIAMETER = 10;
/** A helix of fewer turns is a way in. */
const LEAST_TURNS = 0.99;
const TAPPING = new Set(['G84', 'G74']);
const BORING = new Set(['G76', 'G86', 'G87', 'G88']);

/** Names operations, and says which cuts belong together. Lengths in the program's own units. */
export class Operations {
  private readonly configuration: Configuration;
  private readonly pool: ModePool;

  constructor(configuration: Configuration, pool: ModePool) {
    this.configuration = configuration;
    this.pool = pool;
  }

  /** An operation of one run, which begins at line `firstLine` of the program. */
  begin(run: CutRun, firstLine: number): CutOperation {
    const { modes, length, box, compensation, goesSideways } = run;
    const helix = run.helix && { ...run.helix };
    const [line, endLine] = [firstLine + run.firstLine, firstLine + run.lastLine];
    return { line, endLine, modes, length, box: box.slice(), compensation, goesSideways, helix, count: 1 };
  }

  /** True where a run belongs to an operation before it. */
  belongs(operation: CutOperation, run: CutOperation): boolean {
    if (!this.isSameSetting(operation, run) || operation.compensation !== run.compensation) return false;
    if (operation.goesSideways !== run.goesSideways) return false;
    const [own, other] = [this.boreOf(operation), this.boreOf(run)];
    if (own !== undefined || other !== undefined) return own === other;
    if (!run.goesSideways) return true;
    const apart = this.shapeOf(run.modes).diameter ?? USUAL_DIAMETER;
    const [a, b] = [operation.box, run.box];
    return [0, 1].every((axis) => !(a[axis] - apart > b[axis + 3] || b[axis] - apart > a[axis + 3]));
  }

  /** True for two runs of one tool at one zero. */
  isSameSetting(a: CutOperation, b: CutOperation): boolean {
    return [Mode.offset, Mode.tool].every((field) => this.pool.at(a.modes, field) === this.pool.at(b.modes, field));
  }

  /** Joins the second part of a run, which the end of a segment parted, to the first. */
  goOn(operation: CutOperation, rest: CutOperation): void {
    const [a, b] = [operation.helix, rest.helix];
    if (a !== undefined && b !== undefined) {
      const isAlone = a.isAlone && b.isAlone && Math.hypot(a.x - b.x, a.y - b.y) + Math.abs(a.radius - b.radius) < 0.01;
      operation.helix = { ...a, turns: a.turns + b.turns, isInside: a.isInside && b.isInside, isAlone };
    } else if (a !== undefined || b !== undefined) {
      const isAlone = !(a === undefined ? operation : rest).goesSideways;
      operation.helix = { ...((a ?? b) as NonNullable<typeof a>), isAlone };
    }
    if (operation.compensation === 40) operation.compensation = rest.compensation;
    operation.goesSideways ||= rest.goesSideways;
    this.add(operation, { ...rest, count: 0 });
  }

  /** Takes a run into an operation. */
  add(operation: CutOperation, run: CutOperation): void {
    operation.endLine = Math.max(operation.endLine, run.endLine);
    operation.length += run.length;
    operation.count += run.count;
    for (let axis = 0; axis < 3; axis++) {
      operation.box[axis] = Math.min(operation.box[axis], run.box[axis]);
      operation.box[axis + 3] = Math.max(operation.box[axis + 3], run.box[axis + 3]);
    }
  }

  /** "contour, cutter left of it (G41), to Z-5", "helical bore Ø30 to Z-12", "cut to Z-3, 124 mm". */
  nameOfCut(operation: CutOperation): string {
    const { modes, box, count, compensation, goesSideways } = operation;
    const { kind } = this.shapeOf(modes);
    const depth = this.depth(modes, box[2]);
    if (kind === 'thread-mill' && operation.helix !== undefined) return this.threadMilling(operation, depth);
    const bore = this.boreOf(operation);
    if (bore !== undefined) return `${count > 1 ? `${count} helical bores` : 'helical bore'} ${bore}${depth}`;
    if (compensation === 41) return `contour, cutter left of it (G41)${depth && `,${depth}`}`;
    if (compensation === 42) return `contour, cutter right of it (G42)${depth && `,${depth}`}`;
    if (!goesSideways) return `${count > 1 ? `${count} plunges` : 'plunge'}${depth}`;
    const what = kind === 'face-mill' ? 'facing' : kind === 'engraver' ? 'engraving' : 'cut';
    return `${what}${depth}, ${lengthText(operation.length, this.isInch(modes))}`;
  }

  /** "6 holes Ø5 to Z-12", "tapping M8X1.25, 6 holes"; the cycle's own words are its detail. */
  nameOfHoles(operation: HoleOperation): string {
    const { cycle, modes, count, lowest, highest } = operation;
    const holes = `${count} ${count === 1 ? 'hole' : 'holes'}`;
    if (TAPPING.has(cycle)) return `tapping${this.threadText(modes)}, ${holes}`;
    const third = planeOf(this.pool.at(modes, Mode.plane)).third;
    const level = this.depth(modes, lowest, third);
    const depth =
      highest - lowest > 0.0005
        ? ` ${this.depth(modes, highest, third).replace(' to ', '')} to ${level.slice(4)}`
        : level;
    const { kind, diameter } = this.shapeOf(modes);
    if (SPOTTING.includes(kind)) return `${holes} spotted${depth}`;
    if (kind === 'countersink' || kind === 'chamfer-mill') return `${holes} countersunk${depth}`;
    if (kind === 'boring-bar' || BORING.has(cycle)) return `${holes} bored${depth}`;
    const size = diameter === undefined ? '' : ` Ø${this.length(modes, diameter)}`;
    return `${holes}${kind === 'reamer' ? ' reamed' : ''}${size}${depth}`;
  }

  /** Level of a hole's bottom along the axis of its tool, mm. */
  bottomOf(modes: number, bottom: readonly [number, number, number]): number {
    return bottom[planeOf(this.pool.at(modes, Mode.plane)).third];
  }

  /** "drill in pecks": the first words of the cycle's name. `cycle` is written G83. */
  wordsOfCycle(cycle: string): string {
    return gCodeName(Math.round(Number(cycle.slice(1)) * 10))?.split(/[:,]/)[0] ?? cycle;
  }

  /** A helix that surely is a bore: its diameter as it is written, else undefined. */
  private boreOf({ helix, modes, compensation }: CutOperation): string | undefined {
    if (helix === undefined || !helix.isAlone || !helix.isInside || helix.turns < LEAST_TURNS) return undefined;
    const { kind, diameter } = this.shapeOf(modes);
    if (diameter === undefined || kind === 'thread-mill') return undefined;
    if (compensation !== 40) return undefined;
    // From inside, or too narrow for anything to stand in it: no boss.
    if (!helix.isFromInside && helix.radius > diameter / 2) return undefined;
    return `Ø${this.length(modes, 2 * helix.radius + diameter)}`;
  }

  private threadMilling({ modes, count }: CutOperation, depth: string): string {
    const shape = this.shapeOf(modes);
    const thread = shape.row?.thread === undefined ? '' : ` ${shape.row.thread}`;
    return `thread milling${thread}${depth}${count > 1 ? `, ${count} places` : ''}`;
  }

  private threadText(modes: number): string {
    const thread = tapUnder({ configuration: this.configuration, pool: this.pool }, modes)?.thread;
    if (thread?.series === 'metric') return ` M${shortNumber(thread.diameter, 2)}X${shortNumber(thread.pitch, 3)}`;
    if (thread !== undefined) return ` ${thread.name}`;
    const [feed, speed] = [this.pool.at(modes, Mode.feed), this.pool.at(modes, Mode.speed)];
    const pitch = this.pool.at(modes, Mode.feedMode) === 95 ? feed : feed / speed;
    return pitch > 0 && Number.isFinite(pitch) && speed > 0 ? `, pitch ${this.length(modes, pitch)}` : '';
  }

  private shapeOf(modes: number): ToolShape {
    return toolShape(this.configuration, this.pool, modes);
  }

  private isInch(modes: number): boolean {
    return this.pool.at(modes, Mode.units) === 20;
  }

  /** " to Z-12"; nothing where the level is not known. */
  private depth(modes: number, millimetres: number, axis = 2): string {
    return Number.isFinite(millimetres) ? ` to ${'XYZ'[axis]}${this.length(modes, millimetres)}` : '';
  }

  private length(modes: number, millimetres: number): string {
    return this.isInch(modes) ? shortNumber(millimetres / 25.4, 4) : shortNumber(millimetres, 3);
  }
}

/** "124 mm", "12.4 m", "48.8 in": as exact as somebody wants to know it. */
export function lengthText(millimetres: number, isInch: boolean): string {
  if (isInch) return `${rounded(millimetres / 25.4)} in`;
  if (millimetres < 1000) return `${rounded(millimetres)} mm`;
  const metres = millimetres / 1000;
  return `${shortNumber(metres, metres < 10 ? 2 : metres < 100 ? 1 : 0)} m`;
}

const rounded = (value: number): string => shortNumber(value, value < 10 ? 1 : 0);
