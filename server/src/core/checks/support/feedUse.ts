/**
 * At which feeds a tool cuts, and where each is met first. Found by segment and kept with it; a segment never changes once
 * it was run.
 */
import { LeftOver, Mode, type ModePool } from '../../machine/modes.ts';
import { MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { perSegment } from './pathWalk.ts';

/** More feeds than these under one tool are worked out block by block, and no slip of a hand. */
const MOST_FEEDS = 12;

/** A tool with a feed that it cuts at. Feeds mm/min (or as the feed mode says), speeds rev/min. */
interface ToolFeed {
  readonly tool: number;
  /** Id of the tool's remark. */
  readonly remark: number;
  readonly feed: number;
  readonly speed: number;
  /** 93, 94 or 95; 96 or 97; 20 or 21. */
  readonly feedMode: number;
  readonly speedMode: number;
  readonly units: number;
  /** In a feed mode that was left on by the tool before. */
  readonly modeLeftOn: boolean;
}

/** A feed that a tool cuts at, and where. */
export interface FeedUse extends ToolFeed {
  readonly what: ToolFeed;
  /** A move at this feed goes along the plane, not only straight in or out. */
  readonly flat: boolean;
  /** Line of the first move at this feed. */
  readonly line: number;
}

/** A feed in a segment, with the line in it. */
interface SegmentUse {
  readonly what: ToolFeed;
  readonly line: number;
  flat: boolean;
}

/** What a segment knows: uses by part (a new part begins with each program of the file), and tools with too many feeds. */
interface SegmentUses {
  readonly parts: readonly { readonly isNewProgram: boolean; readonly uses: readonly SegmentUse[] }[];
  readonly isCrowded: boolean;
}

/** The feeds of each tool of each program of the file; tools with very many feeds are left out. */
export const feedsByTool = (facts: ProgramFacts): readonly (readonly FeedUse[])[] => {
  const all: FeedUse[][] = [];
  let tools = new Map<number, FeedUse[]>();
  const close = (): void => {
    for (const group of tools.values()) if (group !== CROWDED) all.push(group);
    tools = new Map();
  };
  for (const { segment, firstLine } of facts.passages()) {
    const found = usesOf(segment, facts);
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

const takeUse = (tools: Map<number, FeedUse[]>, use: SegmentUse, firstLine: number, isCrowded: boolean): void => {
  const group = tools.get(use.what.tool);
  if (group === CROWDED) return;
  if (isCrowded) tools.set(use.what.tool, CROWDED);
  else if (group === undefined) tools.set(use.what.tool, [placed(use, firstLine)]);
  else if (!join(group, use) && group.push(placed(use, firstLine)) > MOST_FEEDS) tools.set(use.what.tool, CROWDED);
};

const placed = ({ what, flat, line }: SegmentUse, firstLine: number): FeedUse => ({
  ...what,
  what,
  flat,
  line: line + firstLine,
});

/** Takes a use into one of the group that is the same; false where there is none. */
const join = (group: FeedUse[], { what, flat }: SegmentUse): boolean => {
  for (let i = 0; i < group.length; i++) {
    if (!isSame(group[i], what)) continue;
    if (flat && !group[i].flat) group[i] = { ...group[i], flat: true };
    return true;
  }
  return false;
};

const isSame = (a: ToolFeed, b: ToolFeed): boolean =>
  a.tool === b.tool &&
  a.feed === b.feed &&
  a.speed === b.speed &&
  a.feedMode === b.feedMode &&
  a.speedMode === b.speedMode &&
  a.units === b.units;

/** Feeds by id of the modes and by their numbers. Ids of one pool never change their meaning. */
const feedsOfPool = new WeakMap<ModePool, { readonly byId: ToolFeed[]; readonly byNumbers: Map<string, ToolFeed> }>();

const usesOf = perSegment(({ moves, entry }: Segment, { pool }: ProgramFacts): SegmentUses => {
  let uses: SegmentUse[] = [];
  const parts = [{ isNewProgram: false, uses }];
  const { kinds, modes, count } = moves;
  let lastId = -1;
  let use: SegmentUse | undefined;
  let needsFlat = false;
  for (let move = 0; move < count; move++) {
    if (modes[move] === lastId && !needsFlat) continue;
    const kind = kinds[move];
    if ((kind & MoveFlag.programStart) !== 0) {
      uses = [];
      parts.push({ isNewProgram: true, uses });
    }
    const shape = kind & MoveFlag.kindMask;
    if ((shape !== MoveKind.line && shape !== MoveKind.arc) || (kind & NO_CUT) !== 0) {
      lastId = -1;
      continue;
    }
    if (modes[move] !== lastId || use === undefined) {
      lastId = modes[move];
      use = takeInto(uses, feedOf(pool, lastId), moves.lines[move]);
      if (uses.length > 2 * MOST_FEEDS) return { parts, isCrowded: true };
    }
    use.flat ||= isFlat(moves, move, entry.position);
    needsFlat = !use.flat;
  }
  return { parts, isCrowded: false };
});

/** A thread and the way out of a hole are no cut at a feed of choice. */
const NO_CUT = MoveFlag.synchronised | MoveFlag.retract;

/** The use of a feed among those of the segment; it is added where it is new. */
const takeInto = (uses: SegmentUse[], what: ToolFeed, line: number): SegmentUse => {
  for (let i = 0; i < uses.length; i++) if (uses[i].what === what) return uses[i];
  const use = { what, line, flat: false };
  uses.push(use);
  return use;
};

/** What a set of modes says of tool and feed; equal ones are one object. */
export const feedOf = (pool: ModePool, id: number): ToolFeed => {
  let feeds = feedsOfPool.get(pool);
  if (feeds === undefined) {
    feeds = { byId: [], byNumbers: new Map() };
    feedsOfPool.set(pool, feeds);
  }
  const answer = feeds.byId[id];
  if (answer !== undefined) return answer;
  const feed = readFeed(pool, id);
  const key = Object.values(feed).join();
  const same = feeds.byNumbers.get(key) ?? feed;
  feeds.byNumbers.set(key, same);
  feeds.byId[id] = same;
  return same;
};

const readFeed = (pool: ModePool, id: number): ToolFeed => ({
  tool: pool.at(id, Mode.tool),
  remark: pool.at(id, Mode.toolRemark),
  feed: pool.at(id, Mode.feed),
  speed: pool.at(id, Mode.speed),
  feedMode: pool.at(id, Mode.feedMode),
  speedMode: pool.at(id, Mode.speedMode),
  units: pool.at(id, Mode.units),
  modeLeftOn: (pool.at(id, Mode.leftOver) & LeftOver.feedMode) !== 0,
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
