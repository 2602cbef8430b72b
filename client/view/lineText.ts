// Which block a move is of, in words: its line, the pass through it, and the line of a called program's own file.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';

/** "Line 8, pass 3 of 5" or "Line 8, in O500 line 4". */
export function lineText({
  line,
  pass,
  passes,
  origin,
}: Pick<PathMove, 'line' | 'pass' | 'passes' | 'origin'>): string {
  const called = origin ? `, in O${origin.program} line ${origin.line + 1}` : '';
  return `Line ${line + 1}${passes > 1 ? `, pass ${pass} of ${passes}` : ''}${called}`;
}
