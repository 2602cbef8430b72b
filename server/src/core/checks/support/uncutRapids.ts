/** Rapids through parts of the blank that no cut of the program reached before. Used by two rules: the centre's way, and the rim's. */
import { Mode } from '../../machine/modes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { hidesMoves, staysUnturned } from './blankFrame.ts';
import { emptyBox, holdsPoint, holdsWay, type PlanBox, shareInBox, takeBox } from './planBox.ts';
import { segmentSpan } from './segmentSpan.ts';
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
  const passages = [...facts.passages()];
  let last = passages.length - 1;
  while (last >= 0 && !hasRapids(passages[last].segment, stock, facts)) last--;
  const found: UncutRapid[] = [];
  const cut = emptyBox();
  const lines = new Set<number>();
  for (const { segment, firstLine } of passages.slice(0, last + 1)) {
    if (staysInside(cut, segment, stock, facts)) continue;
    const run = stockRun(segment, facts);
    for (const { move, before } of run.rapids) {
      if (holdsWay(cut, segment, move)) continue;
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

/** True for a segment with rapids that its own cuts did not make room for. */
const hasRapids = (segment: Segment, stock: StockShape, facts: ProgramFacts): boolean => {
  if (segment.moves.count === 0) return false;
  const span = segmentSpan(segment, facts);
  return (span === undefined || span.leastRapid < stock.top) && stockRun(segment, facts).rapids.length > 0;
};

/** True for a segment that runs where the blank is seen, and goes nowhere that the box of what was cut does not hold. */
const staysInside = (cut: PlanBox, segment: Segment, stock: StockShape, facts: ProgramFacts): boolean => {
  const { configuration, pool } = facts;
  const span = segmentSpan(segment, facts);
  if (span === undefined || !span.isKnown || span.beginsProgram) return false;
  if (pool.at(span.modes, Mode.offset) !== stock.offset || !staysUnturned(segment) || hidesMoves(segment, facts))
    return false;
  const radius = radiusOf(toolShape(configuration, pool, span.modes));
  const [x, y] = segment.entry.position;
  return (
    holdsPoint(cut, Math.min(x, span.least[0]) - radius, Math.min(y, span.least[1]) - radius) &&
    holdsPoint(cut, Math.max(x, span.most[0]) + radius, Math.max(y, span.most[1]) + radius)
  );
};

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
