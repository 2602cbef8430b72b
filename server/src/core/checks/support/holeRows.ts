/** Holes and levels of a program in the order they are cut, by tool section, for rules that compare them. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { perSegment } from './pathWalk.ts';

/** A hole of a cycle; X Y of its place and Z of its bottom in mm, millimetres a unit of the program. */
export interface Hole {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly line: number;
  readonly unit: number;
}

/** Where a cut changes Z: the level it ends at, mm. */
export interface Level {
  readonly z: number;
  readonly line: number;
  readonly unit: number;
}

/** Holes of one tool, cycle and work offset, or levels of one tool and work offset, in order. */
export interface Section<T> {
  readonly tool: number;
  readonly items: T[];
}

/** A hole or level with the section it belongs to. */
interface Keyed<T> {
  readonly key: string;
  readonly tool: number;
  readonly item: T;
}

interface SegmentRows {
  readonly holes: readonly Keyed<Hole>[];
  readonly levels: readonly Keyed<Level>[];
}

/** With more holes or levels than these the rows come from a loop or a machine, and nobody typed them. */
const MOST = 2000;

const rowsIn = perSegment(
  (segment: Segment, { pool }: ProgramFacts): SegmentRows => ({
    holes: holesOf(segment, pool),
    levels: levelsOf(segment, pool),
  }),
);

/** Sections of holes and of levels of a program; none where there are very many. */
export const rowsOf = (facts: ProgramFacts): { holes: Section<Hole>[]; levels: Section<Level>[] } => {
  const holes = new Map<string, Section<Hole>>();
  const levels = new Map<string, Section<Level>>();
  let holeCount = 0;
  let levelCount = 0;
  for (const { segment, firstLine } of facts.passages()) {
    const rows = rowsIn(segment, facts);
    holeCount += rows.holes.length;
    levelCount += rows.levels.length;
    if (holeCount <= MOST) for (const hole of rows.holes) take(holes, hole, firstLine);
    if (levelCount <= MOST) for (const level of rows.levels) take(levels, level, firstLine);
  }
  return {
    holes: holeCount > MOST ? [] : [...holes.values()],
    levels: levelCount > MOST ? [] : [...levels.values()],
  };
};

const take = <T extends { readonly line: number }>(
  sections: Map<string, Section<T>>,
  { key, tool, item }: Keyed<T>,
  firstLine: number,
): void => {
  const placed = { ...item, line: item.line + firstLine };
  const section = sections.get(key);
  if (section === undefined) sections.set(key, { tool, items: [placed] });
  else section.items.push(placed);
};

const holesOf = ({ facts, factKinds, modesAfter }: Segment, pool: ModePool): Keyed<Hole>[] => {
  if ((factKinds & (1 << FactKind.hole)) === 0) return [];
  return facts
    .filter(isHole)
    .slice(0, MOST + 1)
    .map(({ a, b, c, d, e, line, text }) => ({
      key: `${d} ${e} ${text}`,
      tool: d,
      item: { x: a, y: b, z: c, line, unit: unitOf(pool, modesAfter[Math.min(line, modesAfter.length - 1)]) },
    }));
};

const isHole = ({ kind }: Fact): boolean => kind === FactKind.hole;

const unitOf = (pool: ModePool, modes: number): number => (pool.at(modes, Mode.units) === 20 ? 25.4 : 1);

const levelsOf = ({ moves, entry }: Segment, pool: ModePool): Keyed<Level>[] => {
  const levels: Keyed<Level>[] = [];
  for (let move = 0; move < moves.count && levels.length <= MOST; move++) {
    const kind = moves.kinds[move];
    const shape = kind & MoveFlag.kindMask;
    if ((shape !== MoveKind.line && shape !== MoveKind.arc) || (kind & MoveFlag.cycle) !== 0) continue;
    const from = (axis: number): number => (move === 0 ? entry.position[axis] : moves.ends[(move - 1) * 3 + axis]);
    const to = (axis: number): number => moves.ends[move * 3 + axis];
    const z = to(2);
    if (Number.isNaN(z) || z === from(2)) continue;
    const isStraightUp = z > from(2) && to(0) === from(0) && to(1) === from(1) && shape === MoveKind.line;
    if (isStraightUp && z >= 0) continue; // a way out at feed
    const id = moves.modes[move];
    const tool = pool.at(id, Mode.tool);
    levels.push({
      key: `${tool} ${pool.at(id, Mode.offset)}`,
      tool,
      item: { z, line: moves.lines[move], unit: unitOf(pool, id) },
    });
  }
  return levels;
};
