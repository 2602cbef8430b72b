/**
 * Numbers that a block comes to and does not say, for showing between its words: where an axis ends up under G91, what a
 * variable comes to, a thread's feed a turn, turns and lead of a helix, radius of an arc. Never what stands in the block
 * already. Lines and columns count from 0; numbers are in the program's units, of the first pass where there are several.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Segment } from '../checks/segment.ts';
import type { Configuration } from '../machine/configuration.ts';
import { HintLine, type HintStretch } from './inlayHintsLine.ts';
import { motionHints } from './inlayHintsMotion.ts';
import { HintValues } from './inlayHintsValues.ts';

/** Kinds of hints, each with a setting of its name. */
export const HINT_KINDS = ['position', 'feedPerTurn', 'helix', 'arcRadius', 'spindleSpeed', 'values'] as const;

export type HintKind = (typeof HINT_KINDS)[number];

/** A few characters behind a column. */
export interface InlayHintText {
  readonly kind: HintKind;
  readonly line: number;
  readonly column: number;
  /** At most 14 characters. */
  readonly label: string;
  readonly tooltip: string;
}

/** Nobody sees more lines than these at once. */
const MOST_LINES = 2000;
/** Lines looked at without a pause. */
const BATCH = 100;
const LONGEST = 14;

/** Finds the hints of the lines from `first` to `last` in steps; the outcome comes last. The analysis must be up to date. */
export function* hintSteps(
  analysis: Analysis,
  configuration: Configuration,
  first: number,
  last: number,
  kinds: ReadonlySet<HintKind>,
): Generator<undefined, InlayHintText[]> {
  const found: InlayHintText[] = [];
  const budget = { runs: 0 };
  let count = 0;
  for (const stretch of stretchesIn(analysis, first, Math.min(last, first + MOST_LINES - 1))) {
    const values = new HintValues(analysis, configuration, stretch, budget);
    for (let line = stretch.from; line < stretch.to; line++) {
      if (++count % BATCH === 0) yield undefined;
      const at = new HintLine(analysis, configuration, stretch, line);
      if (at.isSkipped) continue;
      const reading = values.read(at);
      for (const hint of [...reading.hints, ...motionHints(at, reading.block)]) {
        if (kinds.has(hint.kind) && hint.label.length <= LONGEST) found.push(at.withPasses(hint));
      }
    }
  }
  return found.sort((a, b) => a.line - b.line || a.column - b.column);
}

/** The first passes through the lines of a range, in the order of the text; lines that are never reached have none. */
function stretchesIn(analysis: Analysis, first: number, last: number): HintStretch[] {
  const found: HintStretch[] = [];
  const take = (segment: Segment, firstLine: number): void => {
    const from = Math.max(first, firstLine);
    const to = Math.min(last + 1, firstLine + segment.blockCount);
    if (segment.pass === 1 && from < to) found.push({ segment, firstLine, from, to });
  };
  if (!analysis.runsStraight) {
    for (const { segment, firstLine } of analysis.passages()) take(segment, firstLine);
    return found.sort((a, b) => a.from - b.from);
  }
  const { chunks } = analysis;
  for (let index = analysis.chunkOfLine(first); index < chunks.length; index++) {
    const firstLine = analysis.chunkFirstLine(index);
    if (firstLine > last) break;
    for (const segment of chunks[index].segments) take(segment, firstLine);
  }
  return found;
}
