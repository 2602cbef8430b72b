/** A helix of full turns in ordinary code as a block `helical-bore`, and a bore that the cutter does not go down into. Lengths mm. */
import type { Place, RawValues } from '../blocks/parameter.ts';
import { short } from '../blocks/readValues.ts';
import { drilledHoles } from '../checks/support/drilledHoles.ts';
import { topOfWork } from '../checks/support/stockShape.ts';
import type { ToolShape } from '../checks/support/toolShape.ts';
import { Mode } from '../machine/modes.ts';
import { drillPointLength } from '../reference/threadMeasures.ts';
import { letterIndex } from '../syntax/block.ts';
import { type Lift, type LiftSource, type LineRange, madeInPlace } from './liftCode.ts';
import { placesText } from './liftCodePatterns.ts';
import type { TracedArc, TracedMove } from './trace.ts';

/** How far around a line its helix is looked for, lines. */
const REACH = 400;
/** Coordinates written to the micrometre agree within this, mm. */
const SAME = 0.002;
/** More radial passes than anybody wants. */
const MOST_PASSES = 8;
/** Whole point angle of a drill that nobody measured, degrees. */
const USUAL_POINT = 118;
const M = letterIndex('M');

/** Moves of one bore from the rapid down to the rapid up. */
interface Bore {
  readonly lines: LineRange;
  readonly moves: readonly TracedMove[];
  readonly turns: readonly Turn[];
  readonly centre: Place;
  /** Of the cutter's centre. */
  readonly radius: number;
  readonly clockwise: boolean;
  /** Where feed begins, and where the rapid behind ends; NaN without. */
  readonly near: number;
  readonly safe: number;
}

type Turn = TracedMove & { readonly arc: TracedArc };

const isFullTurn = (move: TracedMove): move is Turn =>
  move.arc !== undefined &&
  move.plane === 'XY' &&
  Math.abs(Math.abs(move.arc.sweep) % 360) < 0.01 &&
  Math.abs(move.arc.sweep) > 359;

/** The bore whose full turns a line is among, or that begins with the rapid down of a line. */
const boreAt = (source: LiftSource, line: number): Bore | undefined => {
  const around = source.movesOf({ firstLine: Math.max(0, line - REACH), lastLine: line + REACH });
  let at = around.findIndex((move) => move.line >= line && move.kind !== 'dwell');
  if (at < 0) return undefined;
  if (around[at].kind === 'rapid') at = around[at].line === line ? at + 1 : -1;
  if (at < 0 || around[at] === undefined || around[at].kind === 'rapid') return undefined;
  let first = at;
  while (first > 0 && around[first - 1].kind !== 'rapid') first--;
  let last = at;
  while (last + 1 < around.length && around[last + 1].kind !== 'rapid') last++;
  // Cut off by the reach: nobody knows how it goes on.
  if (first === 0 || last + 1 === around.length) return undefined;
  return boreOf(around.slice(first, last + 1), around[last + 1], around[first - 1]);
};

const boreOf = (moves: readonly TracedMove[], behind: TracedMove, before: TracedMove): Bore | undefined => {
  const turns = moves.filter(isFullTurn);
  const [one] = turns;
  if (one === undefined || moves.some(({ kind }) => kind === 'dwell')) return undefined;
  const { centre, radius, clockwise } = one.arc;
  const isAlike = turns.every(
    ({ arc }) =>
      Math.hypot(arc.centre[0] - centre[0], arc.centre[1] - centre[1]) < SAME &&
      Math.abs(arc.radius - radius) < SAME &&
      arc.clockwise === clockwise,
  );
  // In and out inside the circle; nothing but turns and their ways.
  const isInside = moves.every(({ to }) => Math.hypot(to[0] - centre[0], to[1] - centre[1]) < radius + SAME);
  const goesUp = moves.some(({ from, to }, i) => to[2] > from[2] + SAME && i < moves.indexOf(turns[turns.length - 1]));
  if (!isAlike || !isInside || goesUp) return undefined;
  const isStraightUp =
    behind.to[2] > behind.from[2] && Math.hypot(behind.to[0] - behind.from[0], behind.to[1] - behind.from[1]) < SAME;
  return {
    lines: { firstLine: moves[0].line, lastLine: isStraightUp ? behind.line : moves[moves.length - 1].line },
    moves,
    turns,
    centre: [centre[0], centre[1]],
    radius,
    clockwise,
    near: before.to[2],
    safe: isStraightUp ? behind.to[2] : Number.NaN,
  };
};

