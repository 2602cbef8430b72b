/** The holes that cycles and drills make, with the cutter that made them. */
import { Mode } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import { FactKind, type Passage, type ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { type PathPlace, perSegment } from './pathWalk.ts';
import { segmentSpan } from './segmentSpan.ts';
import { shaftMoves } from './shaftMoves.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** Kind of the move that another program of the file begins with. */
const PROGRAM_START = MoveKind.renamed | MoveFlag.programStart;

/** A hole of a segment. Work coordinates of its offset, mm. */
export interface OwnHole {
  readonly x: number;
  readonly y: number;
  readonly bottom: number;
  /** Level that the feed begins at. */
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

/** All holes of cycles along Z, and those that a drill makes by hand-written moves, in the order of the run. */
export const drilledHoles = (passages: readonly Passage[], facts: ProgramFacts): DrilledHole[] => {
  const holes: DrilledHole[] = [];
  passages.forEach(({ segment }, passage) => {
    for (const hole of placedHoles(segment, passage, facts)) holes.push(hole);
  });
  return holes;
};

const NO_HOLES: readonly DrilledHole[] = [];
const placed = new WeakMap<Segment, { readonly passage: number; readonly holes: readonly DrilledHole[] }>();

/** A segment's holes at its place in the run, which an edit elsewhere mostly leaves as it was. */
const placedHoles = (segment: Segment, passage: number, facts: ProgramFacts): readonly DrilledHole[] => {
  const own = holesOf(segment, facts);
  if (own.length === 0) return NO_HOLES;
  const before = placed.get(segment);
  if (before?.passage === passage) return before.holes;
  const holes = own.map((hole) => ({ ...hole, passage }));
  placed.set(segment, { passage, holes });
  return holes;
};

/** Holes of a segment. */
export const holesOf = perSegment((segment: Segment, facts: ProgramFacts): readonly OwnHole[] => {
  if (!mayDrill(segment, facts)) return NO_HOLES;
  const { configuration, pool } = facts;
  return shaftMoves(segment, facts).flatMap(({ kind, inCycle, x, y, from, to, modes, line, move }): OwnHole[] => {
    const tool = toolShape(configuration, pool, modes);
    if (kind !== 'plunge' || !(inCycle || tool.kind === 'drill')) return [];
    const retract = inCycle ? pool.at(modes, Mode.cycleRetract) : from;
    return [{ x, y, bottom: to, retract, offset: pool.at(modes, Mode.offset), tool, line, move, modes }];
  });
});

/** True for a segment with a hole of a cycle, or with a drill in the spindle. */
const mayDrill = (segment: Segment, facts: ProgramFacts): boolean => {
  const { configuration, pool } = facts;
  const { factKinds, moves } = segment;
  if ((factKinds & (1 << FactKind.hole)) !== 0) return true;
  const span = segmentSpan(segment, facts);
  if (span !== undefined) return toolShape(configuration, pool, span.modes).kind === 'drill';
  let last = -1;
  for (let move = 0; move < moves.count; move++) {
    if (moves.modes[move] === last) continue;
    last = moves.modes[move];
    if (toolShape(configuration, pool, last).kind === 'drill') return true;
  }
  return false;
};

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
