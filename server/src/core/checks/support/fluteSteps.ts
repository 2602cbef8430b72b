/** The depths that milling cutters with a known flute length cut at, in the order of the run. */
import { MoveKind } from '../../machine/moves.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { kindOf, perSegment, startOf } from './pathWalk.ts';
import { stockShape } from './stockShape.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

const MILLS: readonly (string | undefined)[] = ['end-mill', 'ball-mill', 'face-mill'];

/** A cut sideways at a depth that is lower than those before it. */
export interface FluteStep {
  /** Line of the program from 0, and the modes. */
  readonly line: number;
  readonly modes: number;
  readonly tool: ToolShape;
  readonly level: number;
  /** Reached by a ramp or a helix, so in no step. */
  readonly ramp: boolean;
  /** Where the last rapid before it ended along Z: above the work. Infinity where the blank is given or nothing is known. */
  readonly approach: number;
}

interface SegmentStep extends Omit<FluteStep, 'line'> {
  readonly line: number;
}

interface SegmentSteps {
  readonly steps: readonly SegmentStep[];
  /** Level of the last rapid of the segment, NaN without. */
  readonly lastRapid: number;
}

/** All steps; the lowest cuts of each segment, so that one cutter may have steps that are no new depth. */
export function* fluteSteps(facts: ProgramFacts): Generator<FluteStep> {
  const hasStock = stockShape(facts.configuration) !== undefined;
  let lastRapid = Number.NaN;
  for (const { segment, firstLine } of facts.passages()) {
    const own = stepsOf(segment, facts);
    for (const step of own.steps) {
      const known = Number.isNaN(step.approach) ? lastRapid : step.approach;
      const approach = hasStock || Number.isNaN(known) ? Infinity : known;
      yield { ...step, line: firstLine + step.line, approach };
    }
    if (!Number.isNaN(own.lastRapid)) lastRapid = own.lastRapid;
  }
}

const stepsOf = perSegment((segment: Segment, { configuration, pool }: ProgramFacts): SegmentSteps => {
  const steps: SegmentStep[] = [];
  const { moves } = segment;
  let lastRapid = Number.NaN;
  let lowest = Infinity;
  let modes = -1;
  let tool: ToolShape | undefined;
  for (let move = 0; move < moves.count; move++) {
    if (moves.modes[move] !== modes || tool === undefined) {
      modes = moves.modes[move];
      const next = toolShape(configuration, pool, modes);
      if (next !== tool) lowest = Infinity;
      tool = next;
    }
    const kind = kindOf(moves, move);
    const level = moves.ends[move * 3 + 2];
    const start = startOf(segment, move, 2);
    if (kind === MoveKind.rapid && !Number.isNaN(level)) lastRapid = level;
    if (kind !== MoveKind.line && kind !== MoveKind.arc) continue;
    if (tool.row?.fluteLength === undefined || !MILLS.includes(tool.kind)) continue;
    if (!(level < lowest) || !goesSideways(segment, move)) continue;
    lowest = level;
    steps.push({ line: moves.lines[move], modes, tool, level, ramp: start > level, approach: lastRapid });
  }
  return { steps, lastRapid };
});

const goesSideways = (segment: Segment, move: number): boolean => {
  if (kindOf(segment.moves, move) === MoveKind.arc) return true;
  const { ends } = segment.moves;
  return ends[move * 3] !== startOf(segment, move, 0) || ends[move * 3 + 1] !== startOf(segment, move, 1);
};
