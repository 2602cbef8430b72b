/** Which numbers of a block change their meaning with a decimal point. */
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import { LineFlag } from './segment.ts';

const LENGTHS = [...'XYZABCUVWIJKRQ'].reduce((bits, letter) => bits | (1 << letterIndex(letter)), 0);
const G = letterIndex('G');

const isLength = (block: Block, word: number): boolean =>
  ((1 << block.letters[word]) & LENGTHS) !== 0 && (block.flags[word] & WordFlag.computed) === 0;

/** G4 X counts time, not a length. */
const isDwell = (block: Block): boolean => {
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === G && block.values[i] === 4) return true;
  return false;
};

/** True if word `word` is a length, not 0, written without a point. */
export const isLengthWithoutPoint = (block: Block, word: number): boolean =>
  isLength(block, word) && (block.flags[word] & WordFlag.point) === 0 && block.values[word] !== 0 && !isDwell(block);

/** Line flags for the points of a block. */
export const pointFlags = (block: Block): number => {
  let flags = 0;
  for (let i = 0; i < block.wordCount; i++) {
    if (isLength(block, i) && (block.flags[i] & WordFlag.point) !== 0) flags |= LineFlag.point;
    else if (isLengthWithoutPoint(block, i)) flags |= LineFlag.noPoint;
  }
  return flags;
};
