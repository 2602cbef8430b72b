/**
 * A block as the pieces it is written in: delete slash, block or program number, words, flow, assignments, remarks. Nothing but
 * blanks stands between them.
 */
import type { ControlProfile } from '../machine/profile.ts';
import { Block, BlockKind, WordFlag } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';

/** One piece; columns of the line, the end exclusive. */
export interface Piece {
  readonly kind: 'delete' | 'number' | 'word' | 'computed' | 'statement' | 'remark';
  readonly start: number;
  readonly end: number;
  /** Place of a word in the block, −1 for other pieces. */
  readonly word: number;
}

/** A line that was read: its words with columns as offsets. */
export interface ReadLine {
  readonly text: string;
  readonly block: Block;
}

const readers = new WeakMap<ControlProfile, BlockReader>();

/** Reads a line by itself: what is computed has no value. */
export const readLine = (text: string, profile: ControlProfile, block = new Block()): ReadLine => {
  let reader = readers.get(profile);
  if (reader === undefined) {
    reader = new BlockReader(profile);
    readers.set(profile, reader);
  }
  reader.read(text, 0, text.length, block, undefined);
  return { text, block };
};

const NUMBER = /[NO:]\s*\d+\.?/iy;
const DELETE = /\/[1-9]?/y;

/** The pieces of a line in order; undefined for a tape mark, and where a mistake stands that is best left as it was typed. */
export const piecesOf = ({ text, block }: ReadLine): Piece[] | undefined => {
  if (block.faults.length > 0 || block.kind === BlockKind.tapeMark) return undefined;
  const known = knownPieces(text, block).sort((a, b) => a.start - b.start);
  const pieces: Piece[] = [];
  let at = 0;
  for (const piece of [...known, undefined]) {
    const between = piecesBetween(text, at, piece?.start ?? text.length);
    if (between === undefined) return undefined;
    pieces.push(...between);
    if (piece === undefined) break;
    pieces.push(piece);
    at = piece.end;
  }
  return pieces;
};

/** Words, remarks and flow: what the reader tells the places of. */
const knownPieces = (text: string, block: Block): Piece[] => {
  const pieces: Piece[] = [];
  const { flow, remarks } = block;
  if (flow !== undefined) {
    const end = flow.start + text.slice(flow.start, flow.end).trimEnd().length;
    pieces.push({ kind: 'statement', start: flow.start, end, word: -1 });
  }
  for (let i = 0; i < remarks.length; i += 2) {
    const isBracket = text[remarks[i] - 1] === '(';
    const start = isBracket || text[remarks[i] - 1] === ';' ? remarks[i] - 1 : remarks[i] - 2;
    pieces.push({ kind: 'remark', start, end: isBracket ? remarks[i + 1] + 1 : remarks[i + 1], word: -1 });
  }
  for (let word = 0; word < block.wordCount; word++) {
    const isComputed = (block.flags[word] & WordFlag.computed) !== 0;
    const start = block.starts[word];
    // The reader passes over the blanks behind an expression.
    const end = start + text.slice(start, block.ends[word]).trimEnd().length;
    pieces.push({ kind: isComputed ? 'computed' : 'word', start, end, word });
  }
  return pieces;
};

/** Delete slash, numbers and assignments between two of them; undefined where something else stands there. */
const piecesBetween = (text: string, from: number, to: number): Piece[] | undefined => {
  const pieces: Piece[] = [];
  let at = from;
  while (at < to) {
    if (text[at] === ' ' || text[at] === '\t') at++;
    else if (text[at] === '#') {
      const end = at + text.slice(at, to).trimEnd().length;
      pieces.push({ kind: 'statement', start: at, end, word: -1 });
      at = to;
    } else {
      const kind = text[at] === '/' ? 'delete' : 'number';
      const pattern = kind === 'delete' ? DELETE : NUMBER;
      pattern.lastIndex = at;
      const found = pattern.exec(text);
      if (found === null || pattern.lastIndex > to) return undefined;
      pieces.push({ kind, start: at, end: pattern.lastIndex, word: -1 });
      at = pattern.lastIndex;
    }
  }
  return pieces;
};
