/** Words of a block in the order in which programs are written: G, axes, centre, cycle words, F S T H D M. Common practice, no source. */

import { G, M } from '../machine/letters.ts';
import type { ControlProfile } from '../machine/profile.ts';
import type { Block } from '../syntax/block.ts';
import type { Piece } from './formatPieces.ts';

const ORDER = 'GXYZUVWABCIJKRQPLEFSTHDM';
const RANKS = Array.from({ length: 26 }, (_, letter) => {
  const rank = ORDER.indexOf(String.fromCharCode(65 + letter));
  return rank < 0 ? ORDER.length : rank;
});

/** Calls and tables keep the P, L and arguments beside the code that they belong to. */
const G_WITH_OWN_WORDS: readonly number[] = [4, 10, 54.1, 65, 66];
const M_WITH_OWN_WORDS: readonly number[] = [98, 99];

const hasOwnWords = (block: Block, { localCallCode }: ControlProfile): boolean => {
  for (let i = 0; i < block.wordCount; i++) {
    const value = block.values[i];
    if (block.letters[i] === G && G_WITH_OWN_WORDS.includes(value)) return true;
    if (block.letters[i] === M && (M_WITH_OWN_WORDS.includes(value) || value === localCallCode)) return true;
  }
  return false;
};

/** The pieces with the words in order; as they are where the block holds more than words, or a remark stands among them. */
export const sortedWords = (pieces: readonly Piece[], block: Block, profile: ControlProfile): readonly Piece[] => {
  const isWord = ({ kind }: Piece): boolean => kind === 'word' || kind === 'computed';
  const first = pieces.findIndex(isWord);
  const last = pieces.length - 1 - [...pieces].reverse().findIndex(isWord);
  if (first < 0 || !pieces.slice(first, last + 1).every(isWord) || hasOwnWords(block, profile)) return pieces;
  if (pieces.some(({ kind }) => kind === 'statement')) return pieces;
  const rank = ({ word }: Piece): number => RANKS[block.letters[word]];
  // Words of one letter keep their order: of two codes of a group the last one may hold.
  const words = pieces.slice(first, last + 1).sort((a, b) => rank(a) - rank(b));
  return [...pieces.slice(0, first), ...words, ...pieces.slice(last + 1)];
};
