/**
 * Whether a rapid in the plane at the level of the cut before it was meant. Off the part, along its outside, over a pocket
 * that is open already, or between passes of one level such rapids are common and right; across what was just cut, to the
 * next place of a plunge, or to a change of tools they are a forgotten way up. Common practice, no source.
 */
import { Mode } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import { wordsOnly } from './blockPlace.ts';
import { type PathPlace, SAME_PLACE } from './pathWalk.ts';
import { emptyBox, type PlanBox, shareInBox, takeMove } from './planBox.ts';
import { stockShape, topOfWork } from './stockShape.ts';
import { toolShape } from './toolShape.ts';
import { crossesWay, pointsOf, windingAbout } from './wayPoints.ts';

/**
 * Most moves looked back at to see where the tool came down: of one rapid, and of one reading of the findings. Beyond,
 * nothing is said.
 */
const MOST_MOVES = 20_000;
const MOST_MOVES_IN_ALL = 200_000;
/** Most lines between a cut and what follows it. */
const MOST_LINES = 200;
/** Places looked at along a rapid. */
const SAMPLES = 8;
/** What lies this near the rim of the cut region is not across it, mm. */
const RIM = 0.05;

/** The cuts since the tool came down to their level. */
interface Descent {
  /** Where it came down, and how. */
  readonly x: number;
  readonly y: number;
  readonly byRapid: boolean;
  /** Level that it came from, NaN unknown. */
  readonly from: number;
  /** What the cutter's centre went over below the top: a box around it, and its points from the last to the first. */
  readonly region: PlanBox;
  readonly points: readonly number[];
}

/** What follows the rapids in the plane. */
type Sequel = 'kept-down' | 'deeper' | 'plunge' | 'up' | 'gone';

/** How many moves may still be looked back at for one reading of the findings. */
export interface LookBack {
  moves: number;
}

export const lookBack = (): LookBack => ({ moves: MOST_MOVES_IN_ALL });

/** A rapid that was not meant, and the level that the tool came down from before its cuts (NaN unknown). */
export interface RapidAtDepth {
  readonly message: 'rapid' | 'home';
  readonly clearance: number;
}

/**
 * Judges the rapid at `place`, which stays at a level below the top of the work; undefined where it was meant or nobody
 * can say.
 */
export const judgeRapidAtDepth = (
  place: PathPlace,
  facts: ProgramFacts,
  budget: LookBack,
): RapidAtDepth | undefined => {
  if (!place.sideways) return undefined;
  const cut = place.copy();
  if (!cut.previousMotion() || !cut.cuts || cut.inCycle || (!cut.sideways && cut.rise > 0)) return undefined;
  if (cut.mode(facts.pool, Mode.tool) !== place.mode(facts.pool, Mode.tool)) return undefined;
  if (leavesSideways(cut, facts) || leavesAlongNormal(place, facts) || callsBetween(cut.line, place.line, facts))
    return undefined;
  if (isBesideStock(place, facts)) return undefined;
  const last = lastInPlane(place);
  const x = last.end(0);
  const y = last.end(1);
  if (Number.isNaN(x) || Number.isNaN(y)) return { message: 'home', clearance: Number.NaN };
  const sequel = whatFollows(last, facts);
  if (sequel === 'kept-down') return undefined;
  const descent = descentBefore(cut, facts, budget);
  if (descent === undefined) return undefined;
  const isBack = Math.abs(x - descent.x) < RIM && Math.abs(y - descent.y) < RIM;
  if (isBack && (sequel === 'deeper' || isInside(descent.region, x, y))) return undefined;
  if (!crosses(descent, place, x, y, isBack) && (descent.byRapid || sequel === 'up')) return undefined;
  return { message: 'rapid', clearance: descent.from };
};

/** Tools that come out of their cut sideways, and moves of a probe. */
const SIDEWAYS: readonly (string | undefined)[] = ['other', 'probe', 'boring-bar', 'thread-mill'];

/** True for a cut after which sideways at depth is the way out: an undercut, a bore, a thread, a measurement. */
const leavesSideways = (cut: PathPlace, { configuration, pool }: ProgramFacts): boolean =>
  cut.mode(pool, Mode.motion) >= 380 ||
  SIDEWAYS.includes(toolShape(configuration, pool, cut.segment.moves.modes[cut.move]).kind);

/** True in G18 or G19 for a rapid along the third axis only: the way out of an angle head, or on to the next row of arcs. */
const leavesAlongNormal = (place: PathPlace, { pool }: ProgramFacts): boolean => {
  const { first, second, third } = planeOf(place.mode(pool, Mode.plane));
  return third !== 2 && [first, second].every((axis) => place.start(axis) === place.end(axis));
};

/** True if a block between two lines calls a subprogram or macro: its way up may not be known. */
export const callsBetween = (from: number, to: number, facts: ProgramFacts): boolean => {
  if (to - from > MOST_LINES) return true;
  for (let line = from; line <= to; line++) {
    if (/M\s*0*9[78](?!\d)|G\s*6[56](?![\d.])/i.test(wordsOnly(facts.lineText(line)))) return true;
  }
  return false;
};

