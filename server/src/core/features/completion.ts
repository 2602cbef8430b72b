/**
 * What is offered while a program is typed. Where a block begins: the forms of generated blocks by their prefixes, and plain
 * forms with tab stops. Within a block: codes, and words with the values that fit.
 */
import type { BlockKind } from '../blocks/blockKind.ts';
import { BLOCKS } from '../blocks/registry.ts';
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { arcItems } from './completionArc.ts';
import { codeItems } from './completionCodes.ts';
import { cycleItems } from './completionCycle.ts';
import { jumpItems, lacksProgram, programItems, registerItems, toolItems, variableItems } from './completionNumbers.ts';
import { CompletionPlace, type Typed, type WordItem } from './completionPlace.ts';
import { feedItems, speedItems } from './completionRates.ts';
import type { Snippet } from './snippetForm.ts';
import { SNIPPETS, snippetLines } from './snippets.ts';

/** Something that takes the place of what was typed, in one line. */
export interface CompletionItem {
  readonly label: string;
  readonly detail: string;
  readonly description: string;
  /** Column from 0 where the typed text begins that goes. */
  readonly column: number;
  /** What the typed text is held against: the prefix first, then the words of the title. */
  readonly filter: string;
  /** Text with tab stops, '' where a form is opened. */
  readonly text: string;
  /** The block whose form is opened; undefined for plain text. */
  readonly form: string | undefined;
}

/** What is offered; `isIncomplete`: with the next letter it is something else. */
export interface Completions {
  readonly items: readonly CompletionItem[];
  /** Words of the block; they take the place of what was typed from `column` on. */
  readonly words: readonly WordItem[];
  readonly column: number;
  readonly isIncomplete: boolean;
  /** The program of a call may be named here: those in other files may be offered as well. */
  readonly namesProgram: boolean;
}

/** Before the cursor: nothing but a sequence number, then the word that is being typed. */
const BLOCK_START = /^(\s*(?:N\d+\s*)?)([A-Za-z][A-Za-z-]*)?$/i;
/** Begins a jump, a condition or a loop; a client that matches loosely finds the same letters in the titles of blocks. */
const FLOW_WORD = /^(?:GO(?:TO?)?|IF|WH(?:I(?:LE?)?)?)$/i;

/**
 * What is offered at a place (line and column from 0). `hasForm`: the client opens the form of a block; then the plain form
 * of a block says that it is plain.
 */
export const completionsAt = (
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
  hasForm: boolean,
): Completions => {
  const text = analysis.lineText(line);
  const [, before, word] = BLOCK_START.exec(text.slice(0, column)) ?? [];
  // Right behind a sequence number the block may be at its end: Enter must leave it as it is.
  const isNumberOnly = word === undefined && before !== undefined && /\d$/.test(before);
  const begins = before !== undefined && !isNumberOnly && text.slice(column).trim() === '';
  // A single letter is the first of a word such as S2000 far more often than of a block's name.
  const isFlow = configuration.profile.flow && isFlowWord(analysis, line, word ?? '');
  if (begins && word?.length !== 1 && !isFlow) {
    return {
      items: blockItems(analysis, configuration, line, before, hasForm),
      words: [],
      column: 0,
      isIncomplete: false,
      namesProgram: false,
    };
  }
  const place = new CompletionPlace(analysis, configuration, line, column);
  const { typed } = place;
  const words = typed === undefined ? [] : wordItems(place, typed);
  const isAtProgram = typed?.kind === 'nothing' || (typed?.letter === 'P' && typed.rest === '');
  const namesProgram = isAtProgram && lacksProgram(place);
  const isIncomplete = begins || words.length > 0;
  return { items: [], words, column: typed?.column ?? 0, isIncomplete, namesProgram };
};

/**
 * True for a word that leads the run elsewhere. Within a loop END closes it: no end of a program is offered there, which
 * would stand in the list still when the loop's number is typed behind the word, and Enter would take it.
 */
