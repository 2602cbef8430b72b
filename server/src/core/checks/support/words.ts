/** Finding and changing words of a block. */
import { type Block, letterIndex, WordFlag } from '../../syntax/block.ts';
import type { Fix, RuleContext } from '../rule.ts';

/** A change of text between two offsets of the block's source. */
export interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Index of the first word with this letter, −1 without. */
export const findWord = (block: Block, letter: string): number => {
  const wanted = letterIndex(letter);
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === wanted && (block.flags[i] & WordFlag.bad) === 0) return i;
  }
  return -1;
};

/** Index of the first G word whose number × 10 is one of `codes`, −1 without. */
export const findCode = (block: Block, codes: readonly number[]): number => {
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === letterIndex('G') && codes.includes(Math.round(block.values[i] * 10))) return i;
  }
  return -1;
};

/** Index of the word that starts at an offset of the source, −1 without. */
export const wordAt = (block: Block, start: number): number => {
  for (let i = 0; i < block.wordCount; i++) {
    if (block.starts[i] <= start && start < block.ends[i]) return i;
  }
  return -1;
};

/** The change that takes a word out, with one of the spaces beside it. */
const wordRemoved = (block: Block, index: number): Change => {
  let start = block.starts[index];
  let end = block.ends[index];
  if (start > block.start && block.source[start - 1] === ' ') start--;
  else if (end < block.end && block.source[end] === ' ') end++;
  return { start, end, text: '' };
};

/** A fix that takes words out. */
export const removalFix = (context: RuleContext, title: string, ...indexes: number[]): Fix =>
  context.replace(title, false, ...indexes.map((index) => wordRemoved(context.block, index)));

/** The change that gives a word another number and keeps its letter. */
export const numberChanged = (block: Block, index: number, number: string): Change => ({
  start: block.starts[index],
  end: block.ends[index],
  text: block.source[block.starts[index]] + number,
});

/** True where a word's number is written out, not computed. */
export const isPlain = (block: Block, index: number): boolean =>
  (block.flags[index] & (WordFlag.computed | WordFlag.bad)) === 0;

/** The line end behind a block, as the program writes it. */
export const lineEndOf = (block: Block): string => {
  const behind = block.source.slice(block.end, block.end + 2);
  return behind === '\r\n' ? behind : behind.startsWith('\r') ? '\r' : '\n';
};
