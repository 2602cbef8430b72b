/** Character codes and small steps over a text that all of reading shares. */

export const SPACE = 32;
export const TAB = 9;

/** A figure 0 to 9. */
export const isDigit = (c: number): boolean => c >= 48 && c <= 57;

/** A letter that may begin a word, capital or small. */
export const isWordLetter = (c: number): boolean => c < 128 && (c | 32) >= 97 && (c | 32) <= 122;

/** A character that a number may hold. */
export const isNumberCharacter = (c: number): boolean => isDigit(c) || c === 46 || c === 45 || c === 43;

/** Offset of the first character from `from` on that is no blank. */
export const skipBlanks = (source: string, from: number, end: number): number => {
  let p = from;
  while (p < end && (source.charCodeAt(p) === SPACE || source.charCodeAt(p) === TAB)) p++;
  return p;
};

/** Offset behind the figures, points and signs from `from` on. */
export const skipNumber = (source: string, from: number, end: number): number => {
  let p = from;
  while (p < end && isNumberCharacter(source.charCodeAt(p))) p++;
  return p;
};

/** `to`, or the place behind the last character from `from` on that is no blank. */
export const withoutBlanks = (source: string, from: number, to: number): number => {
  let end = to;
  while (end > from && (source.charCodeAt(end - 1) === SPACE || source.charCodeAt(end - 1) === TAB)) end--;
  return end;
};
