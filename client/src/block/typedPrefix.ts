// A block's prefix that was typed before the language server was there: its list of completions is asked for then.

/** Before the cursor nothing but a sequence number and two letters or more; behind it nothing. */
const PREFIX = /^\s*(?:N\d+\s*)?[A-Za-z][A-Za-z-]+$/i;

/** True if a line with the cursor at `column`, from 0, is the beginning of a block's name and nothing else. */
export const isPrefix = (line: string, column: number): boolean =>
  PREFIX.test(line.slice(0, column)) && line.slice(column).trim() === '';

/** True if a line was typed on beyond `column`, from 0, to the beginning of a block's name and nothing else. */
export const isTypedOn = (line: string, column: number): boolean => {
  const end = line.trimEnd().length;
  return end > column && isPrefix(line, end);
};
