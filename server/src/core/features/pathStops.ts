/** Where a program may stop: where on the path its blocks with M0, M1 or a message stand. */
import type { PassStop } from '../checks/passNotes.ts';
import type { StopLine } from '../checks/stopLines.ts';
import type { PathSpan } from '../geometry/packedPath.ts';
import { countVertices } from '../geometry/pathMoves.ts';
import type { PathStop } from '../geometry/pathSummary.ts';
import { fillSeconds, type PathClock } from './pathClock.ts';

/** A span with the number of lines that it was run from; of a further pass, the stops in all of its table. */
export interface RunSpan extends PathSpan {
  readonly lineCount: number;
  readonly stops?: readonly PassStop[];
}

/** A part of the path in its place. */
export interface PlacedSpans {
  /** Id of its piece, the vertices of that piece before it, and the second of the run at which it begins. */
  readonly piece: number;
  readonly vertex: number;
  readonly startSeconds: number;
  /** Line of the program that the spans' lines count from. */
  readonly firstLine: number;
  readonly spans: readonly RunSpan[];
}

/** More stops than these are not listed. */
const MOST_STOPS = 1000;
/** The stops in the order of the run, in each pass through their lines. `stops` are those of the text. */
export function placedStops(
  parts: readonly PlacedSpans[],
  stops: readonly StopLine[],
  treatments: Uint8Array,
  clock: PathClock,
): PathStop[] {
  const found: PathStop[] = [];
  if (stops.length === 0 && !parts.some(({ spans }) => spans.some((span) => span.stops))) return found;
  for (const part of parts) {
    let seconds: Float64Array | undefined;
    let vertex = 0;
    for (const span of part.spans) {
      for (const { line, kind, move } of stopsOf(span, part.firstLine + span.lineOffset, stops)) {
        if (found.length >= MOST_STOPS) return found;
        seconds ??= secondsOfPart(part, treatments, clock);
        const at = vertex + countVertices(span.moves, treatments, span.from, move) - 1;
        const place = { piece: part.piece, vertex: part.vertex + at };
        found.push({ kind, line, at: place, seconds: part.startSeconds + seconds[at] });
      }
      vertex += countVertices(span.moves, treatments, span.from, span.to);
    }
  }
  return found;
}

/** The stops of a span, whose lines count from `first`, each with the moves of its table before it. */
function stopsOf(span: RunSpan, first: number, stops: readonly StopLine[]): PassStop[] {
  const all =
    span.pass > 1
      ? (span.stops ?? []).map((stop) => ({ ...stop, line: first + stop.line }))
      : stops
          .filter(({ line }) => line >= first && line < first + span.lineCount)
          .map((stop) => ({ ...stop, move: movesUpTo(span, stop.line - first) }));
  // Where a table is in several parts, each has the stops behind its own moves; the first one those before all moves, too.
  return all.filter(({ move }) => (move > span.from || (move === 0 && span.from === 0)) && move <= span.to);
}

/** Moves of a span's table that come before the stop of a line. */
function movesUpTo({ moves }: PathSpan, line: number): number {
  let count = 0;
  while (count < moves.count && moves.lines[count] <= line) count++;
  return count;
}

/** Seconds at each vertex of a part, from its start. */
function secondsOfPart({ spans }: PlacedSpans, treatments: Uint8Array, clock: PathClock): Float64Array {
  const counts = spans.map(({ moves, from, to }) => countVertices(moves, treatments, from, to));
  const seconds = new Float64Array(counts.reduce((sum, count) => sum + count, 0));
  let at = 0;
  let now = 0;
  spans.forEach((span, i) => {
    now = fillSeconds(span, clock, seconds, at, now);
    at += counts[i];
  });
  return seconds;
}
