/**
 * At which feeds a tool cuts, and where each is met first. Found by segment and kept with it; a segment never changes once
 * it was run.
 */
import { LeftOver, Mode, type ModePool } from '../../machine/modes.ts';
import { MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';

/** More feeds than these under one tool are worked out block by block, and no slip of a hand. */
const MOST_FEEDS = 12;

/** A feed that a tool cuts at. Feeds mm/min (or as the feed mode says), speeds rev/min. */
export interface FeedUse {
  readonly tool: number;
  /** Id of the tool's remark. */
  readonly remark: number;
  readonly feed: number;
  readonly speed: number;
  /** 93, 94 or 95; 96 or 97; 20 or 21. */
  readonly feedMode: number;
  readonly speedMode: number;
  readonly units: number;
  /** The first move ran in a feed mode that was left on by the tool before. */
  readonly modeLeftOn: boolean;
  /** A move at this feed goes along the plane, not only straight in or out. */
  readonly flat: boolean;
  /** Line of the first move at this feed. */
  readonly line: number;
}

/** What a segment knows: uses by part (a new part begins with each program of the file), and tools with too many feeds. */
interface SegmentUses {
  readonly parts: readonly { readonly isNewProgram: boolean; readonly uses: readonly FeedUse[] }[];
  readonly isCrowded: boolean;
}

const known = new WeakMap<Segment, SegmentUses>();

/** The feeds of each tool of each program of the file; tools with very many feeds are left out. */
export const feedsByTool = (facts: ProgramFacts): readonly (readonly FeedUse[])[] => {
  const all: FeedUse[][] = [];
  let tools = new Map<number, FeedUse[]>();
  const close = (): void => {
    for (const group of tools.values()) if (group !== CROWDED) all.push(group);
    tools = new Map();
  };
  for (const { segment, firstLine } of facts.passages()) {
    let found = known.get(segment);
    if (found === undefined) {
      found = usesOf(segment, facts.pool);
      known.set(segment, found);
    }
    for (const { isNewProgram, uses } of found.parts) {
      if (isNewProgram) close();
      for (let i = 0; i < uses.length; i++) takeUse(tools, uses[i], firstLine, found.isCrowded);
    }
  }
  close();
  return all;
};

/** Stands for a tool with too many feeds. */
const CROWDED: FeedUse[] = [];

const takeUse = (tools: Map<number, FeedUse[]>, use: FeedUse, firstLine: number, isCrowded: boolean): void => {
  const group = tools.get(use.tool);
  if (group === CROWDED) return;
  if (isCrowded) tools.set(use.tool, CROWDED);
  else if (group === undefined) tools.set(use.tool, [placed(use, firstLine)]);
  else if (!join(group, use) && group.push(placed(use, firstLine)) > MOST_FEEDS) tools.set(use.tool, CROWDED);
};

const placed = (use: FeedUse, firstLine: number): FeedUse => ({ ...use, line: use.line + firstLine });

/** Takes a use into one of the group that is the same; false where there is none. */
const join = (group: FeedUse[], use: FeedUse): boolean => {
  for (let i = 0; i < group.length; i++) {
    if (!isSame(group[i], use)) continue;
    if (use.flat && !group[i].flat) group[i] = { ...group[i], flat: true };
    return true;
  }
  return false;
};

const isSame = (a: FeedUse, b: FeedUse): boolean =>
  a.tool === b.tool &&
  a.feed === b.feed &&
  a.speed === b.speed &&
  a.feedMode === b.feedMode &&
  a.speedMode === b.speedMode &&
  a.units === b.units;

const usesOf = (segment: Segment, pool: ModePool): SegmentUses => {
  const { moves, entry } = segment;
  let uses: FeedUse[] = [];
  const parts = [{ isNewProgram: false, uses }];
  const places = new Map<number, number>();
  let lastId = -1;
  let place = -1;
  for (let move = 0; move < moves.count; move++) {
    if ((moves.kinds[move] & MoveFlag.programStart) !== 0) {
      uses = [];
      parts.push({ isNewProgram: true, uses });
      places.clear();
      lastId = -1;
    }
    if (!isCut(moves.kinds[move])) continue;
    const id = moves.modes[move];
    if (id !== lastId) {
      lastId = id;
      place = places.get(id) ?? placeOf(uses, useOf(pool, id, moves.lines[move]));
      places.set(id, place);
    }
    if (!uses[place].flat && isFlat(moves, move, entry.position)) uses[place] = { ...uses[place], flat: true };
    if (uses.length > 2 * MOST_FEEDS) return { parts, isCrowded: true };
  }
  return { parts, isCrowded: false };
};

/** Place of a use among those of the segment; it is added where it is new. */
const placeOf = (uses: FeedUse[], use: FeedUse): number => {
  const place = uses.findIndex((other) => isSame(other, use));
  return place >= 0 ? place : uses.push(use) - 1;
};

const isCut = (kind: number): boolean => {
  const shape = kind & MoveFlag.kindMask;
  return (
    (shape === MoveKind.line || shape === MoveKind.arc) && (kind & (MoveFlag.synchronised | MoveFlag.retract)) === 0
  );
};

const useOf = (pool: ModePool, id: number, line: number): FeedUse => ({
  tool: pool.at(id, Mode.tool),
  remark: pool.at(id, Mode.toolRemark),
  feed: pool.at(id, Mode.feed),
  speed: pool.at(id, Mode.speed),
  feedMode: pool.at(id, Mode.feedMode),
  speedMode: pool.at(id, Mode.speedMode),
  units: pool.at(id, Mode.units),
  modeLeftOn: (pool.at(id, Mode.leftOver) & LeftOver.feedMode) !== 0,
  flat: false,
  line,
});

/** True if a move changes X or Y, or leads them from nowhere known. */
const isFlat = (moves: MoveTable, move: number, entry: Float64Array): boolean => {
  for (let axis = 0; axis < 2; axis++) {
    const from = move === 0 ? entry[axis] : moves.ends[(move - 1) * 3 + axis];
    const to = moves.ends[move * 3 + axis];
    if (!Number.isNaN(to) && !(Math.abs(to - from) < 1e-6)) return true;
  }
  return (moves.kinds[move] & MoveFlag.kindMask) === MoveKind.arc;
};
