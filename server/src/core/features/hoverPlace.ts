/** One block with the states around it, for explaining it. */
import type { Analysis, MachineState } from '../checks/analysis.ts';
import type { ProgramLayout } from '../checks/flow/layout.ts';
import type { Configuration, ToolRow } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { type Plane, planeOf } from '../machine/planes.ts';
import { type Block, letterIndex } from '../syntax/block.ts';
import type { VariableName } from '../syntax/variables.ts';
import { type TracedMove, tracedMoves } from './trace.ts';

/** A word's explanation: the word, its columns, the sentence. */
export interface WordText {
  readonly title: string;
  readonly range: readonly [number, number];
  readonly text: string;
}

/** Markdown that names a line (from 0) and leads there. */
export type LineLink = (line: number) => string;

const AXES = 'XYZABCUVW';
/** More moves than these of one block are not looked at. */
const MOST_MOVES = 10_000;

/** What explaining a block draws on. */
export class HoverPlace {
  readonly configuration: Configuration;
  readonly line: number;
  readonly block: Block;
  readonly before: MachineState;
  readonly after: MachineState;
  readonly moves: readonly TracedMove[];
  readonly plane: Plane;
  /** Millimetres a unit of the program, and the unit's sign. */
  readonly unit: number;
  readonly unitName: 'mm' | 'in';
  readonly analysis: Analysis;
  /** `line 5` for a line from 0, as a link where the caller makes one. */
  readonly link: LineLink;

  constructor(analysis: Analysis, configuration: Configuration, line: number, link: LineLink) {
    this.analysis = analysis;
    this.link = link;
    this.configuration = configuration;
    this.line = line;
    this.block = analysis.readBlock(line);
    this.before = analysis.stateBefore(line);
    this.after = analysis.stateAfter(line);
    this.unit = this.mode(Mode.units) === 20 ? 25.4 : 1;
    this.unitName = this.unit === 1 ? 'mm' : 'in';
    this.plane = planeOf(this.mode(Mode.plane));
    this.moves = this.movesOfBlock();
  }

  /** True if the run comes to this block. */
  get isReached(): boolean {
    return this.analysis.isReached(this.line);
  }

  /** True if nothing in the program jumps, loops or calls. */
  get runsStraight(): boolean {
    return this.analysis.runsStraight;
  }

  /** True if the run ends before the program does. */
  get isCutOff(): boolean {
    return this.analysis.stopped !== undefined;
  }

  /** Programs, sequence numbers and loops of the text. */
  get layout(): ProgramLayout {
    return this.analysis.layout;
  }

  /** True if the text is a subprogram that others call. */
  get isSubprogramFile(): boolean {
    return this.analysis.isSubprogramFile;
  }

  /** How often the run came back to a line. */
  timesBackAt(line: number): number {
    return this.analysis.timesBackAt(line);
  }

  /** Where a called program is. */
  whereIsProgram(number: number): 'here' | 'file' | 'loading' | 'nowhere' {
    return this.analysis.whereIsProgram(number);
  }

  /** A variable before the block, the control's own among them. */
  variableBefore(name: VariableName): number | undefined {
    return this.analysis.variableBefore(this.line, name);
  }

  /** A mode after the block. */
  mode(field: number): number {
    return this.after.modes[field];
  }

  /** Index of the word at a column, −1 none. Right behind a word counts as on it. */
  wordAt(column: number): number {
    const { block } = this;
    const offset = block.start + column;
    let behind = -1;
    for (let i = 0; i < block.wordCount; i++) {
      if (offset >= block.starts[i] && offset < block.ends[i]) return i;
      if (offset === block.ends[i]) behind = i;
    }
    return behind;
  }

  /** Columns of a word. */
  wordRange(index: number): readonly [number, number] {
    return [this.block.starts[index] - this.block.start, this.block.ends[index] - this.block.start];
  }

  /** Columns of the block without the blanks around it. */
  get range(): readonly [number, number] {
    const text = this.block.source.slice(this.block.start, this.block.end);
    return [text.length - text.trimStart().length, text.trimEnd().length];
  }

  /** The sequence or program number at a column, which are no words of the block. */
  numberSentence(column: number): WordText | undefined {
    const text = this.block.source.slice(this.block.start, this.block.end);
    const match = /^(\s*(?:\/\d?\s*)?)([NO:]\s*\d+)/i.exec(text);
    if (!match || column < match[1].length || column > match[1].length + match[2].length) return undefined;
    const range = [match[1].length, match[1].length + match[2].length] as const;
    const isSequence = this.block.sequenceNumber >= 0;
    return {
      title: match[2].toUpperCase(),
      range,
      text: isSequence ? 'sequence number of this block' : 'program number',
    };
  }

  /** True if the block has this G code (ten times its number). */
  hasG(code10: number): boolean {
    const { block } = this;
    for (let i = 0; i < block.wordCount; i++) {
      if (block.letters[i] === letterIndex('G') && Math.round(block.values[i] * 10) === code10) return true;
    }
    return false;
  }

  /** True if the block has this M code. */
  hasM(code: number): boolean {
    const { block } = this;
    for (let i = 0; i < block.wordCount; i++) {
      if (block.letters[i] === letterIndex('M') && block.values[i] === code) return true;
    }
    return false;
  }

  /** The motion that words of the block belong to: G number × 10, of the active cycle where there is one. */
  get motion(): number {
    return this.mode(Mode.cycle) > 0 ? this.mode(Mode.cycle) : this.mode(Mode.motion);
  }

  /** Place of an axis letter in positions, −1 for other letters. */
  axisOf(letter: string): number {
    return AXES.indexOf(letter);
  }

  /** A length in mm as a number of the program's units. */
  length(millimetres: number): string {
    return Number.isNaN(millimetres) ? '?' : shortNumber(millimetres / this.unit, this.unit === 1 ? 3 : 4);
  }

  /** The same with the unit. */
  lengthWithUnit(millimetres: number): string {
    return `${this.length(millimetres)} ${this.unitName}`;
  }

  /** What is known of a tool: the tool table's words, else the remark's. */
  toolDescription(number: number): string {
    const row: ToolRow | undefined = this.configuration.tools.find((tool) => tool.number === number);
    if (row?.description) return row.description;
    if (row) return [row.kind.replaceAll('-', ' '), row.thread ?? ''].join(' ').trim();
    return number === this.mode(Mode.tool) ? this.analysis.modePool.string(this.mode(Mode.toolRemark)) : '';
  }

  /** Text that Markdown shows as it is. */
  escape(text: string): string {
    return text.replace(/[\\`*_{}[\]()#+!|<>~-]/g, '\\$&');
  }

  private movesOfBlock(): TracedMove[] {
    const moves: TracedMove[] = [];
    const { helixFeed } = this.configuration.profile;
    const ofBlock = { firstLine: this.line, lastLine: this.line, firstPassOnly: true, helixFeed };
    for (const move of tracedMoves(this.analysis, ofBlock)) {
      if (moves.push(move) >= MOST_MOVES) break;
    }
    return moves;
  }
}

/** A number with at most `decimals` decimals and no zeros behind. */
export function shortNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? '0' : text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Seconds in words: `0.35 s`, `45.2 s`, `2 min 5 s`. */
export function duration(seconds: number): string {
  if (seconds < 59.95) return `${shortNumber(seconds, seconds < 0.1 ? 4 : seconds < 10 ? 2 : 1)} s`;
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)} min ${whole % 60} s`;
}
