/** One line with its lengths and feeds in the other unit. */
import type { Configuration } from '../machine/configuration.ts';
import { F, G, I, J, K, L, M, P, Q, R } from '../machine/letters.ts';
import { Mode } from '../machine/modes.ts';
import { readToolRemark } from '../reference/toolRemark.ts';
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import { type Conversion, unitOfWord } from './convertUnitsKind.ts';
import type { Refusal } from './formatEdits.ts';
import { readLine } from './formatPieces.ts';

/** A mode behind a line. */
export type LineModes = (field: number) => number;

/** What a line is converted under. */
export interface LineConversion {
  /** From 0. */
  readonly line: number;
  /** Undefined where the line is never run. */
  readonly modes: LineModes | undefined;
  readonly conversion: Conversion;
  readonly configuration: Configuration;
  /** What rounding took from ways in G91, in the new unit, by the letter's place in the alphabet. Written. */
  readonly carried: Float64Array;
  readonly morePlaces: number;
}

const INCH = 25.4;
const AXES: readonly number[] = ['X', 'Y', 'Z', 'U', 'V', 'W'].map(letterIndex);
const [S, T] = ['S', 'T'].map(letterIndex);
/** Digits behind the point of lengths, in mm and in inch, and how many more a feed a turn has: a lead is short. */
const PLACES = { 20: 4, 21: 3 } as const;
const MORE_FOR_LEADS = 2;

/** The line in the other unit, the same text where it has nothing to convert, or why it cannot be done. */
export const convertedLine = (text: string, place: LineConversion): string | Refusal => {
  const { block } = readLine(text, place.configuration.profile);
  const refusal = (why: string): Refusal => ({ line: place.line, why: `Line ${place.line + 1} ${why}` });
  if (block.wordCount === 0 && block.flow === undefined && !block.assigns) return text;
  const why = whyNot(block, place);
  if (why !== undefined) return refusal(why);
  const modes = place.modes;
  if (modes === undefined || !isInUnit(modes, place)) return text;
  const pieces = remarkPieces(block, text, place.conversion);
  for (let i = 0; i < block.wordCount; i++) {
    const number = newNumber(block, i, modes, place);
    if (number !== undefined) pieces.push({ start: block.starts[i] + 1, end: block.ends[i], text: number });
  }
  pieces.sort((a, b) => b.start - a.start);
  return pieces.reduce((made, piece) => made.slice(0, piece.start) + piece.text + made.slice(piece.end), text);
};

