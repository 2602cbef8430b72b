/** One line that hints are looked for in, with the modes behind it and its moves: read off what was executed. */
import type { Analysis } from '../checks/analysis.ts';
import type { Segment } from '../checks/segment.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../machine/moves.ts';
import type { Block } from '../syntax/block.ts';
import { shortNumber } from './hoverPlace.ts';
import type { InlayHintText } from './inlayHints.ts';

/** Lines [from, to) of the program that one first pass came through; `firstLine` is that of the segment. */
export interface HintStretch {
  readonly segment: Segment;
  readonly firstLine: number;
  readonly from: number;
  readonly to: number;
}

/** See the top of the file. */
export class HintLine {
  readonly analysis: Analysis;
  readonly configuration: Configuration;
  readonly line: number;
  readonly text: string;
  /** The same with blanks for remarks: columns stay. */
  readonly code: string;
  /** Set of modes behind the line. */
  readonly modes: number;
  private readonly stretch: HintStretch;

  constructor(analysis: Analysis, configuration: Configuration, stretch: HintStretch, line: number) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.stretch = stretch;
    this.line = line;
    this.text = analysis.lineText(line);
    this.code = withoutRemarks(this.text);
    this.modes = stretch.segment.modesAfter[line - stretch.firstLine];
  }

  /** True for a block that is deleted or has no words. */
  get isSkipped(): boolean {
    if (this.code.trim() === '') return true;
    return this.configuration.blockDelete === 'skip' && this.code.trimStart().startsWith('/');
  }

  /** A mode behind the line. */
  mode(field: number): number {
    return this.analysis.modePool.at(this.modes, field);
  }

  get isInch(): boolean {
    return this.mode(Mode.units) === 20;
  }

  get isCompensated(): boolean {
    return this.mode(Mode.radiusCompensation) !== 40;
  }

  /** A length in mm as a number of the program's units. */
  length(millimetres: number): string {
    return this.isInch ? shortNumber(millimetres / 25.4, 4) : shortNumber(millimetres, 3);
  }

  /** The moves as they are programmed: under radius compensation the contour. */
  get moves(): MoveTable {
    const { moves, contour } = this.stretch.segment;
    return this.isCompensated && contour !== undefined ? contour : moves;
  }

  /** Places of the line's moves in `moves`: [first, behind the last). */
  get ownMoves(): readonly [number, number] {
    const inside = this.line - this.stretch.firstLine;
    const { moves } = this;
    return [moves.firstOfLine(inside), moves.firstOfLine(inside + 1)];
  }

  /** X, Y or Z behind a move of `moves`, −1 for before the first. */
  reached(move: number, axis: number): number {
    return move < 0 ? this.stretch.segment.entry.position[axis] : this.moves.ends[move * 3 + axis];
  }

  /** The line's arc, if it has exactly one: its place in `moves` and in the extra numbers. */
  get arc(): { readonly move: number; readonly extra: number } | undefined {
    const { moves } = this;
    const [first, end] = this.ownMoves;
    let found: number | undefined;
    for (let move = first; move < end; move++) {
      if ((moves.kinds[move] & MoveFlag.kindMask) !== MoveKind.arc) continue;
      if (found !== undefined) return undefined;
      found = move;
    }
    if (found === undefined) return undefined;
    const row = moves.firstExtra(found);
    return moves.extraMoves[row] === found ? { move: found, extra: row * EXTRA_WIDTH } : undefined;
  }

  /** A hint that says which pass its numbers are of, where there are several. */
  withPasses(hint: InlayHintText): InlayHintText {
    const passes = this.passesAround;
    return passes > 1 ? { ...hint, tooltip: `${hint.tooltip} The first of ${passes} passes.` } : hint;
  }

  /** Passes in all of the innermost loop around the line, 0 where it stands in none. */
  private get passesAround(): number {
    if (this.analysis.runsStraight) return 0;
    let head = -1;
    for (const loop of this.analysis.layout.loops) if (loop.head < this.line && this.line < loop.end) head = loop.head;
    return head < 0 ? 0 : this.analysis.timesBackAt(head);
  }
}

/** Column behind a word of a block, without the blanks that belong to an expression. */
export const columnBehind = (block: Block, word: number): number =>
  block.starts[word] - block.start + block.wordText(word).trimEnd().length;

/** A line with blanks in place of its remarks. */
function withoutRemarks(text: string): string {
  const blank = (remark: string): string => ' '.repeat(remark.length);
  const bare = text.replace(/\([^)]*\)?|;.*$/g, blank);
  return /^\s*\/\//.test(bare) ? '' : bare;
}
