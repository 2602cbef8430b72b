/** The move of a line that is nearest to a place on the path: its numbers, which pass it is, and the words of hover. */
import type { Analysis } from '../checks/analysis.ts';
import type { PathMove, PathMoveRequest, PathPoint } from '../geometry/pathRequestMove.ts';
import type { Configuration } from '../machine/configuration.ts';
import { blockSentences } from './hoverBlock.ts';
import { flowSentences } from './hoverFlow.ts';
import { HoverPlace } from './hoverPlace.ts';
import { PathClock } from './pathClock.ts';
import { movesOfLine, type PassMove } from './pathMovePasses.ts';
import { distanceToMove } from './pathMovePlace.ts';
import { type Point, type TracedMove, tracedMove } from './trace.ts';

/** What is asked for, without the program's address. */
export type PathMoveQuestion = Omit<PathMoveRequest, 'uri'>;

interface Found {
  readonly of: PassMove;
  readonly move: TracedMove;
}

/**
 * The move; null where the line moves nothing, or nothing in this pass. Of several at the same distance the first of the
 * run is taken. The analysis must be up to date, the line inside the program.
 */
export function pathMoveAt(
  analysis: Analysis,
  configuration: Configuration,
  { line, pass, at }: PathMoveQuestion,
): PathMove | null {
  const { machine, profile } = configuration;
  const clock = new PathClock(analysis.modePool, { machine, helixFeed: profile.helixFeed });
  const { moves, passes } = movesOfLine(analysis, line);
  let found: Found | undefined;
  let nearest = Number.POSITIVE_INFINITY;
  for (const of of moves) {
    if (pass !== undefined && of.isFurther !== (pass === 2)) continue;
    const distance = at === undefined ? 0 : distanceToMove(of, at, analysis.modePool);
    if (found !== undefined && !(distance < nearest)) continue;
    const move = traced(analysis, clock, of, line);
    if (move === undefined || !isMotion(move)) continue;
    found = { of, move };
    nearest = distance;
    if (at === undefined) break;
  }
  return found === undefined ? null : answer(found, passes, wordsOf(analysis, configuration, line));
}

function traced(analysis: Analysis, clock: PathClock, { moves, index, extra, from }: PassMove, line: number) {
  const { ends } = moves;
  const to: Point = [ends[index * 3], ends[index * 3 + 1], ends[index * 3 + 2]];
  return tracedMove(analysis, clock, moves, index, extra, from, to, line);
}

/** Something moves or waits; a move to or from a place that is not known counts. */
const isMotion = ({ kind, length, from, to }: TracedMove): boolean =>
  length > 0 || kind === 'dwell' || from.some((value, axis) => Number.isNaN(value) !== Number.isNaN(to[axis]));

function answer({ of, move }: Found, passes: number, text: readonly string[]): PathMove {
  const { line, kind, arc, length, offset, plane } = move;
  const ofArc = arc && {
    centre: pointOf(arc.centre),
    radius: numberOf(arc.radius),
    endRadius: numberOf(arc.endRadius),
    sweep: numberOf(arc.sweep),
  };
  return {
    line,
    kind,
    from: pointOf(move.from),
    to: pointOf(move.to),
    ...ofArc,
    length,
    feed: numberOf(move.feed),
    speed: numberOf(move.speed),
    tool: numberOf(move.tool),
    seconds: numberOf(move.seconds),
    offset,
    plane,
    pass: of.pass,
    passes,
    part: of.part,
    parts: of.parts,
    ...(of.origin && { origin: of.origin }),
    text,
  };
}

const numberOf = (value: number): number | null => (Number.isFinite(value) ? value : null);

const pointOf = ([x, y, z]: Point): PathPoint => [numberOf(x), numberOf(y), numberOf(z)];

/** What hover shows for the block beside the word under the pointer, without the signs that Markdown needs. */
function wordsOf(analysis: Analysis, configuration: Configuration, line: number): string[] {
  const place = new HoverPlace(analysis, configuration, line, (target) => `line ${target + 1}`);
  return [...flowSentences(place), ...blockSentences(place)].map((sentence) =>
    sentence.replace(/\\([\\`*_{}[\]()#+!|<>~-])/g, '$1'),
  );
}
