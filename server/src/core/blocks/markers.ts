/**
 * The remarks that a generated block opens and closes with. They carry the parameters, so that the block can be opened and
 * revised, and check values of body and parameters, so that a hand in it is seen:
 *
 *     ( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 TOOL=10 DEPTH=12 AT=10,10/30,10 )
 *     …
 *     ( BLOCKWRIGHT-END HELICAL-BORE BODY=1A2B3C4D FOR=5E6F7A8B )
 *
 * Long lists go on in `( BLOCKWRIGHT-WITH … )` lines. Upper case and plain letters only; places are parted by `/`, since `;`
 * ends the block on many controls. Lengths are mm whatever the program counts in.
 */

/** Where a block stands in a text, lines from 0. */
export interface GeneratedBlock {
  /** Line of the opening remark. */
  readonly firstLine: number;
  /** First line of the body. */
  readonly bodyLine: number;
  /** Line of the closing remark. */
  readonly lastLine: number;
  /** In small letters: `helical-bore`. */
  readonly name: string;
  /** Values by name in small letters, as the generator takes them. */
  readonly raw: Readonly<Record<string, string>>;
  /** Check values as they stand in the closing remark, '' where they do not. */
  readonly body: string;
  readonly parameters: string;
}

/** An opening or closing remark that has no partner or cannot be read. */
export interface BrokenMarker {
  readonly line: number;
  readonly why: 'no-end' | 'no-start' | 'other-name' | 'unreadable';
  readonly name: string;
}

const OPEN = /BLOCKWRIGHT-BLOCK\b\s*([^)]*)/i;
const MORE = /BLOCKWRIGHT-WITH\b\s*([^)]*)/i;
const CLOSE = /BLOCKWRIGHT-END\b\s*([^)]*)/i;
/** In no line without it is a marker. */
export const MARKER_SIGN = /BLOCKWRIGHT-(?:BLOCK|WITH|END)\b/i;
const VALUE = /([A-Z][A-Z0-9.-]*)=(.*?)(?=\s+[A-Z][A-Z0-9.-]*=|\s*$)/gi;

/** FNV-1a, 32 bits (the public algorithm; from memory): where it begins, and one character more. */
const FIRST_VALUE = 0x811c9dc5;
const mixed = (value: number, character: number): number => Math.imul(value ^ character, 0x01000193);
/** As eight hexadecimal digits. */
const digits = (value: number): string => (value >>> 0).toString(16).toUpperCase().padStart(8, '0');

/** Check value of a text. */
const hash = (text: string): string => {
  let value = FIRST_VALUE;
  for (let i = 0; i < text.length; i++) value = mixed(value, text.charCodeAt(i));
  return digits(value);
};

/** The words of a line without block number and spacing; remarks count as they are read. */
const bare = (line: string): string =>
  line
    .toUpperCase()
    .replace(/^\s*N\s*\d+/, '')
    .replace(/\s+/g, '');

const NEW_LINE = 10;
const isSpace = (c: number): boolean => c === 32 || (c >= 9 && c <= 13);

/** Where the words of a line begin behind its block number. */
const behindNumber = (line: string): number => {
  let at = 0;
  while (isSpace(line.charCodeAt(at))) at++;
  if ((line.charCodeAt(at) | 32) !== 110) return 0;
  at++;
  while (isSpace(line.charCodeAt(at))) at++;
  const first = at;
  while (line.charCodeAt(at) >= 48 && line.charCodeAt(at) <= 57) at++;
  return at > first ? at : 0;
};

/**
 * Check value of a body: over its words, without block numbers, spacing and empty lines. It is looked at after every edit, so it
 * goes character by character, and only lines with other letters than plain ones are rewritten first.
 */
export const bodyCheck = (lines: readonly string[]): string => {
  let value = FIRST_VALUE;
  let isFirst = true;
  for (const line of lines) {
    const text = /^[\0-\x7f]*$/.test(line) ? line : bare(line);
    let isEmpty = true;
    for (let i = text === line ? behindNumber(line) : 0; i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (isSpace(c)) continue;
      if (isEmpty && !isFirst) value = mixed(value, NEW_LINE);
      isEmpty = false;
      isFirst = false;
      value = mixed(value, c >= 97 && c <= 122 ? c - 32 : c);
    }
  }
  return digits(value);
};

const parametersText = (name: string, raw: Readonly<Record<string, string>>): string =>
  [
    name.toUpperCase(),
    // Places are parted by `;` as typed and by `/` as read back.
    ...Object.entries(raw).map(([key, value]) => `${key.toUpperCase()}=${value.toUpperCase().replaceAll(';', '/')}`),
  ].join(' ');

/** Check value of the parameters. */
export const parameterCheck = (name: string, raw: Readonly<Record<string, string>>): string =>
  hash(parametersText(name, raw).replace(/\s+/g, ''));