/** True where the lines hold nothing but the moves: no code for spindle, coolant or compensation that would go with them. */
const isBare = (source: LiftSource, { firstLine, lastLine }: LineRange): boolean => {
  for (let line = firstLine; line <= lastLine; line++) {
    const block = source.analysis.readBlock(line);
    if (block.has(M) || block.assigns || block.flow !== undefined || block.deleteLevel > 0) return false;
    if (source.mode(line, Mode.radiusCompensation) !== 40) return false;
  }
  return true;
};

const text = (value: number): string => short(value, 4);

/** The helix that a line belongs to as a block. The cutter's diameter must be known. */
export const helixLifts = (source: LiftSource, line: number): Lift[] => {
  const bore = boreAt(source, line);
  const tool = source.toolAt(line);
  if (bore === undefined || tool?.diameter === undefined || tool.kind === 'thread-mill') return [];
  const down = bore.turns.filter(({ from, to }) => to[2] < from[2] - 1e-4);
  const turnCount = down.reduce((sum, { arc }) => sum + Math.round(Math.abs(arc.sweep) / 360), 0);
  if (turnCount < 2 || !isBare(source, bore.lines)) return [];
  const [top, bottom] = [down[0].from[2], down[down.length - 1].to[2]];
  const leads = down.map(({ arc, from, to }) => (from[2] - to[2]) / Math.round(Math.abs(arc.sweep) / 360));
  const level = bore.turns.length - down.length;
  const values = {
    ...valuesOf(source, bore, tool, tool.diameter),
    depth: text(top - bottom),
    lead: text(Math.max(...leads)),
    ...(level > 1 ? { spring: String(level) } : {}),
    top: text(top),
  };
  const passes = passesThatWork(source, bore, values);
  const levelWords = level === 0 ? ', with a level turn at the bottom' : '';
  const passWords = passes > 1 ? `, in ${passes} radial passes` : '';
  return [
    {
      title: `Turn into a block: helical bore of ${text(2 * bore.radius + tool.diameter)}${levelWords}${passWords}`,
      name: 'helical-bore',
      values: { ...values, ...(passes > 1 ? { passes: String(passes) } : {}) },
      replaces: bore.lines,
      isWhole: isWhole(bore),
      isSameWork: isSameBore,
    },
  ];
};

/** What code and tool tell of a bore, all but its depth. */
const valuesOf = (source: LiftSource, bore: Bore, { row }: ToolShape, diameter: number): RawValues => {
  const { line, feed, speed } = bore.turns[0];
  const offset = source.mode(line, Mode.offset);
  const bottom = Math.min(...bore.turns.map(({ to }) => to[2]));
  const pilot = drilledHoles(source.passages, source.facts)
    .filter((hole) => hole.offset === offset && source.passages[hole.passage].firstLine + hole.line < line)
    .filter(({ x, y }) => Math.hypot(x - bore.centre[0], y - bore.centre[1]) < SAME)
    .filter((hole) => hole.bottom + pointOf(hole.tool) <= bottom + SAME)
    .reduce((wide, { tool }) => Math.max(wide, tool.diameter ?? 0), 0);
  const isClimb = bore.clockwise === (row?.hand === 'left');
  const end = bore.safe;
  const top = bore.turns[0].from[2];
  return {
    bore: text(2 * bore.radius + diameter),
    tool: text(diameter),
    ...(pilot > 0 && pilot < 2 * bore.radius + diameter ? { pilot: text(pilot) } : {}),
    ...(isClimb ? {} : { direction: 'conventional' }),
    at: placesText([bore.centre]),
    ...(Number.isNaN(speed) ? {} : { speed: text(speed) }),
    ...(Number.isNaN(feed) ? {} : { feed: text(feed), 'feed-at': 'centre' }),
    ...(bore.near - top > SAME ? { clearance: text(bore.near - top) } : {}),
    ...(end - top > SAME ? { retract: text(end - top) } : {}),
  };
};

