// What `blockwright.insertBlock` may be called with: by a completion, a code lens, a quick fix, a key of the user's own.

/** See the top of the file; all of it may be left out. */
export interface BlockCall {
  /** The program; the one in the active editor where it is left out. */
  readonly uri?: string;
  /** The kind of block; a list is shown where it is left out. */
  readonly name?: string;
  /** In mm. */
  readonly values?: Readonly<Record<string, string>>;
  /** Where the block is to stand, from 0; at the cursor where it is left out. */
  readonly line?: number;
  /** Lines that it takes the place of, from 0, the last one included. */
  readonly replaces?: { readonly firstLine: number; readonly lastLine: number };
  /** Those lines were changed by hand since they were generated. */
  readonly edited?: boolean;
}

const isFields = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isLine = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;

/** Reads the command's argument; what is not as it should be is left out. A menu hands in other things. */
export function readCall(argument: unknown): BlockCall {
  if (!isFields(argument)) {
    return {};
  }
  const { uri, name, values, line, replaces, edited } = argument;
  return {
    ...(typeof uri === 'string' && { uri }),
    ...(typeof name === 'string' && { name }),
    ...(isTexts(values) && { values }),
    ...(isLine(line) && { line }),
    ...(isRange(replaces) && { replaces: { firstLine: replaces.firstLine, lastLine: replaces.lastLine } }),
    ...(typeof edited === 'boolean' && { edited }),
  };
}

const isTexts = (value: unknown): value is Record<string, string> =>
  isFields(value) && Object.values(value).every((text) => typeof text === 'string');

const isRange = (value: unknown): value is { firstLine: number; lastLine: number } =>
  isFields(value) && isLine(value.firstLine) && isLine(value.lastLine) && value.lastLine >= value.firstLine;
