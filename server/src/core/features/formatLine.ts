/** One line in a shop's style. Remarks, tape marks, and lines with a mistake in them stay as they were typed. */
import type { ControlProfile } from '../machine/profile.ts';
import { mayHavePoints, styledNumber } from './formatNumbers.ts';
import { sortedWords } from './formatOrder.ts';
import { type Piece, piecesOf, type ReadLine, readLine } from './formatPieces.ts';
import { haveSameWords, readAlike } from './formatReading.ts';
import type { FormatStyle } from './formatStyle.ts';

/** A line as it is to be; `isReadAlike`: the reader makes the same of both, else the run has to be compared. */
export interface FormattedLine {
  readonly text: string;
  readonly isReadAlike: boolean;
}

/** The line in a style; undefined where it stays as it is. */
export const formattedLine = (text: string, style: FormatStyle, profile: ControlProfile): FormattedLine | undefined => {
  const before = readLine(text, profile);
  const pieces = piecesOf(before);
  if (pieces === undefined || pieces.every(({ kind }) => kind === 'remark')) return undefined;
  const ordered = style.wordOrder === 'sort' ? sortedWords(pieces, before.block, profile) : pieces;
  const formatted = joined(before, ordered, style, profile);
  if (formatted === text) return undefined;
  // Nobody wins by a line that the control does not take.
  if (formatted.length > profile.lineLength && formatted.length > text.length) return undefined;
  const after = readLine(formatted, profile);
  if (readAlike(before, after)) return { text: formatted, isReadAlike: true };
  return haveSameWords(before, after) ? { text: formatted, isReadAlike: false } : undefined;
};

const joined = (line: ReadLine, pieces: readonly Piece[], style: FormatStyle, profile: ControlProfile): string => {
  const { text } = line;
  const hasPoints = mayHavePoints(line.block);
  let out = style.spacing === 'none' ? '' : text.slice(0, Math.min(...pieces.map(({ start }) => start)));
  pieces.forEach((piece, i) => {
    if (i > 0) out += gapBetween(text, pieces[i - 1], piece, style);
    out += pieceText(line, piece, style, profile, hasPoints);
  });
  return style.spacing === 'keep' ? out + text.slice(Math.max(...pieces.map(({ end }) => end))) : out;
};

/** What stands between two pieces. */
const gapBetween = (text: string, before: Piece, piece: Piece, { spacing }: FormatStyle): string => {
  // Words that changed places have nothing typed between them.
  const typed = before.end <= piece.start ? text.slice(before.end, piece.start) : ' ';
  const isBlank = /^[ \t]*$/.test(typed);
  if (spacing === 'keep') return isBlank ? typed : ' ';
  if (before.kind === 'delete') return typed === '' || spacing === 'none' ? '' : ' ';
  if (spacing === 'none') {
    // Letters of flow and of expressions want to be told apart by people too.
    const isStatement = before.kind === 'statement' || piece.kind === 'statement';
    return isStatement && typed !== '' ? ' ' : '';
  }
  // Remarks are often aligned beneath one another.
  return piece.kind === 'remark' && isBlank && typed !== '' ? typed : ' ';
};

const pieceText = (
  { text, block }: ReadLine,
  { kind, start, end, word }: Piece,
  style: FormatStyle,
  profile: ControlProfile,
  hasPoints: boolean,
): string => {
  const typed = text.slice(start, end);
  if (kind === 'remark' || kind === 'delete') return typed;
  const isTight = style.spacing !== 'keep';
  if (kind === 'number') return cased(isTight ? typed.replace(/[ \t]+/g, '') : typed, style);
  if (kind === 'statement') return cased(typed, style);
  if (kind === 'computed') return cased(isTight ? typed[0] + typed.slice(1).trimStart() : typed, style);
  const tight = isTight ? typed.replace(/[ \t]+/g, '') : typed;
  const rest = /[ \t]/.test(tight)
    ? tight.slice(1)
    : styledNumber(tight.slice(1), block, word, style, profile, hasPoints);
  return cased(tight[0], style) + rest;
};

/** Names of variables (`#<depth>`) keep their letters. */
const cased = (text: string, { letterCase }: FormatStyle): string => {
  if (letterCase === 'keep') return text;
  return text.replace(/<[^>]*>|[a-z]+/gi, (part) => {
    if (part.startsWith('<')) return part;
    return letterCase === 'upper' ? part.toUpperCase() : part.toLowerCase();
  });
};