const isFlowWord = (analysis: Analysis, line: number, word: string): boolean => {
  if (FLOW_WORD.test(word)) return true;
  if (!/^END?$/i.test(word) || analysis.runsStraight) return false;
  return analysis.layout.loops.some(({ head, end }) => head < line && (end < 0 || end >= line));
};

/**
 * The words of the block that may stand at the cursor. A word that has its number is left alone: whoever ends the block
 * behind it must never get another one. Codes are the exception, see `codeItems`.
 */
const wordItems = (place: CompletionPlace, { kind, letter, rest }: Typed): WordItem[] => {
  if (kind === 'variable') return variableItems(place, rest);
  // Not right behind GOTO: the list would stay while the number is typed, and Enter would take another one.
  const isJump = kind === 'jump' && rest === '' && /\s$/.test(place.text);
  if (kind === 'jump') return isJump && place.configuration.profile.flow ? jumpItems(place) : [];
  if (kind === 'word' && (letter === 'G' || letter === 'M')) return codeItems(place, letter, rest);
  if (rest !== '') return [];
  if (kind === 'nothing') return missingWords(place);
  const items = [...arcItems(place), ...cycleItems(place), ...registerItems(place), ...programItems(place)];
  if (letter === 'T') items.push(...toolItems(place));
  if (letter === 'S') items.push(...speedItems(place));
  if (letter === 'F' && !items.some(({ label }) => label.startsWith('F'))) items.push(...feedItems(place));
  return items.filter(({ label }) => label.startsWith(letter));
};

/** Words that the block lacks. */
const missingWords = (place: CompletionPlace): WordItem[] => {
  const items = [...arcItems(place), ...cycleItems(place), ...registerItems(place), ...programItems(place)];
  if (place.hasCode('M', [6]) && !place.has('T')) items.push(...toolItems(place));
  if (place.hasCode('M', [3, 4]) && !place.has('S')) items.push(...speedItems(place));
  const cuts = place.hasCode('G', [10, 20, 30]) && !place.has('F');
  if (cuts && place.mode(Mode.feed) < 0) items.push(...feedItems(place));
  return items;
};

const blockItems = (
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  before: string,
  hasForm: boolean,
): CompletionItem[] => {
  const inch = isInch(analysis, line, configuration);
  const usable = SNIPPETS.filter(({ needsFlow }) => needsFlow !== true || configuration.profile.flow);
  const plain = usable.map((snippet) => ({
    ...plainItem(snippet, hasForm),
    column: before.length,
    text: snippetLines(snippet, inch, configuration.profile).join('\n'),
  }));
  const forms = hasForm ? BLOCKS.map((kind) => formItem(kind, before)) : [];
  return [...forms, ...plain];
};

const isInch = (analysis: Analysis, line: number, { profile }: Configuration): boolean =>
  (analysis.isReached(line) ? analysis.stateBefore(line).modes[Mode.units] : profile.start.units) === 20;

/** The item of a block's form. A sequence number before the typed word goes with it: the block brings its own. */
const formItem = ({ prefix, title, summary, name }: BlockKind, before: string): CompletionItem => ({
  label: prefix,
  detail: `${title}…`,
  description: summary,
  column: 0,
  filter: `${before}${prefix} ${title}`,
  text: '',
  form: name,
});

/** A plain form, found by the prefix of its block. */
const plainItem = (
  { prefix, name, description }: Snippet,
  hasForm: boolean,
): Omit<CompletionItem, 'column' | 'text'> => {
  const word = prefix.replace(/-plain$/, '');
  const title = name.replace(/ \(plain\)$/, '');
  const isMarked = hasForm && word !== prefix;
  return {
    label: isMarked ? `${word} (plain)` : word,
    detail: isMarked ? name : title,
    description,
    filter: `${word} ${title}`,
    form: undefined,
  };
};
