/** The path of lines that would be put into a program, before they are: executed behind the state that they would meet. */
import { Analysis } from '../checks/analysis.ts';
import type { GhostPath } from '../checks/repair/ghost.ts';
import type { InsertedLines } from '../geometry/pathRequest.ts';
import { AXIS_COUNT } from '../machine/letters.ts';
import type { ModePool } from '../machine/modes.ts';
import { MoveTable } from '../machine/moves.ts';
import { formatLength } from './blockWriter.ts';
import type { BlockContext } from './context.ts';
import { entryLines } from './prove.ts';

/** The moves of such lines, and the modes that they refer to. */
export interface BlockGhost {
  readonly path: GhostPath;
  readonly modePool: ModePool;
}

/** More moves are not drawn: a ghost is looked at while its values are typed. */
const MOST_MOVES = 200_000;

/**
 * The path of the inserted lines alone, loops and calls followed; undefined where they move nothing. `context` is that of
 * their place.
 */
export const blockGhost = (
  analysis: Analysis,
  { line, lines }: InsertedLines,
  context: BlockContext,
): BlockGhost | undefined => {
  const start = startAt(analysis, line);
  const entry = entryLines(context);
  // Behind the lines that set units, G90 and the work offset, and before those that may turn to G91.
  const head = [...entry.slice(0, 3), ...placeLine(start, context.entry.units === 'inch'), ...entry.slice(3)];
  const run = new Analysis([...head, ...lines, ''].join('\n'), context.configuration);
  run.run();
  const first = head.length;
  const moves = new MoveTable(256);
  for (const { segment, firstLine } of run.passages()) {
    const own = segment.moves;
    let from = 0;
    let to = own.count;
    while (from < to && firstLine + own.lines[from] < first) from++;
    while (to > from && firstLine + own.lines[to - 1] >= first + lines.length) to--;
    if (from < to) moves.append(own, from, to, firstLine - first);
    if (moves.count > MOST_MOVES) break;
  }
  if (moves.count === 0) return undefined;
  const path = { firstLine: line, lineCount: lines.length, entry: { position: start }, moves };
  return { path, modePool: run.modePool };
};

/** Where the tool stands before a line, NaN where it is not known. */
const startAt = (analysis: Analysis, line: number): Float64Array => {
  const last = analysis.lineCount - 1;
  if (!analysis.isReached(Math.min(line, last))) return new Float64Array(AXIS_COUNT).fill(Number.NaN);
  const { position } = line > last ? analysis.stateAfter(last) : analysis.stateBefore(line);
  return position.slice(0, AXIS_COUNT);
};

const placeLine = (position: Float64Array, inch: boolean): string[] => {
  const words = ['X', 'Y', 'Z'].flatMap((letter, axis) =>
    Number.isNaN(position[axis]) ? [] : [`${letter}${formatLength(position[axis] / (inch ? 25.4 : 1), inch)}`],
  );
  return words.length === 0 ? [] : [`G0 ${words.join(' ')}`];
};
