/** The holes that cycles make, with the cutter that made them. */
import { Mode } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import { FactKind, type Passage, type ProgramFacts } from '../facts.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** Kind of the move that another program of the file begins with. */
const PROGRAM_START = MoveKind.renamed | MoveFlag.programStart;

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

/** True for a hole that was made before a place of the path, in the same program of the file. */
export const isBefore = (hole: DrilledHole, passage: number, line: number, passages: readonly Passage[]): boolean => {
  if (hole.passage > passage || (hole.passage === passage && hole.line >= line)) return false;
  for (let number = hole.passage; number <= passage; number++) {
    const { kinds, lines } = passages[number].segment.moves;
    for (let move = kinds.indexOf(PROGRAM_START); move >= 0; move = kinds.indexOf(PROGRAM_START, move + 1)) {
      const isBehindHole = number > hole.passage || lines[move] > hole.line;
      const isBeforePlace = number < passage || lines[move] <= line;
      if (isBehindHole && isBeforePlace) return false;
    }
  }
  return true;
};
