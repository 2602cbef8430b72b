/** How often the run comes through a block that a jump upward leads back over. */
import { FactKind } from '../checks/facts.ts';
import type { HoverPlace } from './hoverPlace.ts';

/** A jump of the program, lines from 0. */
interface Jump {
  readonly from: number;
  readonly to: number;
}

/**
 * Passes through a block that one jump upward leads back over; 0 where none was made, infinite where they are several but
 * how many of them come through this very block is not sure: other jumps lead past it, or the way to it is gone again.
 */
export function passesByJump(place: HoverPlace): number {
  if (place.runsStraight) return 0;
  const { layout, line } = place;
  const unit = layout.unitOf(line);
  const jumps: Jump[] = [];
  const told = new Set<string>();
  for (const { line: from, a, text } of place.analysis.programFacts().of(FactKind.jumpTarget)) {
    const key = `${from} ${a}`;
    if (text !== '' || from < unit.firstLine || from >= unit.endLine || told.has(key)) continue;
    told.add(key);
    const to = layout.jumpTarget(a, from);
    if (to >= 0) jumps.push({ from, to });
  }
  const around = jumps.filter(({ from, to }) => to <= line && line <= from && place.timesBackAt(to) > 0);
  if (around.length === 0) return 0;
  const [{ from, to }] = around;
  const isWithin = layout.loops.some(({ head, end }) => head < line && line < end);
  const leavesOrSkips = jumps.some((jump) => jump.from !== from && jump.from >= to && jump.from <= from);
  const isSure = around.length === 1 && !isWithin && !leavesOrSkips && unit === layout.units[0];
  const comesFromElsewhere = jumps.some((jump) => jump.from !== from && jump.to >= to && jump.to <= from);
  return isSure && !comesFromElsewhere ? place.timesBackAt(to) + 1 : Number.POSITIVE_INFINITY;
}
