/**
 * Builds the pieces of the toolpath that the view draws, from the moves that are kept. Arcs and helices become chords;
 * the radius is blended linearly over the angle, so that an arc ends where the program says.
 *
 * Every span starts with one vertex at its start point; then each move gives one vertex, an arc one per chord. So the
 * vertices can be counted from the arcs alone, before anything is filled.
 */
import { createPackedPath, type PackedPath, ROW_WIDTH } from './packedLayout.ts';
import { type FillMeaning, PathFiller } from './packedPathFill.ts';
import { RowInterner, type RowMeaning, type RowRuns } from './packedPathRows.ts';
import type { PathMoves } from './pathMoves.ts';

/** A run of moves of one segment. */
export interface PathSpan {
  readonly moves: PathMoves;
  /** X Y Z before move 0. */
  readonly entry: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Line of the segment's first line, counted from the first line of the piece. */
  readonly lineOffset: number;
  /** 1 for the first pass through the lines. */
  readonly pass: number;
  /** Moves of its table, ascending, that begin a block anew though the move before has the same line. */
  readonly again?: Uint32Array;
  /** Its rows, where they were looked for already. */
  readonly runs?: RowRuns;
}

/** What the numbers in the moves mean. */
export interface PathMeaning extends FillMeaning, RowMeaning {}

/** A point to measure the piece's positions from: its first known one. */
const originOf = (spans: readonly PathSpan[]): [number, number, number] => {
  for (const { entry, moves, from, to } of spans) {
    for (let move = from - 1; move < to; move++) {
      const at = move * 3;
      const [x, y, z] = move < 0 ? entry : moves.ends.subarray(at, at + 3);
      if (!Number.isNaN(x + y + z)) return [x, y, z];
    }
  }
  return [0, 0, 0];
};

/**
 * Builds one piece of the path. `vertexCount` is the sum of what `countVertices` or `splitMoves` gave for the spans;
 * `interner` is the one that numbered their rows; `lineShifts` are added to the lines of each span. Throws a RangeError where the count is wrong.
 */
export function packPath(
  spans: readonly PathSpan[],
  vertexCount: number,
  meaning: PathMeaning,
  interner = new RowInterner(meaning),
  lineShifts?: ArrayLike<number>,
): PackedPath {
  const runs = spans.map(
    ({ runs, moves, entry, from, to, pass }) => runs ?? interner.runsOf(moves, entry, from, to, pass),
  );
  const places = placesOf(runs);
  const path = createPackedPath(vertexCount, meaning.assumedAxes, places.size);
  for (const [row, place] of places) path.rows.set(interner.content(row), place * ROW_WIDTH);
  path.origin.set(originOf(spans));
  const filler = new PathFiller(path, meaning, places);
  spans.forEach((span, i) => {
    filler.span(span, runs[i], lineShifts?.[i]);
  });
  filler.finish();
  if (filler.count !== vertexCount) throw new RangeError(`path of ${filler.count} vertices, counted ${vertexCount}`);
  return path;
}

/** The place in the piece of each row that occurs in it. */
const placesOf = (runs: readonly RowRuns[]): Map<number, number> => {
  const places = new Map<number, number>();
  for (const { rows } of runs) {
    for (const row of rows) if (!places.has(row)) places.set(row, places.size);
  }
  return places;
};
