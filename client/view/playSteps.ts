// Where single steps of the playback stop: at the ends of blocks and, in a canned cycle, where it has gone down.
import { PathStyle, RowBit, RowField, rowValue } from '../../server/src/core/geometry/packedLayout.ts';
import type { Point } from './camera.ts';
import type { ShownPiece } from './picture.ts';
import { blockEnd, blockStart, moved, pointOf, type RunPlace, styleOf } from './playPosition.ts';

/** Depths nearer to each other than this are one, mm: short numbers tell no less. */
const SAME_DEPTH = 1e-3;

/** The next stop behind a place; `undefined` at the end of the run. */
export function stepOn(pieces: readonly ShownPiece[], place: RunPlace): RunPlace | undefined {
  const end = blockEnd(pieces, place);
  return end && (bottoms(pieces, end).find((bottom) => isBefore(place, bottom)) ?? end);
}

/** The last stop before a place; `undefined` at the start of the run. */
export function stepBack(pieces: readonly ShownPiece[], place: RunPlace): RunPlace | undefined {
  const start = blockStart(pieces, place);
  const end = start && blockEnd(pieces, start);
  return (
    end &&
    (bottoms(pieces, end)
      .filter((bottom) => isBefore(bottom, place))
      .at(-1) ??
      start)
  );
}

/** Where the cycle that ends at a place has gone down as far as it goes, in the order of the run: once at each hole. */
function bottoms(pieces: readonly ShownPiece[], end: RunPlace): RunPlace[] {
  const { path } = pieces[end.piece];
  const start = blockStart(pieces, end);
  if (!start || (rowValue(path, end.vertex, RowField.bits) & RowBit.cycle) === 0) {
    return [];
  }
  const fed = fedEnds(pieces, start, end);
  const depths = depthsOf(fed);
  const deepest = depths.reduce((most, depth) => Math.max(most, depth), Number.NEGATIVE_INFINITY);
  return fed.flatMap(({ place }, i) => (depths[i] >= deepest - SAME_DEPTH ? [place] : []));
}

/** A way at feed. */
interface Fed {
  readonly place: RunPlace;
  readonly from: Point;
  readonly to: Point;
}

function fedEnds(pieces: readonly ShownPiece[], start: RunPlace, end: RunPlace): Fed[] {
  const found: Fed[] = [];
  let before = start;
  for (let at = moved(pieces, start, 1); at && !isBefore(end, at); at = moved(pieces, at, 1)) {
    const [from, to] = [pointOf(pieces, before), pointOf(pieces, at)];
    if (styleOf(pieces[at.piece], at.vertex) >= PathStyle.cut && from && to) {
      found.push({ place: at, from, to });
    }
    before = at;
  }
  return found;
}

/** How far each has gone the way that the first one goes, which is into the work. */
function depthsOf(fed: readonly Fed[]): number[] {
  const [first] = fed;
  if (!first) {
    return [];
  }
  const along = first.to.map((value, axis) => value - first.from[axis]);
  const length = Math.hypot(...along) || 1;
  return fed.map(({ to }) => along.reduce((sum, value, axis) => sum + (value * to[axis]) / length, 0));
}

const isBefore = (a: RunPlace, b: RunPlace): boolean =>
  a.piece < b.piece || (a.piece === b.piece && a.vertex + a.part < b.vertex + b.part);