interface NewPiece {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** A number in a remark that no unit follows. */
const BARE_NUMBER = /(?:\d+(?:\.\d*)?|\.\d+)(?![\d.]|\s*(?:MM|IN|"))/gi;

/** The unit behind the size that the remark of a tool gives without one: else the tool would get another size with the program's unit. */
const remarkPieces = (block: Block, text: string, { from, to }: Conversion): NewPiece[] => {
  const pieces: NewPiece[] = [];
  const isToolCall = block.has(T) || hasCode(block, M, [6]);
  for (let i = 0; isToolCall && i < block.remarks.length; i += 2) {
    const remark = text.slice(block.remarks[i], block.remarks[i + 1]);
    const meant = JSON.stringify(readToolRemark(remark, from === 20));
    if (meant === JSON.stringify(readToolRemark(remark, to === 20))) continue;
    for (const { index, 0: number } of remark.matchAll(BARE_NUMBER)) {
      const end = index + number.length;
      const unit = from === 20 ? 'IN' : 'MM';
      const told = remark.slice(0, end) + unit + remark.slice(end);
      if (JSON.stringify(readToolRemark(told, to === 20)) !== meant) continue;
      pieces.push({ start: block.remarks[i] + end, end: block.remarks[i] + end, text: unit });
      break;
    }
  }
  return pieces;
};

/** True where the line counts in the unit that is converted: lines before their own G20 or G21 need not. */
const isInUnit = (modes: LineModes, { conversion: { from, to, saysUnit } }: LineConversion): boolean =>
  modes(Mode.units) === (saysUnit ? from : to);

const hasCode = (block: Block, letter: number, codes: readonly number[]): boolean => {
  for (let i = 0; i < block.wordCount; i++)
    if (block.letters[i] === letter && codes.includes(block.values[i])) return true;
  return false;
};

/** What of a line only people can convert; undefined where nothing is. */
const whyNot = (block: Block, { modes, configuration }: LineConversion): string | undefined => {
  if (block.faults.length > 0) return 'has a mistake in it. Put that right first.';
  if (block.assigns || block.flow !== undefined)
    return 'works with variables, which may be lengths or not. Convert it by hand, or leave it out of the selection.';
  const isCall = hasCode(block, G, [65, 66]) || hasCode(block, M, [98, configuration.profile.localCallCode]);
  if (isCall) return 'calls a program whose lines are not converted along. Leave it out of the selection.';
  if (modes === undefined) return 'is never run, so it cannot be known what its numbers mean.';
  for (let i = 0; i < block.wordCount; i++) {
    if ((block.flags[i] & WordFlag.computed) !== 0 && meaningOf(block, i, modes, configuration) !== 'other')
      return `computes ${String.fromCharCode(65 + block.letters[i])}. Convert it by hand, or leave it out of the selection.`;
  }
  if (modes(Mode.polar) === 1) return 'is in polar coordinates (G16), where Y may be an angle. Convert it by hand.';
  if (modes(Mode.speedMode) === 96 && block.has(S))
    return 'sets a cutting speed (G96), which is in m/min or ft/min. Convert it by hand.';
  if (hasCode(block, G, [10]) && ![2, 20, 10, 11, 12, 13].includes(block.value(L)))
    return 'writes into a table of the control (G10), which may hold anything. Convert it by hand.';
  if (hasCode(block, G, [64]) && block.has(P))
    return 'sets how far corners may be rounded (G64 P). Convert it by hand.';
  return undefined;
};

type Meaning = 'way' | 'length' | 'peck' | 'feed' | 'lead' | 'other';

/** Cycles whose Q is a peck. */
const PECKED: readonly number[] = [730, 830];

/** What a word's number is. */
const meaningOf = (block: Block, index: number, modes: LineModes, { profile }: Configuration): Meaning => {
  const letter = block.letters[index];
  if (hasCode(block, G, [4])) return 'other';
  if (AXES.includes(letter)) return 'way';
  if (letter === F) return feedMeaning(block, modes, profile.leadWord);
  const isCycle = modes(Mode.cycle) !== 0;
  const isThread = modes(Mode.motion) === 330;
  if (hasCode(block, G, [51])) return 'other';
  if (letter === R) return isRadius(block) ? 'length' : 'other';
  if (letter === Q) return PECKED.includes(modes(Mode.cycle)) ? 'peck' : isCycle ? 'length' : 'other';
  if (letter === K && isCycle && profile.repeats !== 'L') return 'other';
  if (letter === K && isThread && profile.leadWord === 'K') return 'lead';
  return letter === I || letter === J || letter === K ? 'length' : 'other';
};

/** R of G68 is an angle, and so is that of a G10 that sets work offsets. */
const isRadius = (block: Block): boolean =>
  !hasCode(block, G, [68]) && !(hasCode(block, G, [10]) && [2, 20].includes(block.value(L)));

const feedMeaning = (block: Block, modes: LineModes, leadWord: 'F' | 'K'): Meaning => {
  if (modes(Mode.motion) === 330 && leadWord === 'F') return 'lead';
  if (modes(Mode.feedMode) === 93 || hasCode(block, G, [93])) return 'other';
  return modes(Mode.feedMode) === 95 ? 'lead' : 'feed';
};

/** The new text of a word's number; undefined where it stays. */
const newNumber = (block: Block, index: number, modes: LineModes, place: LineConversion): string | undefined => {
  const { conversion, configuration, carried, morePlaces } = place;
  const letter = block.letters[index];
  const unit = unitOfWord(letter, block.values[index], configuration);
  if (unit !== undefined) return String(block.values[index] >= 70 ? conversion.to + 50 : conversion.to);
  const meaning = meaningOf(block, index, modes, configuration);
  if (meaning === 'other') return undefined;
  const isLength = meaning === 'way' || meaning === 'length' || meaning === 'peck';
  const hasPoint = (block.flags[index] & WordFlag.point) !== 0;
  const counts = configuration.profile.decimalPoint === 'increment' && isLength && !hasPoint;
  const factor = conversion.to === 21 ? INCH : 1 / INCH;
  const places = counts ? 0 : PLACES[conversion.to] + morePlaces + (meaning === 'lead' ? MORE_FOR_LEADS : 0);
  const scale = counts ? 10 ** (PLACES[conversion.to] - PLACES[conversion.from]) : 1;
  const isStep = meaning === 'way' && modes(Mode.distance) === 91;
  const exact = block.values[index] * factor * scale + (isStep ? carried[letter] : 0);
  // A peck that is rounded down may need another one for the last thousandth.
  const rounded = meaning === 'peck' ? upTo(exact, places) : Number(exact.toFixed(places)) + 0;
  if (meaning === 'way') carried[letter] = isStep ? exact - rounded : 0;
  return written(rounded, places, block.wordText(index));
};

const upTo = (value: number, places: number): number =>
  Number((Math.ceil(value * 10 ** places - 1e-6) / 10 ** places).toFixed(places)) + 0;

/** A number written as its word was: with a point where that had one, without a nought before it where that had none. */
const written = (value: number, places: number, word: string): string => {
  const fixed = value.toFixed(places);
  const trimmed = fixed.includes('.') ? fixed.replace(/0+$/, '') : fixed;
  let text = trimmed.includes('.') || !word.includes('.') ? trimmed : `${trimmed}.`;
  if (!word.includes('.')) text = text.replace(/\.$/, '');
  return /^[A-Z]\s*[-+]?\s*\./i.test(word) ? text.replace(/^(-?)0\.(?=\d)/, '$1.') : text;
};
