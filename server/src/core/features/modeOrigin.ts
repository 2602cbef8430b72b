/**
 * Where something that holds at a line was set: back along the run, block by block, to the last one that set it. The run
 * is followed as it came to the line for the first time; chunks that cannot hold it are passed by.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { ProgramUnit } from '../checks/flow/layout.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { MoveFlag } from '../machine/moves.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import { type ChunkDigest, digestOf } from './modeOriginDigest.ts';
import { modeFinder, type OriginFinder, type OriginMode } from './modeOriginFinders.ts';
import { type ProgramText, type TextSpan, textOfAnalysis, textOfFile } from './referencesText.ts';
import { callToken, hasM } from './referencesTokens.ts';

/** A place in the program, or in the file of a program that it calls. */
export interface OriginPlace extends TextSpan {
  /** Program number whose own file it is in; left out for the program's own text. */
  readonly program?: number;
}

/** Lines that were run one after the other. */
interface Stretch {
  readonly firstLine: number;
  /** Line behind the last one. */
  readonly endLine: number;
}

/** Calls within calls that are looked into. */
const DEPTH = 8;
const ENDED = 'ended';

/** Follows the run of one program backwards. */
export class RunBack {
  private readonly analysis: Analysis;
  private readonly text: ProgramText;
  private readonly skipsDeleted: boolean;
  private readonly reader: BlockReader;
  private readonly block = new Block();
  private readonly stretches: readonly Stretch[];
  /** Lines, ascending, at which another program of the file begins and everything is as at power-on. */
  private readonly starts: readonly number[];

  constructor(analysis: Analysis, configuration: Configuration) {
    this.analysis = analysis;
    this.text = textOfAnalysis(analysis, configuration.profile);
    this.skipsDeleted = configuration.blockDelete === 'skip';
    this.reader = new BlockReader(configuration.profile);
    const stretches: Stretch[] = [];
    const starts: number[] = [];
    for (const { segment, firstLine } of analysis.passages()) {
      if (segment.pass !== 1 || segment.blockCount === 0) continue;
      stretches.push({ firstLine, endLine: firstLine + segment.blockCount });
      const { count, kinds, lines } = segment.moves;
      for (let i = 0; i < count; i++) if ((kinds[i] & MoveFlag.programStart) !== 0) starts.push(firstLine + lines[i]);
    }
    this.stretches = stretches;
    this.starts = starts.sort((a, b) => a - b);
  }

  /** The block that set it last before a line, the line itself included; undefined where none did. */
  at(line: number, finder: OriginFinder): OriginPlace | undefined {
    const found = finder.find(this.analysis.readBlock(line));
    return found === undefined ? this.before(line, finder) : { line, ...found };
  }

  /** The word that set a mode which is in force behind a line; undefined where it never was, or was lost. */
  ofMode(line: number, mode: OriginMode): OriginPlace | undefined {
    // F is lost where the feed mode changes.
    if (mode === 'feed' && !(this.analysis.stateAfter(line).modes[Mode.feed] >= 0)) return undefined;
    return this.at(line, modeFinder(mode, this.text.profile));
  }

  /** The same without the line itself. */
  before(line: number, finder: OriginFinder): OriginPlace | undefined {
    const found = this.search(line, finder);
    return found === ENDED ? undefined : found;
  }

  /** Where a further pass of the innermost loop around a line finds it set, behind the line; undefined where it does not. */
  inFurtherPass(line: number, finder: OriginFinder): OriginPlace | undefined {
    if (this.analysis.runsStraight) return undefined;
    const around = this.text.layout.loops.filter(({ head, end }) => head < line && line < end);
    const loop = around[around.length - 1];
    if (loop === undefined || this.analysis.timesBackAt(loop.head) < 2) return undefined;
    const found = this.inLines(this.text, loop.end - 1, line + 1, finder, 0, undefined);
    return found === ENDED ? undefined : found;
  }

  private search(line: number, finder: OriginFinder): OriginPlace | typeof ENDED | undefined {
    if (this.starts.includes(line)) return ENDED;
    let index = this.stretches.findIndex(({ firstLine, endLine }) => firstLine <= line && line < endLine);
    // A line that is never reached is read as it stands.
    if (index < 0)
      return this.inLines(this.text, line - 1, this.text.layout.unitOf(line).firstLine, finder, 0, undefined);
    let last = line - 1;
    for (; index >= 0; index--) {
      const { firstLine } = this.stretches[index];
      const found = this.inLines(this.text, last, firstLine, finder, 0, this.stretches[index + 1]?.firstLine);
      if (found !== undefined) return found;
      last = index === 0 ? -1 : this.stretches[index - 1].endLine - 1;
    }
    return undefined;
  }

