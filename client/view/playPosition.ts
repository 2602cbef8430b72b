// Places on the run of a program: where it is at a second, and where its blocks begin and end. Every search is by halves
// or within one block, so that a long program costs a picture no more than a short one.
import { BEGINS_AGAIN, PathStyle, STYLE_BITS, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import type { Point } from './camera.ts';
import type { ShownPiece } from './picture.ts';

/** A place on the run: the part, 0 to 1, of the way to a vertex that has been gone. At a vertex itself it is 1. */
export interface RunPlace {
  /** Place of the piece among those that are shown, not its id. */
  readonly piece: number;
  readonly vertex: number;
  readonly part: number;
}

/** Nobody sees less, s. */
const SAME_SECOND = 1e-6;
/** So many waits in a row are looked through for the last way before them. */
const WAITS_IN_A_ROW = 64;

/** How long the whole run takes, s. */
export function totalSeconds(pieces: readonly ShownPiece[]): number {
  const last = pieces.at(-1);
  return last ? last.startSeconds + last.seconds : 0;
}

/** True at the end of the run: sums of many durations differ by their order. */
export const isOver = (pieces: readonly ShownPiece[], seconds: number): boolean =>
  seconds >= totalSeconds(pieces) - SAME_SECOND;

/** Where the run begins; `undefined` where there is nothing to run or its times are missing. */
export function startPlace(pieces: readonly ShownPiece[]): RunPlace | undefined {
  const piece = pieces.findIndex(({ path }) => path.vertexCount > 0);
  return pieces[piece]?.times && { piece, vertex: 0, part: 1 };
}

/** Where the run ends. */
export function endPlace(pieces: readonly ShownPiece[]): RunPlace | undefined {
  let piece = pieces.length - 1;
  while (piece > 0 && pieces[piece].path.vertexCount === 0) piece--;
  const last = pieces[piece];
  return last?.times && last.path.vertexCount > 0 ? { piece, vertex: last.path.vertexCount - 1, part: 1 } : undefined;
}

/** Where the run is at a second: the first place that it takes so long to. `undefined` where times are missing. */
export function placeAt(pieces: readonly ShownPiece[], seconds: number): RunPlace | undefined {
  const piece = firstOf(pieces.length, (i) => pieces[i].startSeconds >= seconds) - 1;
  if (piece < 0) {
    return startPlace(pieces);
  }
  const times = pieces[piece].times?.seconds;
  if (!times || times.length === 0) {
    return undefined;
  }
  const wanted = seconds - pieces[piece].startSeconds;
  // A sum of durations may be above the last time by a rounding error.
  const vertex = Math.min(
    firstOf(times.length, (i) => times[i] >= wanted),
    times.length - 1,
  );
  const before = vertex > 0 ? times[vertex - 1] : 0;
  const part = times[vertex] > before ? Math.min(1, (wanted - before) / (times[vertex] - before)) : 1;
  return { piece, vertex, part };
}

/** Second of the run at a place. */
export function secondsOf(pieces: readonly ShownPiece[], { piece, vertex, part }: RunPlace): number {
  const { startSeconds, times } = pieces[piece];
  const [before, at] = [times?.seconds[vertex - 1] ?? 0, times?.seconds[vertex] ?? 0];
  return startSeconds + (part < 1 ? before + part * (at - before) : at);
}

/** X Y Z at a place, work coordinates, mm; `undefined` where it is not known. */
export function pointOf(pieces: readonly ShownPiece[], { piece, vertex, part }: RunPlace): Point | undefined {
  const { path } = pieces[piece];
  const { positions, origin } = path;
  if (part === 1 || styleOf(pieces[piece], vertex) === PathStyle.none) {
    // While it waits the tool stays; a way from an unknown place has no points but its end.
    const at = part === 1 ? vertex : vertex - 1;
    return isKnown(pieces[piece], at) ? pointAtVertex(at) : undefined;
  }
  const [from, to] = [pointAtVertex(vertex - 1), pointAtVertex(vertex)];
  const between = (axis: 0 | 1 | 2): number => from[axis] + part * (to[axis] - from[axis]);
  return [between(0), between(1), between(2)];

  function pointAtVertex(at: number): Point {
    return [origin[0] + positions[at * 3], origin[1] + positions[at * 3 + 1], origin[2] + positions[at * 3 + 2]];
  }
}

/** Line of the block that runs at a place, or that has just ended there, from 0; `undefined` before the first. */
export function lineOf(pieces: readonly ShownPiece[], place: RunPlace): number | undefined {
  return blockLine(pieces, place) ?? blockLine(pieces, moved(pieces, place, -1));
}

/** True where the run waits (dwell). */
export function waits(pieces: readonly ShownPiece[], { piece, vertex }: RunPlace): boolean {
  const own = pieces[piece];
  const takesTime = styleOf(own, vertex) === PathStyle.none && isMove(own, vertex);
  // A way from a place that is not known takes time without a line as well.
  return takesTime && isSamePlace(own, vertex - 1, vertex) && isKnown(own, vertex);
}

/** How the way to a vertex is drawn, a `PathStyle`. */
export const styleOf = ({ path }: ShownPiece, vertex: number): number => path.codes[vertex] & STYLE_MASK;

/** The end of the block that runs, or of the next one where none does; `undefined` at the end of the run. */
export function blockEnd(pieces: readonly ShownPiece[], place: RunPlace): RunPlace | undefined {
  let at: RunPlace | undefined = place.part < 1 ? place : moved(pieces, place, 1);
  while (at && blockLine(pieces, at) === undefined) {
    at = moved(pieces, at, 1);
  }
  const line = blockLine(pieces, at);
  for (
    let next = at && moved(pieces, at, 1);
    next && blockLine(pieces, next) === line && !beginsAgain(pieces, next);
    next = moved(pieces, next, 1)
  ) {
    at = next;
  }
  return at && { ...at, part: 1 };
}

/** The start of the block that runs, or of the one that has just ended; `undefined` at the start of the run. */
export function blockStart(pieces: readonly ShownPiece[], place: RunPlace): RunPlace | undefined {
  let at: RunPlace | undefined = place;
  while (at && blockLine(pieces, at) === undefined) {
    at = moved(pieces, at, -1);
  }
  const line = blockLine(pieces, at);
  while (at && blockLine(pieces, at) === line) {
    const isFirst = beginsAgain(pieces, at);
    at = moved(pieces, at, -1);
    if (isFirst) break;
  }
  return at && { ...at, part: 1 };
}

/** True if the block is run once more from here, right behind itself. */
const beginsAgain = (pieces: readonly ShownPiece[], { piece, vertex }: RunPlace): boolean =>
  (pieces[piece].path.codes[vertex] & BEGINS_AGAIN) !== 0;

/** Line of the block that the way to a vertex belongs to; `undefined` for a vertex that only begins a line. */
function blockLine(pieces: readonly ShownPiece[], place: RunPlace | undefined): number | undefined {
  if (!place || !isMove(pieces[place.piece], place.vertex)) {
    return undefined;
  }
  const { path, firstLine } = pieces[place.piece];
  return firstLine + ((path.codes[place.vertex] | 0) >> STYLE_BITS);
}

/** A vertex that something leads to: a line that is drawn, or time that passes. */
function isMove(piece: ShownPiece, vertex: number): boolean {
  const seconds = piece.times?.seconds;
  return styleOf(piece, vertex) !== PathStyle.none || (seconds !== undefined && seconds[vertex] > seconds[vertex - 1]);
}

/** True if a line leads to the vertex or away from it, or to one that the tool only waits after or before there. */
function isKnown(piece: ShownPiece, vertex: number): boolean {
  // What is not known stands at the origin; a vertex without a line is known only where it stays at one that has a line.
  return isKnownAlong(piece, vertex, -1) || isKnownAlong(piece, vertex, 1);
}

function isKnownAlong(piece: ShownPiece, vertex: number, by: 1 | -1): boolean {
  const { vertexCount } = piece.path;
  let at = vertex;
  for (let waited = 0; waited < WAITS_IN_A_ROW && at >= 0 && at < vertexCount; waited++) {
    const leadsOn = at + 1 < vertexCount && styleOf(piece, at + 1) !== PathStyle.none;
    if (leadsOn || styleOf(piece, at) !== PathStyle.none) {
      return true;
    }
    if (!isSamePlace(piece, at, at + by)) {
      return false;
    }
    at += by;
  }
  return false;
}

function isSamePlace({ path: { positions } }: ShownPiece, a: number, b: number): boolean {
  return [0, 1, 2].every((axis) => positions[a * 3 + axis] === positions[b * 3 + axis]);
}

/** One vertex on or back, over the ends of pieces; `undefined` at the ends of the run and where times are missing. */
export function moved(pieces: readonly ShownPiece[], place: RunPlace, by: 1 | -1): RunPlace | undefined {
  let { piece, vertex } = place;
  vertex += by;
  while (vertex < 0 || vertex >= pieces[piece].path.vertexCount) {
    piece += by;
    if (!pieces[piece]?.times) {
      return undefined;
    }
    vertex = by > 0 ? 0 : pieces[piece].path.vertexCount - 1;
  }
  return { piece, vertex, part: 1 };
}

/** The first of `count` for which it holds, or `count`; from there on it must hold for all. */
function firstOf(count: number, holds: (index: number) => boolean): number {
  let [low, high] = [0, count];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
