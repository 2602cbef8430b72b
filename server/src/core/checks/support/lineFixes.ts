/** Words found by letter and number, and repairs that write a line of their own. */
import { type Block, letterIndex } from '../../syntax/block.ts';
import type { Fix } from '../rule.ts';
import { lineEndOf } from './words.ts';

/** Index of the first word with this letter and one of these numbers, −1 without. */
export const wordWith = (block: Block, letter: string, numbers: readonly number[]): number => {
  const wanted = letterIndex(letter);
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === wanted && numbers.includes(block.values[i])) return i;
  }
  return -1;
};

/** A repair that writes lines (joined by `\n`) before a block. */
export const lineBefore = (block: Block, title: string, text: string): Fix => {
  const end = lineEndOf(block);
  return { title, safe: false, edits: [edit(`${text.split('\n').join(end)}${end}`)] };
};

/** The change that writes a line before the finding's own. */
export const edit = (text: string): Fix['edits'][number] => ({ lineOffset: 0, column: 0, endColumn: 0, text });
