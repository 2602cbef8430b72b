/** What an outline is made of, gathered from the segments of a run: facts, cuts, loops and generated blocks by their lines. */
import type { Analysis } from '../checks/analysis.ts';
import { type Fact, FactKind } from '../checks/facts.ts';
import type { Loop } from '../checks/flow/layout.ts';
import type { Segment } from '../checks/segment.ts';
import type { Configuration } from '../machine/configuration.ts';
import { type RevisableBlock, revisableBlocks } from './generatedBlocks.ts';
import { type CutOperation, Operations } from './operations.ts';
import { Digester } from './operationsDigest.ts';

/** One thing at a line of the program. */
export type OutlinePart = { readonly line: number } & (
  | { readonly kind: 'fact'; readonly fact: Fact; readonly modes: number }
  | { readonly kind: 'cut'; readonly cut: CutOperation }
  | { readonly kind: 'loop'; readonly loop: Loop }
  | { readonly kind: 'block'; readonly found: RevisableBlock }
);

const KINDS = new Set<Fact['kind']>([FactKind.programNumber, FactKind.toolChange, FactKind.hole, FactKind.callTarget]);
/** Of things at one line, which comes first. */
const ORDER: Readonly<Record<OutlinePart['kind'], number>> = { loop: 0, block: 1, fact: 2, cut: 3 };
/** Segments looked at without a pause: some thousand blocks. */
const BATCH = 16;
/** A cut goes on in a segment that begins so many lines further on at most. */
const REACH = 50;

/** Gathers the parts in steps, sorted by line; of one line in the order of the run. */
export function* outlineParts(analysis: Analysis, configuration: Configuration): Generator<undefined, OutlinePart[]> {
  const gathering = new Gathering(analysis, configuration);
  let count = 0;
  for (const { segment, firstLine } of analysis.passages()) {
    gathering.addSegment(segment, firstLine);
    if (++count % BATCH === 0) yield undefined;
  }
  const { parts } = gathering;
  for (const found of revisableBlocks(analysis)) parts.push({ kind: 'block', line: found.block.firstLine, found });
  for (const loop of analysis.runsStraight ? [] : analysis.layout.loops) {
    if (loop.end >= 0) parts.push({ kind: 'loop', line: loop.head, loop });
  }
  return parts.sort((a, b) => a.line - b.line || ORDER[a.kind] - ORDER[b.kind]);
}

class Gathering {
  readonly parts: OutlinePart[] = [];
  private readonly digester: Digester;
  private readonly operations: Operations;
  private readonly isStraight: boolean;
  /** Cuts by the line that they begin at: later passes add to those of the first. */
  private readonly byLine = new Map<number, CutOperation>();
  /** The run of the segment before that may go on. */
  private last: CutOperation | undefined;

  constructor(analysis: Analysis, configuration: Configuration) {
    this.digester = new Digester(analysis, configuration);
    this.operations = new Operations(configuration, analysis.modePool);
    this.isStraight = analysis.runsStraight;
  }

  addSegment(segment: Segment, firstLine: number): void {
    for (const fact of segment.facts) {
      if (!KINDS.has(fact.kind)) continue;
      this.parts.push({ kind: 'fact', line: firstLine + fact.line, fact, modes: modesAt(segment, fact.line) });
    }
    // Lines that were only read move nothing.
    if (segment.pass === 0) return;
    const { runs, endsCutting } = this.digester.of(segment);
    for (const run of runs) {
      const cut = this.operations.begin(run, firstLine);
      if (run.isOpen && this.last !== undefined && this.goesOn(this.last, cut)) {
        this.operations.goOn(this.last, cut);
      } else this.addCut(cut);
    }
    if (runs.length > 0 || segment.moves.count > 0) {
      if (!endsCutting) this.last = undefined;
    }
  }

  private goesOn(last: CutOperation, cut: CutOperation): boolean {
    // A jump or a call may have led elsewhere.
    const isNear = this.isStraight || (cut.line >= last.endLine && cut.line - last.endLine <= REACH);
    return isNear && this.operations.isSameSetting(last, cut);
  }

  private addCut(cut: CutOperation): void {
    const before = this.isStraight ? undefined : this.byLine.get(cut.line);
    this.last = before ?? cut;
    if (before !== undefined) {
      this.operations.add(before, { ...cut, count: 0 });
      return;
    }
    if (!this.isStraight) this.byLine.set(cut.line, cut);
    this.parts.push({ kind: 'cut', line: cut.line, cut });
  }
}

/** The set of modes that a line runs under; where passes are put together, that at their head. */
const modesAt = (segment: Segment, line: number): number =>
  line >= 0 && line < segment.blockCount ? segment.modesAfter[line] : segment.entry.modes;
