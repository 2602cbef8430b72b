// Which of several moves of one line is meant, in words.
import type { PathMove } from '../../../server/src/core/geometry/pathRequestMove.ts';

/** "pass 3 of 5, move 2 of 4"; undefined where the line is run once and moves once. */
export function passWords({
  pass,
  passes,
  part,
  parts,
}: Pick<PathMove, 'pass' | 'passes' | 'part' | 'parts'>): string | undefined {
  const words = [passes > 1 ? `pass ${pass} of ${passes}` : '', parts > 1 ? `move ${part} of ${parts}` : ''];
  return words.filter((word) => word !== '').join(', ') || undefined;
}
