/** Where a block's words stand in its line, for rules that look at the program and have no block at hand. */

/** Columns of a line's words, without block delete, sequence number and a remark behind them. */
export const wordsPlace = (text: string): { readonly start: number; readonly end: number } => {
  const before = /^[\s/]*(?:N\s*\d+\s*)?/i.exec(text)?.[0].length ?? 0;
  const remark = text.slice(before).search(/\(|;/);
  const end = text.slice(0, remark < 0 ? text.length : before + remark).trimEnd().length;
  if (end > before) return { start: before, end };
  const start = text.length - text.trimStart().length;
  return { start, end: Math.max(start, text.trimEnd().length) };
};

/** A line's words without its remarks. */
export const wordsOnly = (text: string): string => text.replace(/\([^)]*\)?/g, ' ').replace(/;.*$/, '');

/** Columns of an axis word in a line, or of all its words where it has none. */
export const axisPlace = (text: string, letter: string): { readonly start: number; readonly end: number } => {
  const words = wordsPlace(text);
  const found = new RegExp(`${letter}\\s*[-+]?\\s*[\\d.]+`, 'i').exec(text.slice(words.start, words.end));
  if (found === null) return words;
  const start = words.start + found.index;
  return { start, end: start + found[0].length };
};
