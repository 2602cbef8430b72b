/** The holes that cycles make, with the cutter that made them. */
import { Mode } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import { FactKind, type Passage, type ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { type PathPlace, perSegment } from './pathWalk.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** Kind of the move that another program of the file begins with. */
const PROGRAM_START = MoveKind.renamed | MoveFlag.programStart;

/** A hole of a segment. Work coordinates of its offset, mm. */
interface OwnHole {
  readonly x: number;
  readonly y: number;
  readonly bottom: number;
  /** Level that the cycle begins to feed at. */
  readonly retract: number;
  readonly offset: number;
  readonly tool: ToolShape;
  /** Line in the segment, the move that reaches its bottom, and the modes there. */
  readonly line: number;
  readonly move: number;
  readonly modes: number;
}

/** A hole with its segment's place in the run. */
export interface DrilledHole extends OwnHole {
  readonly passage: number;
}

/** All holes of cycles along Z, in the order of the run. */
export const drilledHoles = (passages: readonly Passage[], facts: ProgramFacts): DrilledHole[] => {
  const holes: DrilledHole[] = [];
  passages.forEach(({ segment }, passage) => {
    if ((segment.factKinds & (1 << FactKind.hole)) === 0) return;
    for (const hole of holesOf(segment, facts)) holes.push({ ...hole, passage });
  });
  return holes;
};

/** Holes of a segment. The move that reaches each is looked up along the path, since a loop's lines come again and again. */
const holesOf = perSegment((segment: Segment, { configuration, pool }: ProgramFacts): readonly OwnHole[] => {
  const holes: OwnHole[] = [];
  const { ends, kinds, modes, count } = segment.moves;
  let move = 0;
  for (const { kind, line, a, b, c, e } of segment.facts) {
    if (kind !== FactKind.hole) continue;
    let at = move;
    while (at < count && !isAt(ends, at, a, b, c, kinds[at])) at++;
    if (at >= count) continue;
    move = at + 1;
    const id = modes[at];
    if (pool.at(id, Mode.plane) !== 17) continue;
    const tool = toolShape(configuration, pool, id);
    const retract = pool.at(id, Mode.cycleRetract);
    holes.push({ x: a, y: b, bottom: c, retract, offset: e, tool, line, move: at, modes: id });
  }
  return holes;
});

const isAt = (ends: Float64Array, move: number, x: number, y: number, z: number, kind: number): boolean =>
  (kind & MoveFlag.cycle) !== 0 && ends[move * 3] === x && ends[move * 3 + 1] === y && ends[move * 3 + 2] === z;

/** True for a hole that was made before a place of the path, in the same program of the file. */
export const isBefore = (hole: DrilledHole, { passages, passage, move }: PathPlace): boolean => {
  if (hole.passage > passage || (hole.passage === passage && hole.move >= move)) return false;
  for (let number = hole.passage; number <= passage; number++) {
    const { kinds } = passages[number].segment.moves;
    for (let start = kinds.indexOf(PROGRAM_START); start >= 0; start = kinds.indexOf(PROGRAM_START, start + 1)) {
      const isBehindHole = number > hole.passage || start > hole.move;
      const isBeforePlace = number < passage || start < move;
      if (isBehindHole && isBeforePlace) return false;
    }
  }
  return true;
};
