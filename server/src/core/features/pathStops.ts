/** Where a program may stop: blocks with M0 or M1, and where on the path they stand. */
import type { PathSpan } from '../geometry/packedPath.ts';
import { countVertices } from '../geometry/pathMoves.ts';
import type { PathStop } from '../geometry/pathSummary.ts';
import { fillSeconds, type PathClock } from './pathClock.ts';

/** A block with a stop; line counted from 0. */
export interface StopLine {
  readonly line: number;
  readonly kind: PathStop['kind'];
}

/** A part of the path in its place. */
export interface PlacedSpans {
  /** Id of its piece, the vertices of that piece before it, and the second of the run at which it begins. */
  readonly piece: number;
  readonly vertex: number;
  readonly startSeconds: number;
  /** Line of the program that the spans' lines count from. */
  readonly firstLine: number;
  /** Spans in order, with the number of lines that each was run from. */
  readonly spans: readonly (PathSpan & { readonly lineCount: number })[];
}

/** More stops than these are not listed. */
const MOST_STOPS = 1000;
/** Words that a text without stops has not, as they are usually written. Looking for them is far quicker than reading. */
const SIGNS = ['M0', 'M1', 'm0', 'm1'];
const REMARKS = /\([^)]*\)?|;.*/g;
const STOP = /(?<![A-Z#<])M0*([01])(?![\d.])/i;

/** The blocks with M0, M00, M1 or M01 in some lines of a program; lines counted from the text's first. */
export function stopLinesIn(text: string): StopLine[] {
  if (!SIGNS.some((sign) => text.includes(sign))) return [];
  const found: StopLine[] = [];
  text.split(/\r\n|\n|\r/).forEach((block, line) => {
    const match = STOP.exec(block.replace(REMARKS, ' '));
    if (match) found.push({ line, kind: match[1] === '0' ? 'stop' : 'optional' });
  });
  return found;
}

/**
 * The stops in the order of the run. In lines that are run several times the first pass tells: where a further one comes
 * through is not kept with its moves.
 */
export function placedStops(
  parts: readonly PlacedSpans[],
  stops: readonly StopLine[],
  treatments: Uint8Array,
  clock: PathClock,
): PathStop[] {
  const found: PathStop[] = [];
  if (stops.length === 0) return found;
  for (const part of parts) {
    let seconds: Float64Array | undefined;
    let vertex = 0;
    for (const span of part.spans) {
      const first = part.firstLine + span.lineOffset;
      for (const { line, kind } of span.pass > 1 ? [] : stopsWithin(stops, first, first + span.lineCount)) {
        const move = movesUpTo(span, line - first);
        if (move < 0 || found.length >= MOST_STOPS) continue;
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

const stopsWithin = (stops: readonly StopLine[], from: number, to: number): readonly StopLine[] =>
  stops.filter(({ line }) => line >= from && line < to);

/** Moves of a span's table that come before the stop of a line, −1 where that place is in another part of the table. */
function movesUpTo({ moves, from, to }: PathSpan, line: number): number {
  let count = 0;
  while (count < moves.count && moves.lines[count] <= line) count++;
  const isHere = count > from || (count === 0 && from === 0);
  return isHere && count <= to ? count : -1;
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
