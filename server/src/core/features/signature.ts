/** The words of the cycle, arc or call that is being typed, with what each means and the one the cursor is at. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { gCodeName, mCodeName } from '../reference/codes.ts';
import { holdsFromBefore } from './completionCycle.ts';
import { CompletionPlace } from './completionPlace.ts';
import { wordsOfCall } from './signatureCalls.ts';
import { type CodeWord, isCycle, wordsOfCode } from './signatureWords.ts';

/** One word in the label. */
export interface SignatureWord {
  /** Its place in the label. */
  readonly start: number;
  readonly end: number;
  readonly meaning: string;
}

/** What is shown. */
export interface Signature {
  readonly label: string;
  /** What the code does, and which words it still lacks. */
  readonly text: string;
  readonly words: readonly SignatureWord[];
  /** The word the cursor is at, or the one that comes next; the number of words where none does. */
  readonly active: number;
}

/** A code with its words. */
interface Asked {
  readonly code: string;
  readonly name: string;
  readonly words: readonly CodeWord[];
}

/**
 * The words at a place (line and column from 0); undefined where no cycle, arc or call is typed. `isAsked`: somebody asked
 * for it, so that a cycle or arc counts too that holds from a block before.
 */
export const signatureAt = (
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
  isAsked: boolean,
): Signature | undefined => {
  const place = new CompletionPlace(analysis, configuration, line, column);
  if (place.isInRemark) return undefined;
  const asked = askedAt(place, column, isAsked);
  if (asked === undefined) return undefined;
  let label = asked.code;
  const words = asked.words.map(({ letter, meaning }) => {
    label += ` ${letter}`;
    return { start: label.length - letter.length, end: label.length, meaning };
  });
  return { label, text: textOf(place, asked), words, active: activeWord(place, asked) };
};

/** The code whose words are typed: a call, else the block's last cycle or arc before the cursor. */
const askedAt = (place: CompletionPlace, column: number, isAsked: boolean): Asked | undefined => {
  const { block, configuration } = place;
  const plane = place.isReached ? place.mode(Mode.plane) : configuration.profile.start.plane;
  let found: Asked | undefined;
  for (let i = 0; i < block.wordCount; i++) {
    if (block.ends[i] - block.start > column) break;
    const letter = String.fromCharCode(65 + block.letters[i]);
    const value = block.values[i];
    const call = configuration.profile.flow ? callOf(place, letter, value) : undefined;
    if (call !== undefined) return call;
    if (letter === 'G') found = codeAsked(place, Math.round(value * 10), plane) ?? found;
  }
  if (found !== undefined || !isAsked || !place.isReached) return found;
  const cycle = place.mode(Mode.cycle);
  return codeAsked(place, cycle > 0 ? cycle : place.mode(Mode.motion), plane);
};

const codeAsked = ({ configuration }: CompletionPlace, code: number, plane: number): Asked | undefined => {
  const { profile } = configuration;
  const words = profile.withoutCodes.includes(code) ? undefined : wordsOfCode(profile, code, plane);
  return words && { code: `G${code / 10}`, name: gCodeName(code) ?? '', words };
};

const callOf = (place: CompletionPlace, letter: string, value: number): Asked | undefined => {
  if (letter === 'M' && value === 98) {
    return { code: 'M98', name: mCodeName(98) ?? '', words: wordsOfCall(place, false) };
  }
  if (letter !== 'G' || (value !== 65 && value !== 66)) return undefined;
  return { code: `G${value}`, name: gCodeName(value * 10) ?? '', words: wordsOfCall(place, true) };
};

const textOf = (place: CompletionPlace, { code, name, words }: Asked): string => {
  const isActive = isCycle(Number(code.slice(1)) * 10) && place.isReached;
  const lacks = words.filter(
    ({ letter, isNeeded }) => isNeeded && !place.has(letter) && !(isActive && holdsFromBefore(place, letter)),
  );
  // A tap's feed may stand in a block before.
  const missing = lacks.filter(({ letter }) => letter !== 'F').map(({ letter }) => letter);
  return missing.length === 0 ? name : `${name}; still missing: ${missing.join(', ')}`;
};

const CENTRE = 'IJK';

const activeWord = (place: CompletionPlace, { code, words }: Asked): number => {
  const at = letterAt(place);
  if (at !== undefined) {
    const index = words.findIndex(({ letter }) => letter === at);
    return index < 0 ? words.length : index;
  }
  // An arc has either a centre or a radius.
  const isArc = code === 'G2' || code === 'G3';
  const hasCentre = [...CENTRE].some((letter) => place.has(letter));
  const isOut = (letter: string): boolean =>
    isArc && ((letter === 'R' && hasCentre) || (CENTRE.includes(letter) && place.has('R')));
  const open = (word: CodeWord): boolean => !place.has(word.letter) && !isOut(word.letter);
  const needed = words.findIndex((word) => word.isNeeded && open(word));
  const next = words.findIndex(open);
  // Words for the place come first wherever they are free: X and Y of a hole before its depth.
  const index = needed >= 0 && !(next >= 0 && next < needed && 'XYZ'.includes(words[next].letter)) ? needed : next;
  return index < 0 ? words.length : index;
};

/** The letter of the word that the cursor is in or right behind; also of one that has no number yet. */
const letterAt = ({ text }: CompletionPlace): string | undefined =>
  /([A-MO-Z])\s*[-+]?[\d.]*$/i.exec(text)?.[1].toUpperCase();
