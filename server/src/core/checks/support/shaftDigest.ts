/** What a segment has to do with threads and their holes, found once a segment. */
import { Mode } from '../../machine/modes.ts';
import { readToolRemark } from '../../reference/toolRemark.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { perSegment } from './pathWalk.ts';
import type { SegmentSpan } from './segmentSpan.ts';
import { type ShaftMove, shaftMoves } from './shaftMoves.ts';
import { type Opening, offsetUnder, roundOpening, type ShaftPlace, straightOpening } from './shafts.ts';
import { topOfWork } from './stockShape.ts';
import { tapUnder } from './tapInSpindle.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** An opening at its place; its line counts in the segment. */
export interface PlacedOpening {
  readonly place: ShaftPlace;
  readonly opening: Opening;
}

/** What a segment has to do with threads. */
export interface ShaftDigest {
  /** All shaft moves where a tap is at work or another program of the file begins; else empty: then `openings` says all. */
  readonly moves: readonly ShaftMove[];
  readonly tapPlaces: readonly ShaftPlace[];
  readonly openings: readonly PlacedOpening[];
  /** It has moves at all, which end what went on in a hole. */
  readonly isMoving: boolean;
  /** Something is drilled where nobody knows. */
  readonly hasUnknownHole: boolean;
}

/** The digest of a segment. */
export const shaftDigest = perSegment((segment: Segment, facts: ProgramFacts): ShaftDigest => {
  const moves = shaftMoves(segment, facts);
  const tapPlaces = moves.filter((move) => tapsWith(facts, move)).map((move) => placeOf(facts, move));
  const openings = moves.flatMap((move) => openingOf(facts, move) ?? []);
  return {
    // A stroke may begin in one segment and end in the next.
    moves:
      tapPlaces.length > 0 ||
      moves.some(({ kind, modes }) => kind === 'program-start' || tapUnder(facts, modes) !== undefined)
        ? moves
        : [],
    tapPlaces,
    openings,
    isMoving: moves.length > 0,
    hasUnknownHole: openings.some(({ place }) => Number.isNaN(place.x + place.y)),
  };
});

/** What a segment that `passesShafts` says where none of its places is asked for. */
export const PASSED: ShaftDigest = { moves: [], tapPlaces: [], openings: [], isMoving: true, hasUnknownHole: false };

/** True for a segment that ends what went on in a hole, and else has only openings at places that are known. */
export const passesShafts = (span: SegmentSpan, facts: ProgramFacts): boolean =>
  span.isKnown &&
  span.goesAside &&
  !span.beginsProgram &&
  !isTappingCycle(facts.pool.at(span.modes, Mode.cycle)) &&
  tapUnder(facts, span.modes) === undefined;

/** Where a shaft move is. */
const placeOf = ({ pool }: ProgramFacts, { x, y, modes, turn }: ShaftMove): ShaftPlace => ({
  x,
  y,
  offset: offsetUnder(pool, modes),
  turn,
});

/** True for a way in of a tap, or in a tapping cycle. */
export const tapsWith = (facts: ProgramFacts, { kind, inCycle, modes }: ShaftMove): boolean => {
  if (kind !== 'plunge') return false;
  const cycle = inCycle ? facts.pool.at(modes, Mode.cycle) : 0;
  return isTappingCycle(cycle) || tapUnder(facts, modes) !== undefined;
};

/** True for G84 and G74. */
export const isTappingCycle = (cycle: number): boolean => cycle === 840 || cycle === 740;

/** What a move opens; undefined for a move that opens nothing. */
export const openingOf = (facts: ProgramFacts, move: ShaftMove): PlacedOpening | undefined => {
  const { kind, modes, line, to, amount, inCycle, synchronised } = move;
  const isPlunge = kind === 'plunge' && (inCycle || !synchronised) && !tapsWith(facts, move);
  if (!isPlunge && kind !== 'circle') return undefined;
  const tool = shapeUnder(facts, modes);
  const place = placeOf(facts, move);
  const opening = isPlunge
    ? straightOpening(tool, move, topOfWork(facts.configuration, place.offset), { line, modes })
    : roundOpening(tool, to, amount, { line, modes });
  return opening && { place, opening };
};

/** The tool in the spindle; where neither the table nor its own remark tells of it, as the operation's remark says. */
const shapeUnder = ({ configuration, pool }: ProgramFacts, modes: number): ToolShape => {
  const shape = toolShape(configuration, pool, modes);
  if (shape.kind !== undefined) return shape;
  const remark = pool.string(pool.at(modes, Mode.operationRemark));
  const read = remark === '' ? undefined : readToolRemark(remark, pool.at(modes, Mode.units) === 20);
  return read === undefined
    ? shape
    : { ...shape, kind: read.kind, diameter: read.diameter, pointAngle: read.pointAngle };
};
