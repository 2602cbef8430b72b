/** Gathers the facts of all segments for the rules that look across the program. */
import type { Configuration } from '../machine/configuration.ts';
import type { ModePool } from '../machine/modes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import type { LineChunk } from '../text/lineChunk.ts';
import { type Fact, FactKind, type Passage, type ProgramFacts } from './facts.ts';
import type { ProgramLayout } from './flow/layout.ts';
import { isLengthWithoutPoint } from './points.ts';
import { LineFlag, type Segment } from './segment.ts';
import { hasMotion, suspectArcs } from './support/arcNeighbours.ts';

/** A segment of the run with the text it was read from. */
export interface TextPassage extends Passage {
  readonly text: LineChunk;
  /** Line of `text` that it begins at. */
  readonly inChunk: number;
}

/** What the facts are gathered from. */
export interface FactInput {
  readonly configuration: Configuration;
  readonly pool: ModePool;
  readonly lineCount: number;
  /** In the order of the run. */
  readonly passages: readonly TextPassage[];
  /** True where jumps, loops or calls were carried out. */
  readonly inFlow: boolean;
  readonly layout: () => ProgramLayout;
  readonly lineText: (line: number) => string;
  readonly cutOffLine: number;
  readonly stop: ProgramFacts['stop'];
  readonly isKnownProgram: (number: number) => boolean;
  readonly fileOfProgram: (number: number) => string | undefined;
}

/** More facts of a kind that is made on demand than a rule may report findings are not made. */
const MOST_POINT_FACTS = 1001;

/** Facts that speak of what is written, not of what is done. */
const IN_ORDER_OF_LINES = new Set<Fact['kind']>([
  FactKind.tapeMark,
  FactKind.programNumber,
  FactKind.jumpTarget,
  FactKind.callTarget,
  FactKind.ignore,
  FactKind.blockMarker,
]);

/** Facts of a program; made for one reading of the findings. */
export class GatheredFacts implements ProgramFacts {
  readonly profile: ControlProfile;
  readonly configuration: Configuration;
  readonly pool: ModePool;
  readonly lineCount: number;
  readonly cutOffLine: number;
  readonly stop: ProgramFacts['stop'];
  private readonly input: FactInput;
  /** Passages that have facts, and the kinds of all of them as bits: most have none. */
  private readonly withFacts: TextPassage[] = [];
  private kinds = 0;

  constructor(input: FactInput) {
    this.input = input;
    this.configuration = input.configuration;
    this.profile = input.configuration.profile;
    this.pool = input.pool;
    this.lineCount = input.lineCount;
    this.cutOffLine = input.cutOffLine;
    this.stop = input.stop;
    for (const passage of input.passages) {
      const { factKinds } = passage.segment;
      if (factKinds === 0) continue;
      this.kinds |= factKinds;
      this.withFacts.push(passage);
    }
  }

  of(kind: Fact['kind']): readonly Fact[] {
    if (kind === FactKind.pointMissing) return this.pointFacts(LineFlag.noPoint, MOST_POINT_FACTS);
    if (kind === FactKind.pointUsed) return this.pointFacts(LineFlag.point, 1);
    if (kind === FactKind.arcAgainst) return this.arcFacts();
    const found: Fact[] = [];
    if ((this.kinds & (1 << kind)) === 0) return found;
    for (const { segment, firstLine } of this.withFacts) {
      if ((segment.factKinds & (1 << kind)) === 0) continue;
      for (const fact of segment.facts) if (fact.kind === kind) found.push({ ...fact, line: fact.line + firstLine });
    }
    return this.input.inFlow && IN_ORDER_OF_LINES.has(kind) ? found.sort((a, b) => a.line - b.line) : found;
  }

  passages(): readonly TextPassage[] {
    return this.input.passages;
  }

  get layout(): ProgramLayout {
    return this.input.layout();
  }

  linesOfSequenceNumber(number: number): readonly number[] {
    return this.layout.linesOfSequenceNumber(number);
  }

  get inFlow(): boolean {
    return this.input.inFlow;
  }

  fileOfProgram(number: number): string | undefined {
    return this.input.fileOfProgram(number);
  }

  isKnownProgram(number: number): boolean {
    return this.input.isKnownProgram(number);
  }

  get isSubprogramFile(): boolean {
    const has = (kind: number): boolean => (this.kinds & (1 << kind)) !== 0;
    return has(FactKind.subprogramEnd) && !has(FactKind.toolChange) && !has(FactKind.offsetSelected);
  }

  lineText(line: number): string {
    return this.input.lineText(line);
  }

  /** Arcs that double back; their columns are found in the text. */
  private arcFacts(): Fact[] {
    const found: Fact[] = [];
    let next: Segment | undefined;
    const { passages } = this.input;
    for (let index = passages.length - 1; index >= 0; index--) {
      const { segment, firstLine } = passages[index];
      const arcs = (segment.flags & LineFlag.arc) === 0 ? [] : suspectArcs(segment, next, this.pool);
      for (let i = arcs.length - 1; i >= 0; i--) {
        const line = firstLine + arcs[i].line;
        const text = arcs[i].clockwise ? 'clockwise' : 'counter-clockwise';
        found.push({ kind: FactKind.arcAgainst, line, column: 0, endColumn: 0, a: 0, b: 0, c: 0, d: 0, e: 0, text });
      }
      if (hasMotion(segment)) next = segment;
    }
    return found.reverse();
  }

  /** Facts about decimal points, read again from the lines that are flagged. */
  private pointFacts(flag: number, most: number): Fact[] {
    const found: Fact[] = [];
    const reader = new BlockReader(this.profile);
    const block = new Block();
    for (const { segment, text, inChunk, firstLine } of this.input.passages) {
      if (found.length >= most) break;
      if ((segment.flags & flag) === 0) continue;
      for (let line = 0; line < segment.blockCount && found.length < most; line++) {
        if ((segment.lineFlags[line] & flag) === 0) continue;
        reader.read(text.source, text.lineStart(inChunk + line), text.lineEnd(inChunk + line), block, undefined);
        this.pointFactsOf(block, flag, firstLine + line, found);
      }
    }
    return found;
  }

  private pointFactsOf(block: Block, flag: number, line: number, found: Fact[]): void {
    const kind = flag === LineFlag.point ? FactKind.pointUsed : FactKind.pointMissing;
    for (let i = 0; i < block.wordCount; i++) {
      if (flag === LineFlag.noPoint && !isLengthWithoutPoint(block, i)) continue;
      const column = block.starts[i] - block.start;
      const endColumn = block.ends[i] - block.start;
      found.push({ kind, line, column, endColumn, a: i, b: 0, c: 0, d: 0, e: 0, text: '' });
      if (flag === LineFlag.point) return;
    }
  }
}
