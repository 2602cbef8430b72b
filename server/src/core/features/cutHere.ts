/**
 * Which blocks cut at a place of the part: those whose tool passes over it. The cutter reaches as far as its radius; of a
 * tool whose diameter nobody told only the path itself counts. Lengths mm, lines from 0.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Segment } from '../checks/segment.ts';
import { toolShape } from '../checks/support/toolShape.ts';
import type { Configuration } from '../machine/configuration.ts';
import { offsetName } from '../machine/machinePosition.ts';
import { Mode } from '../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind } from '../machine/moves.ts';
import { type CutPoint, type Nearness, nearArc, nearLine } from './cutHerePoint.ts';
import { shortNumber } from './hoverPlace.ts';

/** A block that cut at the place, in words for a list. */
export interface CuttingBlock {
  readonly line: number;
  /** `Line 12: G1 X30.` */
  readonly label: string;
  /** `T1 END MILL D10, tip at Z-3` */
  readonly detail: string;
  /** Distance of the place from the tool's path as seen from above, and the lowest Z of the tip there. */
  readonly distance: number;
  readonly z: number;
}

/** Nearest first, of the same distance the last of the run; `more` were found that are not listed. */
export interface CuttingBlocks {
  readonly blocks: readonly CuttingBlock[];
  readonly more: number;
}

/** A path closer than this goes through the place. */
const ON_PATH = 0.01;
/** Distances that differ by no more are the same. */
const SAME = 1e-9;
const MOST_BLOCKS = 200;
/** Segments looked at without a pause. */
const BATCH = 16;

interface Found extends Nearness {
  readonly line: number;
  modes: number;
  /** Z of the tip in the pass that came least deep; `z` is the deepest. */
  highest: number;
  /** Place in the run of the last move that counts. */
  order: number;
}

/** Looks through the whole run in steps, for long programs: pauses now and then. The analysis must be up to date. */
export function* blocksThatCut(
  analysis: Analysis,
  configuration: Configuration,
  point: CutPoint,
): Generator<undefined, CuttingBlocks> {
  const search = new Search(analysis, configuration, point);
  let passed = 0;
  for (const { segment, firstLine } of analysis.passages()) {
    search.look(segment, firstLine);
    if (++passed % BATCH === 0) yield undefined;
  }
  const all = search.inOrder();
  return {
    blocks: all.slice(0, MOST_BLOCKS).map((found) => search.told(found)),
    more: Math.max(0, all.length - MOST_BLOCKS),
  };
}

class Search {
  private readonly analysis: Analysis;
  private readonly configuration: Configuration;
  private readonly point: CutPoint;
  private readonly found = new Map<number, Found>();
  private readonly offsets = new Set<number>();
  /** Reach of the cutter by set of modes. */
  private readonly reaches: (number | undefined)[] = [];
  private readonly near: Nearness = { distance: 0, z: 0 };
  private order = 0;

  constructor(analysis: Analysis, configuration: Configuration, point: CutPoint) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.point = point;
  }

  look({ moves, entry }: Segment, firstLine: number): void {
    const { ends, kinds, lines } = moves;
    const { x, y } = this.point;
    let row = 0;
    for (let move = 0; move < moves.count; move++) {
      const extra = row < moves.extraCount && moves.extraMoves[row] === move ? row++ * EXTRA_WIDTH : -1;
      const kind = kinds[move] & MoveFlag.kindMask;
      if (!this.counts(kind)) continue;
      const reach = this.reachOf(moves.modes[move]);
      const [from, at] = move === 0 ? [entry.position, 0] : [ends, move * 3 - 3];
      const isArc = kind === MoveKind.arc && extra >= 0;
      // An arc stays within its diameter of where it starts.
      const wide = isArc ? reach + 2 * Math.max(moves.extras[extra + 2], moves.extras[extra + 3]) : reach;
      const [fromX, fromY, toX, toY] = [from[at], from[at + 1], ends[move * 3], ends[move * 3 + 1]];
      if ((fromX < x - wide && toX < x - wide) || (fromX > x + wide && toX > x + wide)) continue;
      if ((fromY < y - wide && toY < y - wide) || (fromY > y + wide && toY > y + wide)) continue;
      const start = [known(fromX), known(fromY), known(from[at + 2])];
      const end = [known(toX), known(toY), known(ends[move * 3 + 2])];
      if (isArc) {
        const plane = this.analysis.modePool.at(moves.modes[move], Mode.plane);
        nearArc(this.point, plane, moves, extra, start, end, this.near);
      } else nearLine(this.point, start, end, this.near);
      if (this.near.distance <= reach && this.isAtDepth(reach)) this.take(firstLine + lines[move], moves.modes[move]);
    }
  }

  /** Rapids count only where the depth is given: above the part they cut nothing. */
  private counts(kind: number): boolean {
    return kind === MoveKind.line || kind === MoveKind.arc || (kind === MoveKind.rapid && this.point.z !== undefined);
  }

  /** What lies above the tip is within the cutter; a path alone must go through the place. */
  private isAtDepth(reach: number): boolean {
    const { z } = this.point;
    if (z === undefined) return true;
    return reach > ON_PATH + SAME ? this.near.z <= z + ON_PATH : Math.abs(this.near.z - z) <= ON_PATH;
  }

  private reachOf(modes: number): number {
    const before = this.reaches[modes];
    if (before !== undefined) return before;
    const { diameter = 0 } = toolShape(this.configuration, this.analysis.modePool, modes);
    const reach = Math.max(ON_PATH, diameter / 2) + SAME;
    this.reaches[modes] = reach;
    return reach;
  }

  private take(line: number, modes: number): void {
    const { distance, z } = this.near;
    const order = this.order++;
    this.offsets.add(this.analysis.modePool.at(modes, Mode.offset));
    const before = this.found.get(line);
    if (before === undefined) {
      this.found.set(line, { line, modes, order, distance, z, highest: z });
      return;
    }
    before.order = order;
    before.modes = modes;
    before.distance = Math.min(before.distance, distance);
    before.z = Math.min(before.z, z);
    before.highest = Math.max(before.highest, z);
  }

  /** Distances that nobody can tell apart are one. */
  inOrder(): Found[] {
    const rank = ({ distance }: Found): number => Math.round(distance / ON_PATH);
    return [...this.found.values()].sort((a, b) => rank(a) - rank(b) || b.order - a.order);
  }

  told({ line, modes, distance, z, highest }: Found): CuttingBlock {
    const { modePool } = this.analysis;
    const isInch = modePool.at(modes, Mode.units) === 20;
    const length = (value: number): string => shortNumber(value / (isInch ? 25.4 : 1), isInch ? 4 : 3);
    const tool = modePool.at(modes, Mode.tool);
    const description = this.configuration.tools.find(({ number }) => number === tool)?.description;
    const remark = description ?? modePool.string(modePool.at(modes, Mode.toolRemark));
    const beside = distance <= ON_PATH ? 'on its path' : `${length(distance)} ${isInch ? 'in' : 'mm'} beside its path`;
    const parts = [
      tool >= 0 ? `T${tool} ${remark}`.trim() : '',
      beside,
      length(highest) === length(z) ? `tip at Z${length(z)}` : `tip down to Z${length(z)}`,
      this.offsets.size > 1 ? offsetName(modePool.at(modes, Mode.offset)) : '',
    ];
    return {
      line,
      label: `Line ${line + 1}: ${this.analysis.lineText(line).trim()}`,
      detail: parts.filter((part) => part !== '').join(', '),
      distance,
      z,
    };
  }
}

const known = (value: number): number => (Number.isNaN(value) ? 0 : value);
