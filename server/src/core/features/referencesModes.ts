/** The moves that run under something that a word set: a feed, a tool, a work offset. */
import type { Analysis } from '../checks/analysis.ts';
import type { Passage } from '../checks/facts.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { MoveFlag, MoveKind, type MoveTable } from '../machine/moves.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import { digestOf } from './modeOriginDigest.ts';
import { modeFinder, type OriginFinder, type OriginMode } from './modeOriginFinders.ts';
import { hasM } from './referencesTokens.ts';

/** Passages that are looked at between two pauses. */
const BATCH = 16;

/** Modes whose value says at once which moves run under it, wherever it was set. */
const BY_VALUE: Readonly<Partial<Record<OriginMode, number>>> = { tool: Mode.tool, offset: Mode.offset };

/** Modes that a move keeps the value of: a move of another value was set elsewhere, in a further pass or a call. */
const KEPT: Readonly<Partial<Record<OriginMode, number>>> = {
  feed: Mode.feed,
  speed: Mode.speed,
  plane: Mode.plane,
  distance: Mode.distance,
  units: Mode.units,
};

/** True where a move belongs to what was asked for: rapids have no feed. */
const isMove = (kinds: number, mode: OriginMode): boolean => {
  const kind = kinds & MoveFlag.kindMask;
  if (kind === MoveKind.line || kind === MoveKind.arc) return true;
  return kind === MoveKind.rapid && mode !== 'feed';
};

/**
 * Lines with moves under a mode that the block at `line` set, ascending, at most `most` and one more. A feed, speed or
 * plane counts from the place where it was set to the next one in the order of the run, as lines are run for the first
 * time; a tool and a work offset count wherever they are in force.
 */
export const linesUnderMode = (
  analysis: Analysis,
  configuration: Configuration,
  mode: OriginMode,
  line: number,
  most: number,
): Generator<undefined, number[]> => {
  const field = BY_VALUE[mode];
  if (field === undefined) return new RunForward(analysis, configuration, mode, line, most).lines();
  return linesByValue(analysis, mode, field, analysis.stateAfter(line).modes[field], most);
};

function* linesByValue(
  analysis: Analysis,
  mode: OriginMode,
  field: number,
  value: number,
  most: number,
): Generator<undefined, number[]> {
  const found = new Set<number>();
  const known = new Map<number, boolean>();
  const fits = (id: number): boolean => {
    let is = known.get(id);
    if (is === undefined) known.set(id, (is = analysis.modePool.at(id, field) === value));
    return is;
  };
  let count = 0;
  for (const { segment, firstLine } of analysis.passages()) {
    if (count++ % BATCH === BATCH - 1) yield undefined;
    const { moves } = segment;
    for (let i = 0; i < moves.count && found.size <= most; i++) {
      if (isMove(moves.kinds[i], mode) && fits(moves.modes[i])) found.add(firstLine + moves.lines[i]);
    }
    if (found.size > most) break;
  }
  return [...found].sort((a, b) => a - b);
}

/** Follows the run forward and takes notice of who set the mode last. */
class RunForward {
  private readonly analysis: Analysis;
  private readonly configuration: Configuration;
  private readonly mode: OriginMode;
  private readonly line: number;
  private readonly most: number;
  private readonly finder: OriginFinder;
  private readonly field: number | undefined;
  private readonly value: number;
  private readonly found = new Set<number>();
  private readonly reader: BlockReader;
  private readonly block = new Block();
  private isActive = false;

  constructor(analysis: Analysis, configuration: Configuration, mode: OriginMode, line: number, most: number) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.mode = mode;
    this.line = line;
    this.most = most;
    this.finder = modeFinder(mode, configuration.profile);
    this.field = KEPT[mode];
    this.value = this.field === undefined ? Number.NaN : analysis.stateAfter(line).modes[this.field];
    this.reader = new BlockReader(configuration.profile);
  }

  *lines(): Generator<undefined, number[]> {
    let count = 0;
    for (const passage of this.analysis.passages()) {
      if (count++ % BATCH === BATCH - 1) yield undefined;
      const { segment, firstLine } = passage;
      if (segment.pass !== 1 || segment.blockCount === 0) continue;
      const holds = firstLine <= this.line && this.line < firstLine + segment.blockCount;
      if (this.isActive || holds) this.take(passage);
      if (this.found.size > this.most) break;
    }
    return [...this.found].sort((a, b) => a - b);
  }

  private take({ segment, firstLine }: Passage): void {
    const { moves, blockCount } = segment;
    const { analysis, finder, reader, block } = this;
    const index = analysis.chunkOfLine(firstLine);
    const text = analysis.chunkText(index);
    const inChunk = firstLine - analysis.chunkFirstLine(index);
    const digest = digestOf(text);
    const mayChange = finder.mayHold(digest) || digest.hasM(2) || digest.hasM(30);
    const skipsDeleted = this.configuration.blockDelete === 'skip';
    let move = 0;
    if (!mayChange) {
      if (this.isActive) this.addMoves(moves, 0, Number.POSITIVE_INFINITY, firstLine);
      return;
    }
    for (let line = 0; line < blockCount; line++) {
      reader.read(text.source, text.lineStart(inChunk + line), text.lineEnd(inChunk + line), block, undefined);
      if (!(skipsDeleted && block.deleteLevel > 0)) {
        if (finder.find(block) !== undefined) this.isActive = firstLine + line === this.line;
        move = this.addMoves(moves, move, line, firstLine);
        if (hasM(block, 2) || hasM(block, 30)) this.isActive = false;
      }
    }
  }

  /** Takes the moves up to a line of the segment, if they count; returns the place of the first one behind it. */
  private addMoves(moves: MoveTable, from: number, line: number, firstLine: number): number {
    let move = from;
    for (; move < moves.count && moves.lines[move] <= line; move++) {
      if (!this.isActive || this.found.size > this.most || !isMove(moves.kinds[move], this.mode)) continue;
      const { field } = this;
      if (field !== undefined && this.analysis.modePool.at(moves.modes[move], field) !== this.value) continue;
      this.found.add(firstLine + moves.lines[move]);
    }
    return move;
  }
}
