/** Rapids through parts of the blank that no cut of the program reached before. Used by two rules: the centre's way, and the rim's. */
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { startOf } from './pathWalk.ts';
import { emptyBox, type PlanBox, shareInBox, takeBox } from './planBox.ts';
import { type RapidWay, rapidWay, stockRun } from './stockRun.ts';
import { type StockShape, stockShape } from './stockShape.ts';
import { radiusOf, sureReach, type ToolShape, toolShape } from './toolShape.ts';

/** Shorter than this is the rim of what was cut, mm. */
const RIM = 0.05;

/** A rapid through what was not cut. */
export interface UncutRapid {
  /** Line of the program, from 0, and the set of modes it runs under. */
  readonly line: number;
  readonly modes: number;
  readonly level: number;
  readonly top: number;
  /** Way in the blank that was not cut, mm; 0 for one straight down. */
  readonly length: number;
  /**
   * `centre`: the tool's middle runs through the blank; `outside`: only its outside does, and surely, by the tool table;
   * `rim`: its outside does, if its diameter is as the remark says.
   */
  readonly part: 'centre' | 'outside' | 'rim';
  readonly tool: ToolShape;
}

/** Found for one reading of the findings, which two rules share. */
const known = new WeakMap<ProgramFacts, readonly UncutRapid[]>();

/** All of them in the order of the run, each line once. */
export const uncutRapids = (facts: ProgramFacts): readonly UncutRapid[] => {
  const before = known.get(facts);
  if (before !== undefined) return before;
  const found = findRapids(facts);
  known.set(facts, found);
  return found;
};

/** Lines of those with one of these parts. */
export const linesOfUncut = (facts: ProgramFacts, parts: readonly UncutRapid['part'][]): ReadonlySet<number> =>
  new Set(
    uncutRapids(facts)
      .filter(({ part }) => parts.includes(part))
      .map(({ line }) => line),
  );

const findRapids = (facts: ProgramFacts): readonly UncutRapid[] => {
  const stock = stockShape(facts.configuration);
  if (stock === undefined) return [];
  const found: UncutRapid[] = [];
  const cut = emptyBox();
  const lines = new Set<number>();
  for (const { segment, firstLine } of facts.passages()) {
    const run = stockRun(segment, facts);
    for (const { move, before } of run.rapids) {
      if (holdsWay(cut, segment, move) || holdsWay(before, segment, move)) continue;
      const line = firstLine + segment.moves.lines[move];
      if (lines.has(line)) continue;
      const reached = emptyBox();
      takeBox(reached, cut);
      takeBox(reached, before);
      const rapid = judge(segment, move, stock, reached, facts);
      if (rapid === undefined) continue;
      lines.add(line);
      found.push({ line, ...rapid });
    }
    takeBox(cut, run.cut);
  }
  return found;
};

/** True if a box holds a move from its start to its end: the usual case, and quickly told. */
const holdsWay = (box: PlanBox, segment: Segment, move: number): boolean => {
  const { ends } = segment.moves;
  return (
    holds(box, ends[move * 3], ends[move * 3 + 1]) && holds(box, startOf(segment, move, 0), startOf(segment, move, 1))
  );
};

const holds = (box: PlanBox, x: number, y: number): boolean =>
  x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;

const judge = (
  segment: Segment,
  move: number,
  stock: StockShape,
  reached: PlanBox,
  { configuration, pool }: ProgramFacts,
): Omit<UncutRapid, 'line'> | undefined => {
  const modes = segment.moves.modes[move];
  const tool = toolShape(configuration, pool, modes);
  const level = segment.moves.ends[move * 3 + 2];
  const parts = [
    { part: 'centre', margin: -RIM, reach: reached } as const,
    { part: 'outside', margin: sureReach(tool) - RIM, reach: widened(reached, radiusOf(tool)) } as const,
    { part: 'rim', margin: (tool.diameter ?? 0) / 2 - RIM, reach: widened(reached, radiusOf(tool)) } as const,
  ];
  for (const { part, margin, reach } of parts) {
    if (part === 'outside' && margin <= 0) continue;
    const way = rapidWay(segment, move, stock, margin);
    const length = way === undefined ? -1 : uncutLength(way, reach);
    if (length >= 0) return { modes, level, top: stock.top, length, part, tool };
  }
  return undefined;
};

const widened = (box: PlanBox, margin: number): PlanBox => {
  const wide = emptyBox();
  takeBox(wide, box, margin);
  return wide;
};

/** Length in the blank and outside the box of cuts; −1 where there is none. A way straight down has length 0. */
const uncutLength = ({ x, y, dx, dy, length, low }: RapidWay, reached: PlanBox): number => {
  if (low.from > low.to) return -1;
  const done = shareInBox(reached, x, y, dx, dy);
  const covered = Math.max(0, Math.min(done.to, low.to) - Math.max(done.from, low.from));
  if (length < RIM) return done.from <= done.to ? -1 : 0;
  const uncut = (low.to - low.from - covered) * length;
  return uncut > RIM ? uncut : -1;
};
