/** The depths that milling cutters with a known flute length cut at, step by step. */
import { MoveKind } from '../../machine/moves.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { goesSideways, kindOf, perSegment, startOf } from './pathWalk.ts';
import { type SegmentSpan, segmentSpan } from './segmentSpan.ts';
import { stockShape } from './stockShape.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

const MILLS: readonly (string | undefined)[] = ['end-mill', 'ball-mill', 'face-mill'];

/** A cut sideways at a depth that its cutter was not at before. */
export interface FluteStep {
  /** Line of the program from 0, and the modes. */
  readonly line: number;
  readonly modes: number;
  readonly tool: ToolShape;
  /** The depth before it: of the cutter's own cuts, or where its first one began. */
  readonly from: number;
  readonly level: number;
}

/** A cut that is lower than those before it in its segment. */
interface SegmentStep {
  readonly line: number;
  readonly modes: number;
  readonly tool: ToolShape;
  readonly level: number;
  /** Reached by a ramp or a helix, so in no step. */
  readonly ramp: boolean;
  /** Where the last rapid before it in the segment ended along Z, NaN without. */
  readonly approach: number;
}

interface SegmentSteps {
  readonly steps: readonly SegmentStep[];
  /** Level of the last rapid of the segment, NaN without. */
  readonly lastRapid: number;
}

/** All steps longer than the flutes, in the order of the run. `topOf` gives the top of the work under a set of modes. */
export const longSteps = (facts: ProgramFacts, topOf: (modes: number) => number): readonly FluteStep[] => {
  const found: FluteStep[] = [];
  const hasStock = stockShape(facts.configuration) !== undefined;
  let lastRapid = Number.NaN;
  let tool: ToolShape | undefined;
  let lowest = Infinity;
  for (const { segment, firstLine } of facts.passages()) {
    const span = segmentSpan(segment, facts);
    if (span !== undefined && isPassed(span, tool, lowest, facts)) {
      if (!Number.isNaN(span.lastRapid)) lastRapid = span.lastRapid;
      continue;
    }
    const own = stepsOf(segment, facts);
    for (const step of own.steps) {
      if (step.tool !== tool) lowest = Infinity;
      tool = step.tool;
      if (!(step.level < lowest)) continue;
      const flute = step.tool.row?.fluteLength ?? Infinity;
      const approach = Number.isNaN(step.approach) ? lastRapid : step.approach;
      const top = topOf(step.modes);
      // Where the last rapid ended nothing stands; with the blank given its top decides, since the tool may come down beside it.
      const begin = hasStock || !(approach < top) ? top : approach;
      const from = Math.min(lowest, begin);
      if (!step.ramp && from - step.level > flute + 1e-6) {
        found.push({ line: firstLine + step.line, modes: step.modes, tool, from, level: step.level });
      }
      lowest = step.level;
    }
    if (!Number.isNaN(own.lastRapid)) lastRapid = own.lastRapid;
  }
  return found;
};

/** True for a segment without a cut of such a mill below the lowest one of `tool` before it. */
const isPassed = (
  { modes, least }: SegmentSpan,
  tool: ToolShape | undefined,
  lowest: number,
  { configuration, pool }: ProgramFacts,
): boolean => {
  const own = toolShape(configuration, pool, modes);
  return !isFlutedMill(own) || (own === tool && !(least[2] < lowest));
};

const isFlutedMill = (tool: ToolShape): boolean => tool.row?.fluteLength !== undefined && MILLS.includes(tool.kind);

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
    if (kind === MoveKind.rapid && !Number.isNaN(level)) lastRapid = level;
    if (!(level < lowest) || (kind !== MoveKind.line && kind !== MoveKind.arc)) continue;
    if (!isFlutedMill(tool) || !goesSideways(segment, move)) continue;
    lowest = level;
    const ramp = startOf(segment, move, 2) > level;
    steps.push({ line: moves.lines[move], modes, tool, level, ramp, approach: lastRapid });
  }
  return { steps, lastRapid };
});
