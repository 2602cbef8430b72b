/** Numbers and words as the block at hand writes them: points, places, zeros, letter case, spaces. */
import { type Block, WordFlag } from '../../syntax/block.ts';
import { lengthPlaces } from '../support/numbers.ts';
import { isLengthLetter } from './letters.ts';

/** How a block writes its lengths. */
export interface NumberStyle {
  /** Digits behind the point that every number of the block is filled up to; 0 where zeros are left out. */
  readonly filledTo: number;
  /** Digits behind the point that a computed number is rounded to. */
  readonly places: number;
  /** `12.` and not `12`. */
  readonly pointBehindWhole: boolean;
  /** `0.5` and not `.5`. */
  readonly zeroBeforePoint: boolean;
  /** Millimetres or inches a unit of what is written: other than 1 where numbers without a point count the smallest increment. */
  readonly increment: number;
  readonly lowerCase: boolean;
  /** Between words, and between a letter and its number. */
  readonly wordGap: string;
  readonly letterGap: string;
}

/** Reads the style off a block's lengths. `unit` is mm a unit; `countsIncrements`: numbers without a point count them. */
export const styleOf = (block: Block, unit: number, countsIncrements: boolean): NumberStyle => {
  const words: string[] = [];
  for (let i = 0; i < block.wordCount; i++) {
    const plain = (block.flags[i] & (WordFlag.computed | WordFlag.bad)) === 0;
    if (plain && isLengthLetter(block.letters[i])) words.push(block.wordText(i));
  }
  const decimals = words.map((word) => (word.includes('.') ? word.length - word.indexOf('.') - 1 : 0));
  const withPoint = words.filter((word) => word.includes('.'));
  const most = Math.max(0, ...decimals);
  const isFilled = most > 0 && decimals.every((count) => count === most) && words.some((word) => word.endsWith('0'));
  const text = block.source.slice(block.start, block.end);
  const hasWhole = words.some((word) => !word.includes('.'));
  const inIncrements = countsIncrements && withPoint.length === 0;
  return {
    filledTo: isFilled ? most : 0,
    places: Math.max(lengthPlaces(unit), most),
    pointBehindWhole: countsIncrements || withPoint.some((word) => word.endsWith('.')) || !hasWhole,
    zeroBeforePoint: !words.some((word) => /[A-Z]\s*[-+]?\s*\./i.test(word)),
    increment: inIncrements ? 1 / 10 ** lengthPlaces(unit) : 1,
    lowerCase: /[a-z]/.test(words.map((word) => word[0]).join('') || text[0] || 'X'),
    wordGap: isSpaced(block) ? ' ' : '',
    letterGap: words.length > 0 && words.every((word) => /^[A-Z]\s/i.test(word)) ? ' ' : '',
  };
};

const isSpaced = (block: Block): boolean => {
  if (block.wordCount < 2) return true;
  for (let i = 1; i < block.wordCount; i++) {
    if (block.starts[i] > block.ends[i - 1]) return true;
  }
  return false;
};

/** A length in the program's units (not increments) as text. */
export const writeNumber = (value: number, style: NumberStyle): string => {
  if (style.increment !== 1) return String(Math.round(value / style.increment) + 0);
  return pointNumber(value, style);
};

/** The same with a point even where the block counts increments: for people. */
export const pointNumber = (value: number, style: NumberStyle): string => {
  const rounded = Number(value.toFixed(style.places)) + 0;
  let text = rounded.toFixed(style.places).replace(/0+$/, '');
  const decimals = text.length - text.indexOf('.') - 1;
  if (style.filledTo > decimals) text = rounded.toFixed(style.filledTo);
  if (text.endsWith('.') && !style.pointBehindWhole) text = text.slice(0, -1);
  if (!style.zeroBeforePoint) text = text.replace(/^(-?)0\.(?=\d)/, '$1.');
  return text;
};

/** A word with a letter (place in the alphabet) and a number's text. */
export const writeWord = (letter: number, number: string, style: NumberStyle): string => {
  const capital = String.fromCharCode(65 + letter);
  return `${style.lowerCase ? capital.toLowerCase() : capital}${style.letterGap}${number}`;
};