  /** Looks through lines backwards. `follower` is where the run went on behind the last of them. */
  private inLines(
    text: ProgramText,
    last: number,
    first: number,
    finder: OriginFinder,
    depth: number,
    follower: number | undefined,
  ): OriginPlace | typeof ENDED | undefined {
    const start = depth > 0 ? -1 : (this.starts.filter((at) => at <= last).at(-1) ?? -1);
    const found = this.inLinesOf(text, last, Math.max(first, start), finder, depth, follower);
    return found === undefined && start >= first ? ENDED : found;
  }

  private inLinesOf(
    text: ProgramText,
    last: number,
    first: number,
    finder: OriginFinder,
    depth: number,
    follower: number | undefined,
  ): OriginPlace | typeof ENDED | undefined {
    let line = last;
    while (line >= first) {
      const index = chunkAt(text, line);
      const chunk = text.chunkText(index);
      const chunkFirst = text.chunkFirstLine(index);
      const from = Math.max(first, chunkFirst);
      const digest = digestOf(chunk);
      if (!finder.mayHold(digest) && !leadsElsewhere(digest)) {
        line = from - 1;
        continue;
      }
      for (; line >= from; line--) {
        const { block } = this;
        const inside = line - chunkFirst;
        this.reader.read(chunk.source, chunk.lineStart(inside), chunk.lineEnd(inside), block, undefined);
        if (this.skipsDeleted && block.deleteLevel > 0) continue;
        const behind = line === last ? follower : undefined;
        const found = this.inBlock(text, line, finder, depth, behind);
        if (found !== undefined) return found;
      }
    }
    return undefined;
  }

  private inBlock(
    text: ProgramText,
    line: number,
    finder: OriginFinder,
    depth: number,
    follower: number | undefined,
  ): OriginPlace | typeof ENDED | undefined {
    const { block } = this;
    const call = block.codeCount > 0 ? callToken(block, text.profile) : undefined;
    if (call?.number !== undefined) {
      const unit = text.layout.unitOfNumber(call.number);
      const isInside = unit !== undefined && follower !== undefined && isIn(unit, follower);
      if (isInside && call.isMacro && finder.findInCall !== undefined && finder.isWithin?.(follower) !== false) {
        const given = finder.findInCall(block);
        return given === undefined ? ENDED : { line, ...given };
      }
      const isOwn = call.isMacro && finder.findInCall !== undefined;
      const own = finder.isWithin?.(line) === false ? undefined : finder.find(block);
      const found = isInside || isOwn ? undefined : this.inCalled(text, call.number, unit, finder, depth);
      if (found !== undefined) return found;
      return own === undefined ? undefined : { line, ...own };
    }
    if (finder.isWithin?.(line) === false) return undefined;
    const found = finder.find(block);
    if (found !== undefined) return { line, ...found };
    return hasM(block, 30) || hasM(block, 2) ? ENDED : undefined;
  }

  /** The last that a called program sets. */
  private inCalled(
    text: ProgramText,
    number: number,
    unit: ProgramUnit | undefined,
    finder: OriginFinder,
    depth: number,
  ): OriginPlace | undefined {
    if (depth >= DEPTH) return undefined;
    if (unit !== undefined) {
      const found = this.inLines(text, unit.endLine - 1, unit.firstLine, finder, depth + 1, undefined);
      return found === ENDED ? undefined : found;
    }
    const source = this.analysis.programFacts().fileOfProgram(number);
    if (source === undefined) return undefined;
    const file = textOfFile(source, text.profile);
    const called = file.layout.unitOfNumber(number) ?? file.layout.units[0];
    const found = this.inLines(file, called.endLine - 1, called.firstLine, finder, depth + 1, undefined);
    return found === ENDED || found === undefined ? undefined : { program: number, ...found };
  }
}

const isIn = ({ firstLine, endLine }: ProgramUnit, line: number): boolean => firstLine <= line && line < endLine;

const leadsElsewhere = (digest: ChunkDigest): boolean => digest.hasCalls || digest.hasM(2) || digest.hasM(30);

const chunkAt = (text: ProgramText, line: number): number => {
  let low = 0;
  let high = text.chunkCount - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (text.chunkFirstLine(middle) <= line) low = middle;
    else high = middle - 1;
  }
  return low;
};