/** The words of the opening remark: name and values, each value one piece that is not to be cut. */
const openingWords = (name: string, raw: Readonly<Record<string, string>>): string[] => [
  name.toUpperCase(),
  ...Object.entries(raw).map(([key, value]) => `${key.toUpperCase()}=${value.toUpperCase().replaceAll(';', '/')}`),
];

/** The lines of the opening remark, without brackets: pieces of at most `length` characters. */
export const openingRemarks = (name: string, raw: Readonly<Record<string, string>>, length: number): string[] => {
  const lines: string[] = [];
  let line = 'BLOCKWRIGHT-BLOCK';
  for (const word of openingWords(name, raw)) {
    for (const piece of piecesOf(word, length - 18)) {
      if (line.length + 1 + piece.length > length) {
        lines.push(line);
        line = 'BLOCKWRIGHT-WITH';
      }
      line += ` ${piece}`;
    }
  }
  return [...lines, line];
};

/** A list of places that is too long for a line goes on under its own name: AT=… AT=…. */
const piecesOf = (word: string, length: number): string[] => {
  if (word.length <= length || !word.includes('/')) return [word];
  const name = word.slice(0, word.indexOf('=') + 1);
  const pieces: string[] = [];
  let piece = name;
  for (const place of word.slice(name.length).split('/')) {
    if (piece !== name && piece.length + 1 + place.length > length) {
      pieces.push(piece);
      piece = name;
    }
    piece += piece === name ? place : `/${place}`;
  }
  return [...pieces, piece];
};

/** The closing remark, without brackets; `own` are words that are the block's own from here on (F, S). */
export const closingRemark = (name: string, raw: Readonly<Record<string, string>>, body: readonly string[]): string =>
  `BLOCKWRIGHT-END ${name.toUpperCase()} BODY=${bodyCheck(body)} FOR=${parameterCheck(name, raw)}`;

/** Name and values of an opening remark's text; a name that comes twice is a list that goes on. */
const readOpening = (text: string): { name: string; raw: Record<string, string> } | undefined => {
  const match = /^([A-Z][A-Z-]*)\b(?!=)\s*(.*)$/i.exec(text.trim());
  if (match === null) return undefined;
  const raw: Record<string, string> = {};
  let taken = '';
  for (const [whole, key, value] of match[2].matchAll(VALUE)) {
    const name = key.toLowerCase();
    // A thread's name holds `/` too, and never comes twice.
    raw[name] = raw[name] === undefined ? value.trim() : `${raw[name]}/${value.trim()}`;
    taken += whole;
  }
  if (taken.replace(/\s+/g, '') !== match[2].replace(/\s+/g, '')) return undefined;
  return { name: match[1].toLowerCase(), raw };
};

/** Lines that carry a marker, from 0 in order, with their texts. */
export type MarkerLines = readonly { readonly line: number; readonly text: string }[];

/** The generated blocks among lines with markers, and the markers that are broken. */
export const readMarkers = (lines: MarkerLines): { blocks: GeneratedBlock[]; broken: BrokenMarker[] } => {
  const blocks: GeneratedBlock[] = [];
  const broken: BrokenMarker[] = [];
  let open: { line: number; bodyLine: number; text: string } | undefined;
  const nameOf = (text: string): string => /^[A-Z-]*/i.exec(text.trim())?.[0].toLowerCase() ?? '';
  for (const { line, text } of lines) {
    const begin = OPEN.exec(text);
    const more = MORE.exec(text);
    const end = CLOSE.exec(text);
    if (begin !== null) {
      if (open !== undefined) broken.push({ line: open.line, why: 'no-end', name: nameOf(open.text) });
      open = { line, bodyLine: line + 1, text: begin[1] };
    } else if (more !== null && open !== undefined && line === open.bodyLine) {
      open = { line: open.line, bodyLine: line + 1, text: `${open.text} ${more[1]}` };
    } else if (more !== null) {
      broken.push({ line, why: 'no-start', name: '' });
    } else if (end !== null) {
      if (open === undefined) broken.push({ line, why: 'no-start', name: nameOf(end[1]) });
      else closeBlock(open, line, end[1], blocks, broken);
      open = undefined;
    }
  }
  if (open !== undefined) broken.push({ line: open.line, why: 'no-end', name: nameOf(open.text) });
  return { blocks, broken };
};

const closeBlock = (
  open: { line: number; bodyLine: number; text: string },
  lastLine: number,
  closing: string,
  blocks: GeneratedBlock[],
  broken: BrokenMarker[],
): void => {
  const reading = readOpening(open.text);
  const ending = readOpening(closing);
  if (reading === undefined) broken.push({ line: open.line, why: 'unreadable', name: '' });
  else if (ending !== undefined && ending.name !== reading.name) {
    broken.push({ line: lastLine, why: 'other-name', name: ending.name });
  } else {
    blocks.push({
      firstLine: open.line,
      bodyLine: open.bodyLine,
      lastLine,
      name: reading.name,
      raw: reading.raw,
      body: ending?.raw.body ?? '',
      parameters: ending?.raw.for ?? '',
    });
  }
};
