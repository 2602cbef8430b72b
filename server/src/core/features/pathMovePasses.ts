/** The moves of one line in the order of the run, with the pass through the line that each belongs to. */
import type { Analysis } from '../checks/analysis.ts';
import { type MoveOrigin, originOfMove } from '../checks/moveOrigins.ts';
import type { Segment } from '../checks/segment.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../machine/moves.ts';
import type { Point } from './trace.ts';

/** A move of the line. */
export interface PassMove {
  readonly moves: MoveTable;
  readonly index: number;
  /** Place of its extra numbers, −1 none. */
  readonly extra: number;
  readonly from: Point;
  /** Where it is in a called program's own file. */
  readonly origin: MoveOrigin | undefined;
  /** In a segment of further passes, or of a subprogram's own file. */
  readonly isFurther: boolean;
  /** Pass through the line, from 1, and which of that pass's moves it is, of how many. */
  readonly pass: number;
  readonly part: number;
  readonly parts: number;
}

/** Moves that stand one behind the other in the run. */
interface Stretch {
  readonly isFurther: boolean;
  readonly moves: Pick<PassMove, 'moves' | 'index' | 'extra' | 'from' | 'origin'>[];
}

/** More moves of one line are not looked at: a loop may come through it a million times. */
const MOST_MOVES = 500_000;

/**
 * The moves of a line, and how many passes they are. Where nothing else moves in a loop, the passes stand one behind the
 * other: they are told apart by the number of moves of the first one.
 */
export function movesOfLine(analysis: Analysis, line: number): { moves: PassMove[]; passes: number } {
  const stretches = stretchesOf(analysis, line);
  const perPass = stretches.find(({ isFurther }) => !isFurther)?.moves.length ?? 0;
  const found: PassMove[] = [];
  let passes = 0;
  for (const { isFurther, moves } of stretches) {
    const isWhole = isFurther && perPass > 0 && moves.length % perPass === 0;
    const parts = isWhole ? perPass : moves.length;
    moves.forEach((move, i) => {
      const pass = passes + 1 + Math.floor(i / parts);
      found.push({ ...move, isFurther, pass, part: (i % parts) + 1, parts });
    });
    passes += moves.length / parts;
  }
  return { moves: found, passes };
}

function stretchesOf(analysis: Analysis, line: number): Stretch[] {
  const stretches: Stretch[] = [];
  let current: Stretch | undefined;
  let count = 0;
  for (const { segment, firstLine } of analysis.passages()) {
    const isFurther = segment.pass !== 1;
    if (current !== undefined && current.isFurther !== isFurther) current = undefined;
    if (!mayHold(segment, line - firstLine)) {
      if (segment.moves.count > 0) current = undefined;
      continue;
    }
    const { moves } = segment;
    let row = 0;
    for (let index = 0; index < moves.count; index++) {
      const extra = row < moves.extraCount && moves.extraMoves[row] === index ? row++ * EXTRA_WIDTH : -1;
      if (moves.lines[index] !== line - firstLine) {
        current = undefined;
        continue;
      }
      if ((moves.kinds[index] & MoveFlag.kindMask) === MoveKind.renamed || !hasWay(segment, index)) continue;
      if (++count > MOST_MOVES) return stretches;
      if (current === undefined) {
        current = { isFurther, moves: [] };
        stretches.push(current);
      }
      current.moves.push({
        moves,
        index,
        extra,
        from: startOf(segment, index),
        origin: originOfMove(segment.origins, index),
      });
    }
  }
  return stretches;
}

/** False where no move of a segment can be of a line, counted as the segment does. */
const mayHold = ({ pass, blockCount, entry }: Segment, line: number): boolean =>
  pass !== 1 || (line < blockCount && (line >= 0 || entry.openMoves.length > 0));

const startOf = ({ entry, moves }: Segment, index: number): Point => {
  if (index === 0) return [entry.position[0], entry.position[1], entry.position[2]];
  const at = index * 3 - 3;
  return [moves.ends[at], moves.ends[at + 1], moves.ends[at + 2]];
};

/** False for a move to where it starts, as cycles have them. */
function hasWay(segment: Segment, index: number): boolean {
  const { moves } = segment;
  const kind = moves.kinds[index] & MoveFlag.kindMask;
  if (kind === MoveKind.dwell || kind === MoveKind.arc) return true;
  const from = startOf(segment, index);
  return from.some((value, axis) => !Object.is(value, moves.ends[index * 3 + axis]));
}
