/** Numbers of words in a shop's style: noughts before and behind, points. What would change the value is left as it was typed. */

import { G } from '../machine/letters.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import type { FormatStyle } from './formatStyle.ts';

const maskOf = (letters: string): number => [...letters].reduce((mask, letter) => mask | (1 << letterIndex(letter)), 0);

/** Words that count or name something: their numbers are written as they are. */
const NAMES = maskOf('GMNOTHDLP');
/** Lengths, angles and feeds. */
const MEASURES = maskOf('XYZUVWABCIJKRQF');
const [I, J, K] = ['I', 'J', 'K'].map(letterIndex);

/** Codes whose words are no lengths: a wait, values handed to a macro, tables of the control. */
const WITHOUT_LENGTHS: readonly number[] = [4, 10, 65, 66];

/** True where the words of a block are lengths, to which a point or a nought may be added. */
export const mayHavePoints = (block: Block): boolean => {
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === G && WITHOUT_LENGTHS.includes(block.values[i])) return false;
  }
  return true;
};

/** The number of a word as the style has it. `typed` is its sign, figures and point; `hasPoints` as `mayHavePoints` says. */
export const styledNumber = (
  typed: string,
  block: Block,
  word: number,
  style: FormatStyle,
  profile: ControlProfile,
  hasPoints: boolean,
): string => {
  const parts = /^([+-]?)(\d*)(?:(\.)(\d*))?$/.exec(typed);
  const bit = 1 << block.letters[word];
  if (parts === null || (NAMES & bit) !== 0) return typed;
  let [, sign, whole, point = '', decimals = ''] = parts;
  if (hasPoints && (MEASURES & bit) !== 0 && !isCount(block, word)) {
    if (style.trailingZeros === 'trim') decimals = decimals.replace(/0+$/, '');
    if (decimals === '') point = styledPoint(point, style, profile);
  }
  const isNought = Number(`${whole}.${decimals}0`) === 0;
  if (style.leadingZero === 'write' && point !== '' && whole === '') whole = '0';
  else if (style.leadingZero === 'omit' && /^0+$/.test(whole) && !isNought) whole = '';
  else if (whole === '' && decimals === '') whole = '0';
  return sign + whole + point + decimals;
};

/** A whole number without a point means something else where the control counts increments: there it stays as it is. */
const styledPoint = (point: string, { trailingPoint }: FormatStyle, profile: ControlProfile): string => {
  if (trailingPoint === 'keep' || profile.decimalPoint !== 'whole-unit') return point;
  return trailingPoint === 'write' ? '.' : '';
};

/** K repeats a cycle on many controls: it is a length only beside another word of a centre. */
const isCount = (block: Block, word: number): boolean =>
  block.letters[word] === K && !block.has(I) && !block.has(J) && (block.flags[word] & WordFlag.point) === 0;
