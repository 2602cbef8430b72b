/** What a block names that stands elsewhere: variables, sequence numbers and programs. Columns count from the block's start. */
import { macroCallWord } from '../machine/calls.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, BlockKind, letterIndex, WordFlag } from '../syntax/block.ts';
import type { VariableName } from '../syntax/variables.ts';

const G = letterIndex('G');
const L = letterIndex('L');
const M = letterIndex('M');
const P = letterIndex('P');

/** Columns of something in a block. */
export interface TokenSpan {
  readonly column: number;
  readonly endColumn: number;
}

/** A variable as it is written. */
export interface VariableToken extends TokenSpan {
  /** Undefined where its number is computed: `##1`, `#[#1+2]`. */
  readonly name: VariableName | undefined;
  readonly isSet: boolean;
}

/** The number of a block or program that is named; undefined where it is computed. */
export interface NumberToken extends TokenSpan {
  readonly number: number | undefined;
}

/** A jump to, or a call of, a sequence number. */
export interface JumpToken extends NumberToken {
  /** `return` is M99 P, which names a block of the caller, or of the main program itself. */
  readonly kind: 'goto' | 'return' | 'call';
}

/** A call of a program; the columns are those of its number alone. */
export interface CallToken extends NumberToken {
  /** Digits before the program number that say how often it runs, by profile. */
  readonly repeats: string;
  readonly isMacro: boolean;
  /** Columns from the code to the end of the number, whichever stands first. */
  readonly whole: TokenSpan;
}

const VARIABLE = /#[ \t]*(?:(\d[\d \t]*(?:\.[\d \t]*)?)|<([^>]*)>|(?=[#[]))/g;

/** The block's text. */
export const textOf = (block: Pick<Block, 'source' | 'start' | 'end'>): string =>
  block.source.slice(block.start, block.end);

/** True if a column stands in a remark. */
export const isInRemark = ({ start, remarks }: Block, column: number): boolean => {
  for (let i = 0; i < remarks.length; i += 2)
    if (start + column >= remarks[i] && start + column < remarks[i + 1]) return true;
  return false;
};

/** The name of a variable as it compares. */
const nameOf = (digits: string | undefined, name: string): VariableName =>
  digits === undefined ? name.toLowerCase().replace(/[ \t]+/g, '') : Math.round(Number(digits.replace(/[ \t]+/g, '')));

/** All variables that a block names. */
export const variableTokens = (block: Block): VariableToken[] => {
  if (block.kind === BlockKind.tapeMark) return [];
  const text = textOf(block);
  const found: VariableToken[] = [];
  for (const match of text.matchAll(VARIABLE)) {
    const [whole, digits, named] = match;
    const column = match.index;
    if (isInRemark(block, column)) continue;
    const endColumn = column + whole.trimEnd().length;
    const isComputed = digits === undefined && named === undefined;
    const isSet = !isComputed && /^[ \t]*=/.test(text.slice(endColumn));
    found.push({ name: isComputed ? undefined : nameOf(digits, named ?? ''), isSet, column, endColumn });
  }
  return found;
};

/** True if a block has an M code. */
export const hasM = (block: Block, code: number): boolean => {
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === M && block.values[i] === code) return true;
  return false;
};

/** The last word with a letter, −1 none. */
const wordOf = (block: Block, letter: number): number => {
  for (let i = block.wordCount - 1; i >= 0; i--) {
    if (block.letters[i] === letter && (block.flags[i] & WordFlag.bad) === 0) return i;
  }
  return -1;
};

/** Columns of a word's digits, and the number that they are; undefined where it is computed. */
const numberOfWord = (block: Block, word: number): NumberToken => {
  const text = block.wordText(word);
  const digits = /\d[\d \t]*$/.exec(text.replace(/\.[ \t0]*$/, ''));
  const column = block.starts[word] - block.start;
  if ((block.flags[word] & WordFlag.computed) !== 0 || digits === null)
    return { number: undefined, column, endColumn: block.ends[word] - block.start };
  const number = Number(digits[0].replace(/[ \t]+/g, ''));
  return { number, column: column + digits.index, endColumn: column + digits.index + digits[0].trimEnd().length };
};

const GOTO = /G[ \t]*O[ \t]*T[ \t]*O[ \t]*/i;

/** Jumps to, and calls of, sequence numbers that a block names; the columns are those of the number. */
export const jumpTokens = (block: Block, profile: ControlProfile): JumpToken[] => {
  const { flow } = block;
  if (flow !== undefined && (flow.kind === 'goto' || flow.kind === 'if-goto')) {
    const from = flow.start - block.start;
    const text = block.source.slice(flow.start, flow.end);
    const at = GOTO.exec(text);
    if (at === null) return [];
    const column = from + at.index + at[0].length;
    const digits = /^\d[\d \t]*(?=$|[^.\d \t])/.exec(text.slice(at.index + at[0].length));
    const written = digits?.[0].trimEnd() ?? text.slice(at.index + at[0].length).trimEnd();
    const number = digits === null ? undefined : Number(written.replace(/[ \t]+/g, ''));
    return [{ kind: 'goto', number, column, endColumn: column + written.length }];
  }
  const word = wordOf(block, P);
  if (!profile.flow || word < 0) return [];
  if (hasM(block, 99)) return [{ kind: 'return', ...numberOfWord(block, word) }];
  const { localCallCode } = profile;
  return localCallCode >= 0 && hasM(block, localCallCode) ? [{ kind: 'call', ...numberOfWord(block, word) }] : [];
};

/** The word of a block that calls a program, −1 none. */
const callWordOf = (block: Block): number => {
  const macro = macroCallWord(block);
  if (macro >= 0) return macro;
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === M && block.values[i] === 98) return i;
  return -1;
};

/** The call that a block makes; undefined where it makes none. */
export const callToken = (block: Block, profile: ControlProfile): CallToken | undefined => {
  if (!profile.flow || block.codeCount === 0) return undefined;
  const code = callWordOf(block);
  const word = wordOf(block, P);
  if (code < 0 || word < 0) return undefined;
  const isMacro = block.letters[code] === G;
  const token = numberOfWord(block, word);
  const whole = {
    column: Math.min(block.starts[code], block.starts[word]) - block.start,
    endColumn: Math.max(block.ends[code], block.ends[word]) - block.start,
  };
  const { number } = token;
  if (number === undefined || number <= 9999 || profile.subprogramRepeats !== 'first-digits' || block.has(L))
    return { ...token, repeats: '', isMacro, whole };
  const digits = textOf(block)
    .slice(token.column, token.endColumn)
    .replace(/[ \t]+/g, '');
  return { ...token, number: number % 10_000, repeats: digits.slice(0, -4), isMacro, whole };
};

const HEAD = /^(\s*(?:\/\d?\s*)?)([NO:])\s*(\d+)/i;

/** The sequence or program number that a block begins with; the columns are those of the digits. */
export const headToken = (
  block: Pick<Block, 'source' | 'start' | 'end'>,
  profile: ControlProfile,
): (TokenSpan & { readonly isProgram: boolean; readonly number: number; readonly first: number }) | undefined => {
  const head = HEAD.exec(textOf(block));
  if (head === null) return undefined;
  const endColumn = head[0].length;
  const isProgram = head[2] === ':' ? profile.colon !== 'alignment' : head[2].toUpperCase() === 'O';
  const column = endColumn - head[3].length;
  return { isProgram, number: Number(head[3]), first: head[1].length, column, endColumn };
};
