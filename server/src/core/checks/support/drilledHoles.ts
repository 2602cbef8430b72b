/** The holes that cycles make, with the cutter that made them. */
import { Mode } from '../../machine/modes.ts';
import { FactKind, type Passage, type ProgramFacts } from '../facts.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** A hole. Work coordinates of its offset, mm. */
export interface DrilledHole {
  readonly x: number;
  readonly y: number;
  readonly bottom: number;
  /** Level that the cycle begins to feed at. */
  readonly retract: number;
  readonly offset: number;
  readonly tool: ToolShape;
  /** Line in the segment, and the segment's place in the run. */
  readonly line: number;
  readonly passage: number;
}

/** All holes of cycles along Z, in the order of the run. */
export const drilledHoles = (passages: readonly Passage[], { configuration, pool }: ProgramFacts): DrilledHole[] => {
  const holes: DrilledHole[] = [];
  passages.forEach(({ segment }, passage) => {
    if ((segment.factKinds & (1 << FactKind.hole)) === 0) return;
    for (const { kind, line, a, b, c, e } of segment.facts) {
      if (kind !== FactKind.hole) continue;
      const modes = segment.modesAfter[line];
      if (pool.at(modes, Mode.plane) !== 17) continue;
      const tool = toolShape(configuration, pool, modes);
      const retract = pool.at(modes, Mode.cycleRetract);
      holes.push({ x: a, y: b, bottom: c, retract, offset: e, tool, line, passage });
    }
  });
  return holes;
};

/** True for a hole that was made before a place of the path. */
export const isBefore = (hole: DrilledHole, passage: number, line: number): boolean =>
  hole.passage < passage || (hole.passage === passage && hole.line < line);
