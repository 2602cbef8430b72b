/** One way to repair an arc, before it is tried: the words that are written, and where. */
import { type Block, WordFlag } from '../../syntax/block.ts';
import { nameOf } from './letters.ts';
import { writeNumber, writeWord } from './numberStyle.ts';
import { type ArcSite, axisLetter, lengthOfWord, wordOf } from './site.ts';
import type { LineEdit } from './trial.ts';

/** See the top of the file. */
export interface Candidate {
  /** Equal for the same repair of other arcs; empty where it cannot be the same. */
  readonly alike: string;
  /** What "repair all alike" does, such as "write J for K". */
  readonly alikeTitle: string;
  /** Repairs of one family are not to crowd out the others. */
  readonly family: 'letter' | 'sign' | 'digits' | 'superfluous' | 'code' | 'origin' | 'centre' | 'radius' | 'end';
  /** What is done, such as "Write J8.". */
  readonly does: string;
  readonly edits: readonly LineEdit[];
  /** Edits of the arc's own line that do the same to the arc: where they do not help, the candidate is not tried. */
  readonly probe?: readonly LineEdit[];
  /** Only what stands there is read otherwise (a letter, a sign, a digit): no number is made up. */
  readonly isRetyped: boolean;
  /** Worked out from less than the arc says itself: stands behind those that join as many neighbours. */
  readonly isGuess?: boolean;
}

/** Columns of a word, and what stands there. */
export const editWord = (site: ArcSite, index: number, text: string): LineEdit => ({
  line: site.line,
  column: site.block.starts[index] - site.block.start,
  endColumn: site.block.ends[index] - site.block.start,
  text,
});

/** A word under another letter. */
export const relettered = (block: Block, index: number, letter: number): string => {
  const text = block.wordText(index);
  const name = nameOf(letter);
  return (/^[a-z]/.test(text) ? name.toLowerCase() : name) + text.slice(1);
};

/** A word with the other sign. */
export const otherSign = (block: Block, index: number): string => {
  const text = block.wordText(index);
  const minus = /^(.)(\s*)-\s*/.exec(text);
  if (minus) return minus[1] + minus[2] + text.slice(minus[0].length);
  const plus = /^(.)(\s*)\+?\s*/.exec(text)!;
  return `${plus[1]}${plus[2]}-${text.slice(plus[0].length)}`;
};

/** Takes a word out, with one of the spaces beside it. */
export const without = (site: ArcSite, index: number): LineEdit => {
  const { block } = site;
  let start = block.starts[index];
  let end = block.ends[index];
  if (start > block.start && block.source[start - 1] === ' ') start--;
  else if (end < block.end && block.source[end] === ' ') end++;
  return { line: site.line, column: start - block.start, endColumn: end - block.start, text: '' };
};

/** Puts words in front of the first word that is no sequence number. */
export const inFront = (site: ArcSite, words: string): LineEdit => {
  const { block, style } = site;
  let index = 0;
  while (index < block.wordCount && nameOf(block.letters[index]) === 'N') index++;
  const at = (index < block.wordCount ? block.starts[index] : block.end) - block.start;
  return { line: site.line, column: at, endColumn: at, text: words + style.wordGap };
};

/** Puts words behind a word. */
export const behind = (site: ArcSite, index: number, words: string): LineEdit => {
  const at = site.block.ends[index] - site.block.start;
  return { line: site.line, column: at, endColumn: at, text: site.style.wordGap + words };
};

/** A length in mm as a word of the block. */
export const lengthWord = (site: ArcSite, letter: number, millimetres: number): string =>
  writeWord(letter, writeNumber(millimetres / site.unit, site.style), site.style);

/** Index of the last word that belongs to the arc: behind it new words are put. */
export const lastOfArc = (site: ArcSite): number => {
  let last = site.arc.motionWord;
  const letters = [0, 1].map((axis) => axisLetter(site, axis as 0 | 1));
  for (const letter of [...letters, site.arc.thirdAxis]) last = Math.max(last, wordOf(site, letter));
  return last >= 0 ? last : site.block.wordCount - 1;
};

/** True if a word with this letter is written and is not nought. */
export const isNonZero = (site: ArcSite, index: number): boolean => index >= 0 && lengthOfWord(site, index) !== 0;

/** True where a word's number is written out. */
export const canRetype = (block: Block, index: number): boolean =>
  index >= 0 && (block.flags[index] & (WordFlag.computed | WordFlag.bad | WordFlag.empty)) === 0;
