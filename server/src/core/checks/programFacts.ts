/** Gathers the facts of all segments for the rules that look across the program. */
import type { Configuration } from '../machine/configuration.ts';
import type { ModePool } from '../machine/modes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import type { LineChunk } from '../text/lineChunk.ts';
import { type Fact, FactKind, type Passage, type ProgramFacts } from './facts.ts';
import { isLengthWithoutPoint } from './points.ts';
import { LineFlag, type Segment } from './segment.ts';
import { hasMotion, suspectArcs } from './support/arcNeighbours.ts';

/** A chunk as the facts see it. */
export interface FactChunk {
  readonly text: LineChunk;
  readonly segment: Segment | undefined;
}

/** More facts of a kind that is made on demand than a rule may report findings are not made. */
const MOST_POINT_FACTS = 1001;

const sequenceNumbers = new WeakMap<LineChunk, Map<number, number[]>>();

const numbersOf = (text: LineChunk): Map<number, number[]> => {
  const known = sequenceNumbers.get(text);
  if (known !== undefined) return known;
  const numbers = new Map<number, number[]>();
  for (let line = 0; line < text.lineCount; line++) {
    const match = /^[\s%/]*[1-9]?\s*N\s*(\d+)/i.exec(
      text.source.slice(text.lineStart(line), Math.min(text.lineEnd(line), text.lineStart(line) + 40)),
    );
    if (match === null) continue;
    const number = Number(match[1]);
    const lines = numbers.get(number);
    if (lines === undefined) numbers.set(number, [line]);
    else lines.push(line);
  }
  sequenceNumbers.set(text, numbers);
  return numbers;
};

/** Facts of a program; made for one reading of the findings. */
export class GatheredFacts implements ProgramFacts {
  readonly profile: ControlProfile;
  readonly configuration: Configuration;
  readonly pool: ModePool;
  readonly lineCount: number;
  private readonly chunks: readonly FactChunk[];
  private readonly firstLine: (chunk: number) => number;
  private readonly textOf: (line: number) => string;
  /** Chunks that have facts, and the kinds of all of them as bits: most chunks have none. */
  private readonly withFacts: number[] = [];
  private kinds = 0;

  readonly cutOffLine: number;
  readonly mostMoves: number;

  constructor(
    configuration: Configuration,
    chunks: readonly FactChunk[],
    pool: ModePool,
    lineCount: number,
    firstLine: (chunk: number) => number,
    textOf: (line: number) => string,
    limit: { readonly cutOffLine: number; readonly mostMoves: number },
  ) {
    this.configuration = configuration;
    this.profile = configuration.profile;
    this.chunks = chunks;
    this.pool = pool;
    this.lineCount = lineCount;
    this.firstLine = firstLine;
    this.textOf = textOf;
    this.cutOffLine = limit.cutOffLine;
    this.mostMoves = limit.mostMoves;
    for (let index = 0; index < chunks.length; index++) {
      const kinds = chunks[index].segment?.factKinds ?? 0;
      if (kinds === 0) continue;
      this.kinds |= kinds;
      this.withFacts.push(index);
    }
  }

  of(kind: Fact['kind']): readonly Fact[] {
    if (kind === FactKind.pointMissing) return this.pointFacts(LineFlag.noPoint, MOST_POINT_FACTS);
    if (kind === FactKind.pointUsed) return this.pointFacts(LineFlag.point, 1);
    if (kind === FactKind.arcAgainst) return this.arcFacts();
    const found: Fact[] = [];
    if ((this.kinds & (1 << kind)) === 0) return found;
    for (const index of this.withFacts) {
      const { segment } = this.chunks[index];
      if (segment === undefined || (segment.factKinds & (1 << kind)) === 0) continue;
      const first = this.firstLine(index);
      for (const fact of segment.facts) if (fact.kind === kind) found.push({ ...fact, line: fact.line + first });
    }
    return found;
  }

  *passages(): Generator<Passage> {
    for (let index = 0; index < this.chunks.length; index++) {
      const { segment } = this.chunks[index];
      if (segment !== undefined) yield { segment, firstLine: this.firstLine(index) };
    }
  }

  linesOfSequenceNumber(number: number): readonly number[] {
    const found: number[] = [];
    this.chunks.forEach(({ text }, index) => {
      const lines = numbersOf(text).get(number);
      if (lines !== undefined) for (const line of lines) found.push(line + this.firstLine(index));
    });
    return found;
  }

  get isSubprogramFile(): boolean {
    const has = (kind: number): boolean => (this.kinds & (1 << kind)) !== 0;
    return has(FactKind.subprogramEnd) && !has(FactKind.toolChange) && !has(FactKind.offsetSelected);
  }

  lineText(line: number): string {
    return this.textOf(line);
  }

  /** Arcs that double back; their columns are found in the text. */
  private arcFacts(): Fact[] {
    const found: Fact[] = [];
    let next: Segment | undefined;
    for (let index = this.chunks.length - 1; index >= 0; index--) {
      const { segment } = this.chunks[index];
      if (segment === undefined) continue;
      const arcs = (segment.flags & LineFlag.arc) === 0 ? [] : suspectArcs(segment, next, this.pool);
      for (let i = arcs.length - 1; i >= 0; i--) {
        const line = this.firstLine(index) + arcs[i].line;
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
    for (let index = 0; index < this.chunks.length && found.length < most; index++) {
      const { segment, text } = this.chunks[index];
      if (segment === undefined || (segment.flags & flag) === 0) continue;
      for (let line = 0; line < segment.blockCount && found.length < most; line++) {
        if ((segment.lineFlags[line] & flag) === 0) continue;
        reader.read(text.source, text.lineStart(line), text.lineEnd(line), block, undefined);
        this.pointFactsOf(block, flag, this.firstLine(index) + line, found);
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
