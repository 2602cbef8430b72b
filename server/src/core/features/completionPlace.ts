/** Where the cursor stands in a block that is being typed, and the machine around that block. */
import type { Analysis, MachineState } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { type Plane, planeOf } from '../machine/planes.ts';
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';

/** What stands right before the cursor. */
export interface Typed {
  /** `word`: a letter with perhaps a number; `variable`: `#` with what follows; `jump`: GOTO; `nothing`: a blank. */
  readonly kind: 'word' | 'variable' | 'jump' | 'nothing';
  /** Capital letter of a word, '' otherwise. */
  readonly letter: string;
  /** What is typed behind the letter, the `#` or GOTO. */
  readonly rest: string;
  /** Column from 0 where what is typed begins; of GOTO its number. */
  readonly column: number;
}

const VARIABLE = /#\s*(<[^>]*|\d*)$/;
const JUMP = /GOTO\s*(\d*)$/i;
const WORD = /(?:^|[^A-Za-z#<])([A-Za-z])([+-]?\d*\.?\d*)$/;
/** Not right behind a number or a bracket: whoever ends the block there with Enter must get nothing glued to it. */
const BLANK = /(?:^|\s)$/;

/** See the top of the file. */
export class CompletionPlace {
  readonly analysis: Analysis;
  readonly configuration: Configuration;
  readonly line: number;
  /** The line up to the cursor. */
  readonly text: string;
  /** Undefined where nothing of a program can be meant: in remarks, inside a word, inside an expression. */
  readonly typed: Typed | undefined;
  readonly isInRemark: boolean;
  #block: Block | undefined;
  #before: MachineState | undefined;
  #after: MachineState | undefined;

  constructor(analysis: Analysis, configuration: Configuration, line: number, column: number) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.line = line;
    const text = analysis.lineText(line);
    this.text = text.slice(0, column);
    const isInside = /^[\w.#[<=-]/.test(text.slice(column));
    this.isInRemark = endsInRemark(this.text, configuration.profile.remarks);
    this.typed = isInside || this.isInRemark ? undefined : typedIn(this.text);
  }

  /** True if the run comes to the block; elsewhere nothing is known of the machine. */
  get isReached(): boolean {
    return this.analysis.isReached(this.line);
  }

  /** The block's words, computed. A letter without its number is none of them. */
  get block(): Block {
    this.#block ??= this.analysis.readBlock(this.line);
    return this.#block;
  }

  get before(): MachineState {
    this.#before ??= this.analysis.stateBefore(this.line);
    return this.#before;
  }

  get after(): MachineState {
    this.#after ??= this.analysis.stateAfter(this.line);
    return this.#after;
  }

  /** A mode behind the block, as far as it is typed. */
  mode(field: number): number {
    return this.after.modes[field];
  }

  get plane(): Plane {
    return planeOf(this.mode(Mode.plane));
  }

  get isInch(): boolean {
    return this.isReached ? this.mode(Mode.units) === 20 : this.configuration.profile.start.units === 20;
  }

  /** Millimetres a unit of the program. */
  get unit(): number {
    return this.isInch ? 25.4 : 1;
  }

  has(letter: string): boolean {
    return this.block.has(letterIndex(letter));
  }

  /** True if the block carries one of these G codes (× 10), or M codes. */
  hasCode(letter: 'G' | 'M', codes: readonly number[]): boolean {
    const { block } = this;
    for (let i = 0; i < block.wordCount; i++) {
      const code = letter === 'G' ? Math.round(block.values[i] * 10) : block.values[i];
      if (block.letters[i] === letterIndex(letter) && codes.includes(code)) return true;
    }
    return false;
  }

  /** A length of the block in mm as the control reads it; NaN where it is not written. */
  length(letter: string): number {
    const { block } = this;
    if (!this.has(letter)) return Number.NaN;
    const index = block.slot[letterIndex(letter)];
    const isPlain = (block.flags[index] & (WordFlag.point | WordFlag.computed)) === 0;
    const counts = isPlain && this.configuration.profile.decimalPoint === 'increment';
    return block.values[index] * this.unit * (counts ? (this.isInch ? 0.0001 : 0.001) : 1);
  }

  /** Columns of a word of the block. */
  wordRange(letter: string): readonly [number, number] {
    const { block } = this;
    const index = block.slot[letterIndex(letter)];
    return [block.starts[index] - block.start, block.ends[index] - block.start];
  }

  /** What a tool is: the tool table's words, else those of the remark at its change; '' not known. */
  toolDescription(number: number): string {
    const row = this.configuration.tools.find((tool) => tool.number === number);
    if (row?.description) return row.description;
    if (row) return [row.kind.replaceAll('-', ' '), row.thread ?? ''].join(' ').trim();
    const isIn = number === this.mode(Mode.tool);
    return isIn ? this.analysis.modePool.string(this.mode(Mode.toolRemark)).trim() : '';
  }
}

/** True if the end of `text` lies in a remark. */
const endsInRemark = (text: string, remarks: Configuration['profile']['remarks']): boolean => {
  if (remarks.slashes && /^\s*\/\//.test(text)) return true;
  const bare = remarks.brackets ? text.replace(/\([^)]*\)/g, '') : text;
  return (remarks.brackets && bare.includes('(')) || (remarks.semicolon && bare.includes(';'));
};

const typedIn = (text: string): Typed | undefined => {
  const variable = VARIABLE.exec(text);
  if (variable) return { kind: 'variable', letter: '', rest: variable[1], column: variable.index };
  const jump = JUMP.exec(text);
  if (jump) return { kind: 'jump', letter: '', rest: jump[1], column: text.length - jump[1].length };
  // Inside an expression only variables are offered.
  if (text.lastIndexOf('[') > text.lastIndexOf(']')) return undefined;
  const word = WORD.exec(text);
  if (word) {
    const [, letter, rest] = word;
    return { kind: 'word', letter: letter.toUpperCase(), rest, column: text.length - rest.length - 1 };
  }
  return BLANK.test(text) ? { kind: 'nothing', letter: '', rest: '', column: text.length } : undefined;
};

/** Something that a word of the block may be. */
export interface WordItem {
  /** The text that it puts in. */
  readonly label: string;
  /** What it is, in a few words. */
  readonly detail: string;
  /** What it does here, in a few words; '' nothing to tell. */
  readonly effect: string;
  readonly kind: 'code' | 'word' | 'tool' | 'variable' | 'place' | 'program';
  /** Columns of a word that goes. */
  readonly removes?: readonly [number, number];
  /** What is typed already; it stands first, so that taking it changes nothing. */
  readonly isAsTyped?: true;
}
