/** The holes of a program as they grow from tool to tool: what went down at each place, and how wide. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { drillPointLength } from '../../reference/threadMeasures.ts';
import type { ToolShape } from './toolShape.ts';

/** Places closer than this are one hole, mm. */
const SAME_HOLE = 0.05;
const CELL = 4 * SAME_HOLE;
/** Whole point angle of a drill that nobody measured, degrees. */
const USUAL_POINT = 118;

/** What one tool left in a hole. Levels are work coordinates, mm. */
export interface Opening {
  readonly tool: ToolShape;
  /** Lowest point. */
  readonly tip: number;
  /** Level down to which it has its diameter; the tip where the diameter is not known. */
  readonly full: number;
  readonly diameter: number | undefined;
  /** `round`: milled along a circle, which may be one round a boss; `mouth`: a spot or a countersink. */
  readonly way: 'straight' | 'round' | 'mouth';
  /** Line of the program, from 0, and set of modes. */
  readonly line: number;
  readonly modes: number;
}

/** A place in the work: X and Y under an offset and with the rotary axes where they stand. */
export interface ShaftPlace {
  readonly x: number;
  readonly y: number;
  readonly offset: number;
  readonly turn: string;
}

/** A place with what was done there, in the order of the run. */
export interface Shaft extends ShaftPlace {
  /** Replaced by an empty one where another program of the file begins. */
  openings: Opening[];
}

/** The places that a program taps. */
export class Shafts {
  private readonly all: Shaft[] = [];
  private readonly cells = new Map<number, Shaft[]>();
  private lowX = Number.POSITIVE_INFINITY;
  private lowY = Number.POSITIVE_INFINITY;
  private highX = Number.NEGATIVE_INFINITY;
  private highY = Number.NEGATIVE_INFINITY;

  /** The hole at a place; made where there is none yet. */
  at(place: ShaftPlace): Shaft {
    const found = this.find(place);
    if (found !== undefined) return found;
    const { x, y, offset, turn } = place;
    const shaft = { x, y, offset, turn, openings: [] };
    this.all.push(shaft);
    if (Number.isNaN(x + y)) return shaft;
    const key = keyOf(Math.floor(x / CELL), Math.floor(y / CELL));
    const cell = this.cells.get(key);
    if (cell === undefined) this.cells.set(key, [shaft]);
    else cell.push(shaft);
    this.lowX = Math.min(this.lowX, x - SAME_HOLE);
    this.lowY = Math.min(this.lowY, y - SAME_HOLE);
    this.highX = Math.max(this.highX, x + SAME_HOLE);
    this.highY = Math.max(this.highY, y + SAME_HOLE);
    return shaft;
  }

  /** The hole at a place, if the program taps there. */
  find(place: ShaftPlace): Shaft | undefined {
    const { x, y } = place;
    if (!(x >= this.lowX && x <= this.highX && y >= this.lowY && y <= this.highY)) return undefined;
    // One cell of an axis, or two near a border.
    const lastColumn = Math.floor((x + SAME_HOLE) / CELL);
    const lastRow = Math.floor((y + SAME_HOLE) / CELL);
    for (let column = Math.floor((x - SAME_HOLE) / CELL); column <= lastColumn; column++) {
      for (let row = Math.floor((y - SAME_HOLE) / CELL); row <= lastRow; row++) {
        const shaft = this.findInCell(column, row, place);
        if (shaft !== undefined) return shaft;
      }
    }
    return undefined;
  }

  /** True if a box, least and greatest X and Y, comes near any of the places. */
  areNear(least: readonly number[], most: readonly number[]): boolean {
    return most[0] >= this.lowX && least[0] <= this.highX && most[1] >= this.lowY && least[1] <= this.highY;
  }

  private findInCell(column: number, row: number, place: ShaftPlace): Shaft | undefined {
    const cell = this.cells.get(keyOf(column, row));
    if (cell === undefined) return undefined;
    for (const shaft of cell) if (isSame(shaft, place)) return shaft;
    return undefined;
  }

  /** Another program of the file begins: nothing is drilled yet. */
  forget(): void {
    for (const shaft of this.all) shaft.openings = [];
  }
}

/** Different cells may have one key: who is found is compared. */
const keyOf = (column: number, row: number): number => Math.imul(column, 73_856_093) ^ Math.imul(row, 19_349_663);

const isSame = (a: Shaft, b: ShaftPlace): boolean =>
  a.offset === b.offset && a.turn === b.turn && Math.hypot(a.x - b.x, a.y - b.y) <= SAME_HOLE;

/** How far above its point a drill that only spots may come from, mm. */
const SPOT_CLEARANCE = 8;

/** Tools that only open the mouth of a hole. */
const MOUTHS: ReadonlySet<ToolShape['kind']> = new Set([
  'spot-drill',
  'centre-drill',
  'countersink',
  'chamfer-mill',
  'engraver',
]);

/** What a tool that went straight down left; undefined for tools that leave no hole. `top` is that of the work. */
export const straightOpening = (
  tool: ToolShape,
  { from, to: tip }: { readonly from: number; readonly to: number },
  top: number,
  place: Pick<Opening, 'line' | 'modes'>,
): Opening | undefined => {
  const { kind, diameter } = tool;
  if (kind === 'tap' || kind === 'thread-mill' || kind === 'probe') return undefined;
  if (MOUTHS.has(kind)) return mouth(tool, tip, top, place);
  const point = pointOf(tool);
  const full = tip + point;
  // A drill that does not get in with its full diameter spots. A long way ends above the zero where that is the table.
  const isShort = from - tip <= point + SPOT_CLEARANCE;
  if (kind === 'drill' && point > 0 && full >= top - 1e-6 && isShort) return mouth(tool, tip, top, place);
  const known = kind === 'boring-bar' ? undefined : diameter;
  return { tool, tip, full, diameter: known, way: 'straight', ...place };
};

const mouth = (tool: ToolShape, tip: number, top: number, place: Pick<Opening, 'line' | 'modes'>): Opening => {
  const angle = tool.pointAngle;
  const wide = angle === undefined ? undefined : 2 * Math.max(0, top - tip) * Math.tan((angle * Math.PI) / 360);
  const diameter = wide === undefined ? undefined : Math.min(wide, tool.diameter ?? wide);
  return { tool, tip, full: top, diameter, way: 'mouth', ...place };
};

/** How much the tip is longer than the full diameter, mm. */
const pointOf = ({ kind, diameter, pointAngle }: ToolShape): number => {
  if (diameter === undefined) return 0;
  if (kind === 'drill') return drillPointLength(diameter, pointAngle ?? USUAL_POINT);
  return kind === 'ball-mill' ? diameter / 2 : 0;
};

/** What a cutter that went round on a circle of `radius` left down to `level`. */
export const roundOpening = (
  tool: ToolShape,
  level: number,
  radius: number,
  place: Pick<Opening, 'line' | 'modes'>,
): Opening | undefined => {
  if (tool.kind === 'thread-mill' || tool.kind === 'tap' || MOUTHS.has(tool.kind)) return undefined;
  const diameter = tool.diameter === undefined ? undefined : 2 * radius + tool.diameter;
  return { tool, tip: level, full: level, diameter, way: 'round', ...place };
};

/** Work offset of a set of modes. */
export const offsetUnder = (pool: ModePool, modes: number): number => pool.at(modes, Mode.offset);
