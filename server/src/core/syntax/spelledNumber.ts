/** Numbers character by character: with blanks inside, and with letters that were meant as figures. */
import { isDigit, isNumberCharacter, isWordLetter, SPACE, TAB } from './characters.ts';

/** A number as it was spelled. */
interface SpelledNumber {
  /** Its figures and points, letters that stand for figures replaced. */
  readonly text: string;
  readonly points: number;
  /** Offset behind its last character. */
  readonly last: number;
  /** Offsets of letters that stand for figures. */
  readonly misread: readonly number[];
}

/** Spells the number from `from` on, of the word that begins at `start`. */
export const spellNumber = (source: string, start: number, from: number, end: number): SpelledNumber => {
  let text = '';
  let points = 0;
  let last = from;
  const misread: number[] = [];
  for (let p = from; p < end; p++) {
    const c = source.charCodeAt(p);
    if (c === SPACE || c === TAB) continue;
    const figure = isDigit(c) || c === 46 ? source[p] : figureFor(source, p, last, end, text.length > 0, start);
    if (figure === '') break;
    if (c === 46) points++;
    else if (!isDigit(c)) misread.push(p);
    text += figure;
    last = p + 1;
  }
  return { text, points, last, misread };
};

/** The figure that a letter at `p` was meant as: O for 0, I or l for 1 where a number must come. Empty for none. */
const figureFor = (source: string, p: number, last: number, end: number, begun: boolean, start: number): string => {
  const c = source.charCodeAt(p);
  if (p !== last) return '';
  const next = p + 1 < end ? source.charCodeAt(p + 1) : -1;
  const nextIsNumber = isDigit(next) || next === 46 || (!begun && next === 79);
  if (c === 79 || c === 111) {
    const behindIsEnd = next < 0 || next === SPACE || next === TAB || isWordLetter(next) || next === 40 || next === 59;
    return nextIsNumber || behindIsEnd ? '0' : '';
  }
  // In a block of small letters an l is the letter L.
  const mayBeOne = !begun || (source.charCodeAt(p - 1) === 46 && isDigit(next));
  if (c === 108 && source.charCodeAt(start) < 97 && mayBeOne) return nextIsNumber ? '1' : '';
  return c === 73 && !begun && nextIsNumber ? '1' : '';
};

/** True for an E behind a number that a power of ten follows: `1E3` is no number here. */
export const isPowerOfTen = (source: string, p: number, end: number): boolean =>
  p + 1 < end && (source.charCodeAt(p) | 32) === 101 && isNumberCharacter(source.charCodeAt(p + 1));