/** How much a drill's tip is longer than its full diameter. */
const pointOf = ({ kind, diameter = 0, pointAngle }: ToolShape): number =>
  kind === 'drill' ? drillPointLength(diameter, pointAngle ?? USUAL_POINT) : 0;

const isWhole = ({ turns: [{ feed, speed }] }: Bore): boolean => !Number.isNaN(feed + speed);

/** Fewest radial passes that leave no core; 1 where none does. */
const passesThatWork = (source: LiftSource, { lines }: Bore, values: RawValues): number => {
  for (let passes = 1; passes <= MOST_PASSES; passes++) {
    const made = madeInPlace(source, {
      name: 'helical-bore',
      values: { ...values, passes: String(passes) },
      replaces: lines,
    });
    if (made?.lines !== undefined) return passes;
  }
  return 1;
};

/** Cutter that goes down at rapid into a hole too small for it: the bore that is milled from there, from the top, in passes that work. */
export const boreInstead = (source: LiftSource, line: number, rule: string): Lift[] => {
  const bore = boreAt(source, line);
  const tool = source.toolAt(line);
  if (bore === undefined || tool?.diameter === undefined) return [];
  const lines = { firstLine: line, lastLine: bore.lines.lastLine };
  if (!isBare(source, lines)) return [];
  const bottom = Math.min(...bore.turns.map(({ to }) => to[2]));
  const top = topOfWork(source.configuration, source.mode(line, Mode.offset));
  if (!(top - bottom > 0)) return [];
  const { clearance: _, ...own } = valuesOf(source, bore, tool, tool.diameter);
  const values = {
    ...own,
    depth: text(top - bottom),
    top: text(top),
    ...(bore.safe - top > USUAL_CLEARANCE ? { retract: text(bore.safe - top) } : { retract: '10' }),
  };
  const passes = passesThatWork(source, { ...bore, lines }, values);
  const passWords = passes > 1 ? `, in ${passes} radial passes` : '';
  return [
    {
      title: `Go down in a helix instead: bore of ${text(2 * bore.radius + tool.diameter)}${passWords}`,
      name: 'helical-bore',
      values: { ...values, ...(passes > 1 ? { passes: String(passes) } : {}) },
      replaces: lines,
      isWhole: isWhole(bore),
      repairs: rule,
      isSameWork: isSameBore,
    },
  ];
};

const USUAL_CLEARANCE = 2;

/** True where full turns reach the same circle at the same lowest level. */
const isSameBore = (before: readonly TracedMove[], after: readonly TracedMove[]): boolean => {
  const [old, now] = [outermost(before), outermost(after)];
  return old.every((value, i) => Math.abs(value - now[i]) < SAME);
};

/** Centre X and Y and radius of the widest full turn at the lowest level, and that level. */
const outermost = (moves: readonly TracedMove[]): readonly number[] => {
  const turns = moves.filter(isFullTurn);
  const level = Math.min(...turns.map(({ to }) => to[2]));
  const lowest = turns.filter(({ to }) => to[2] < level + SAME);
  const widest = lowest.reduce((wide, turn) => (turn.arc.radius > wide.arc.radius ? turn : wide), lowest[0]);
  return widest === undefined ? [Number.NaN] : [widest.arc.centre[0], widest.arc.centre[1], widest.arc.radius, level];
};