/** True where the blank is given and the cutter's way does not touch it. */
const isBesideStock = (place: PathPlace, { configuration, pool }: ProgramFacts): boolean => {
  const stock = stockShape(configuration);
  if (stock === undefined || stock.offset !== place.mode(pool, Mode.offset)) return false;
  const { diameter } = toolShape(configuration, pool, place.segment.moves.modes[place.move]);
  if (diameter === undefined) return false;
  const x = place.start(0);
  const y = place.start(1);
  const { from, to } = stock.share(x, y, place.end(0) - x, place.end(1) - y, diameter / 2);
  return !(from < to);
};

/** The last of the rapids in the plane that begin at `place`. */
const lastInPlane = (place: PathPlace): PathPlace => {
  const last = place.copy();
  const next = place.copy();
  while (next.nextMotion() && next.kind === MoveKind.rapid && next.rise === 0) {
    last.passage = next.passage;
    last.move = next.move;
  }
  return last;
};

const whatFollows = (last: PathPlace, facts: ProgramFacts): Sequel => {
  const next = last.copy();
  if (!next.nextMotion() || next.kind === MoveKind.renamed) return 'gone';
  if (next.mode(facts.pool, Mode.tool) !== last.mode(facts.pool, Mode.tool)) return 'gone';
  if (next.cuts && next.sideways) return saysDepth(last.line, next.line, facts) ? 'plunge' : 'kept-down';
  if (!(next.rise > 0)) return Number.isNaN(next.rise) ? 'up' : 'deeper';
  if (next.sideways || !next.nextMotion()) return 'up';
  return next.cuts && !next.sideways && next.rise < 0 ? 'plunge' : 'up';
};

/** True if a block between two lines names a Z although the tool stays at its level: a way down that was meant. */
const saysDepth = (from: number, to: number, facts: ProgramFacts): boolean => {
  for (let line = from + 1; line < to && line < from + 20; line++) {
    if (/Z\s*[-+.\d#[]/i.test(wordsOnly(facts.lineText(line)))) return true;
  }
  return false;
};

/** Looks back from a cut to where the tool came down to below the level it stayed under. */
const descentBefore = (
  cut: PathPlace,
  { configuration, pool }: ProgramFacts,
  budget: LookBack,
): Descent | undefined => {
  const at = cut.copy();
  const top = topOfWork(configuration, cut.mode(pool, Mode.offset));
  const region = emptyBox();
  const points: number[] = [];
  for (let steps = 0; steps < MOST_MOVES && budget.moves > 0; steps++) {
    budget.moves--;
    const isStraightDown = !at.sideways && at.rise < 0;
    const fromAbove = !(at.start(2) < top - SAME_PLACE);
    if (isStraightDown) {
      points.push(at.end(0), at.end(1));
      return { x: at.end(0), y: at.end(1), byRapid: at.kind === MoveKind.rapid, from: at.start(2), region, points };
    }
    if (at.kind === MoveKind.renamed || at.inCycle) return undefined;
    if (at.cuts) {
      takeMove(region, at.segment, at.move, pool);
      const inPlan = planeOf(at.mode(pool, Mode.plane)).third === 2;
      const way = pointsOf(at, inPlan);
      for (let i = way.length - 2; i >= 0; i -= 2) points.push(way[i], way[i + 1]);
    }
    if (fromAbove)
      return { x: at.end(0), y: at.end(1), byRapid: at.kind === MoveKind.rapid, from: at.start(2), region, points };
    if (!at.previousMotion()) return undefined;
  }
  return undefined;
};

const isInside = (box: PlanBox, x: number, y: number): boolean =>
  x > box.minX + RIM && x < box.maxX - RIM && y > box.minY + RIM && y < box.maxY - RIM;

/**
 * True if the way leads across the region that was cut: back along a single line of cuts, over the way of the cuts, or over
 * what lies inside it. Back to where the tool came down the way closes the round; then only a long way is across.
 */
const crosses = (descent: Descent, place: PathPlace, x: number, y: number, isBack: boolean): boolean => {
  const { region, points } = descent;
  const startX = place.start(0);
  const startY = place.start(1);
  const width = region.maxX - region.minX;
  const height = region.maxY - region.minY;
  const flat = width < 2 * RIM || height < 2 * RIM;
  const rimX = width < 2 * RIM ? -RIM : RIM;
  const rimY = height < 2 * RIM ? -RIM : RIM;
  const inner = {
    minX: region.minX + rimX,
    minY: region.minY + rimY,
    maxX: region.maxX - rimX,
    maxY: region.maxY - rimY,
  };
  const { from, to } = shareInBox(inner, startX, startY, x - startX, y - startY);
  const length = Math.hypot(x - startX, y - startY);
  if (!((to - from) * length > 4 * RIM)) return false;
  if (flat || crossesWay(points, startX, startY, x, y, 4 * RIM)) return true;
  if (isBack) return length > Math.hypot(width, height) / 2;
  for (let i = 1; i < SAMPLES; i++) {
    const t = i / SAMPLES;
    const turns = windingAbout(points, startX + t * (x - startX), startY + t * (y - startY));
    if (Math.abs(turns) > Math.PI) return true;
  }
  return false;
};
