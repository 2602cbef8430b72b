/** Where each cutter of the program goes deepest over the blank. */
import type { ProgramFacts } from '../facts.ts';
import { segmentSpan } from './segmentSpan.ts';
import type { Deepest } from './stockRun.ts';
import { stockRun } from './stockRun.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** The deepest place of a cutter: line of the program from 0, its modes, and the level, mm. */
export interface DeepestPlace {
  readonly line: number;
  readonly modes: number;
  readonly level: number;
  readonly tool: ToolShape;
}

/** By cutter, the first place where it is deepest: of its cuts, or of all its moves. In the order of the run. */
export const deepestPlaces = (facts: ProgramFacts, which: 'cuts' | 'moves'): readonly DeepestPlace[] => {
  const places = new Map<ToolShape, DeepestPlace>();
  for (const { segment, firstLine } of facts.passages()) {
    const span = segmentSpan(segment, facts);
    if (span !== undefined) {
      const known = places.get(toolShape(facts.configuration, facts.pool, span.modes));
      if (known !== undefined && known.level <= span.least[2]) continue;
    }
    const deepest: ReadonlyMap<ToolShape, Deepest> = stockRun(segment, facts)[which];
    for (const { tool, level, move } of deepest.values()) {
      if (!(level < (places.get(tool)?.level ?? Infinity))) continue;
      const modes = segment.moves.modes[move];
      places.set(tool, { line: firstLine + segment.moves.lines[move], modes, level, tool });
    }
  }
  return [...places.values()];
};
