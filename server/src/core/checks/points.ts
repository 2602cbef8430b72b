/** Which numbers of a block change their meaning with a decimal point. */
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import { LineFlag } from './segment.ts';

const LENGTHS = [...'XYZABCUVWIJKRQ'].reduce((bits, letter) => bits | (1 << letterIndex(letter)), 0);
const G = letterIndex('G');

const isLength = (block: Block, word: number): boolean =>
  ((1 << block.letters[word]) & LENGTHS) !== 0 && (block.flags[word] & WordFlag.computed) === 0;

/** G4 X counts time, not a length. */
const isDwell = (block: Block): boolean => {
  if (block.codeCount === 0) return false;
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === G && block.values[i] === 4) return true;
  return false;
};

/** True if word `word` is a length that a point makes another: not 0, which is 0 either way, and no time. */
const isPointed = (block: Block, word: number): boolean =>
  isLength(block, word) && block.values[word] !== 0 && !isDwell(block);

/** True if word `word` is a length, not 0, written without a point. */
export const isLengthWithoutPoint = (block: Block, word: number): boolean =>
  (block.flags[word] & WordFlag.point) === 0 && isPointed(block, word);

/** Line flags for the points of a block. */
export const pointFlags = (block: Block): number => {
  let flags = 0;
  for (let i = 0; i < block.wordCount; i++) {
    if (!isPointed(block, i)) continue;
    flags |= (block.flags[i] & WordFlag.point) !== 0 ? LineFlag.point : LineFlag.noPoint;
  }
  return flags;
};
