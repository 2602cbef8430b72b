// Which of several moves of one line is meant, in words.
import type { PathMove } from '../../../server/src/core/geometry/pathRequestMove.ts';

/**
 * "pass 3 of 5, move 2 of 4", and of a subprogram's own file the line that calls it; undefined where the line is run once
 * and moves once.
 */
export function passWords({
  pass,
  passes,
  part,
  parts,
  line,
  origin,
}: Pick<PathMove, 'pass' | 'passes' | 'part' | 'parts' | 'line' | 'origin'>): string | undefined {
  const call = origin?.uri === undefined ? '' : `called in line ${line + 1}`;
  const words = [call, passes > 1 ? `pass ${pass} of ${passes}` : '', parts > 1 ? `move ${part} of ${parts}` : ''];
  return words.filter((word) => word !== '').join(', ') || undefined;
}
