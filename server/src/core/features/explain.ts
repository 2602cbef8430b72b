/** A block in plain sentences: what it does, each word, what it inherits and from which line, where it begins and ends, how long it takes. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { BlockKind } from '../syntax/block.ts';
import { explainedModes } from './explainModes.ts';
import { blockSentences } from './hoverBlock.ts';
import { flowSentences, passSentence } from './hoverFlow.ts';
import { duration, HoverPlace, type WordText } from './hoverPlace.ts';
import { variableSentence } from './hoverVariables.ts';
import { wordSentence } from './hoverWords.ts';
import { variableTokens } from './referencesTokens.ts';
import { positionWords } from './statusAt.ts';

/** A piece of a sentence: text, or a line of the program (from 0) that can be gone to. */
export type SentencePart = string | { readonly line: number };

/** A word of the block with what it does. */
export interface ExplainedWord {
  readonly title: string;
  readonly text: readonly SentencePart[];
}

/** Something that holds for the block, and where it was set. */
export interface ExplainedMode {
  /** `G90`, `F200`, `T3`. */
  readonly word: string;
  readonly text: string;
  /** Line that set it, from 0, and the program number where that is in a file of its own; left out where none did. */
  readonly line?: number;
  readonly program?: number;
  /** The block sets it itself. */
  readonly isOwn: boolean;
}

/** See the top of the file. */
export interface Explanation {
  readonly line: number;
  /** The block as it is written. */
  readonly text: string;
  readonly sentences: readonly (readonly SentencePart[])[];
  readonly words: readonly ExplainedWord[];
  readonly modes: readonly ExplainedMode[];
  /** Where the tool stands before and behind the block; empty for a block that is never reached. */
  readonly before: string;
  readonly after: string;
  /** Empty where it takes none, or none that is known. */
  readonly time: string;
}

const MARK = '\u0001';

/** Explains the block of a line. The analysis must be up to date, the line inside the program. */
export function explainBlock(analysis: Analysis, configuration: Configuration, line: number): Explanation {
  const place = new HoverPlace(analysis, configuration, line, (target) => `${MARK}${target}${MARK}`);
  const { isReached } = place;
  const told = [...flowSentences(place), ...blockSentences(place)];
  const sentences = [...(told.length > 0 ? told : [emptySentence(place)]), passSentence(place)];
  const seconds = place.moves.reduce((sum, move) => sum + move.seconds, 0);
  return {
    line,
    text: analysis.lineText(line).trim(),
    sentences: sentences.filter((sentence) => sentence !== '').map(partsOf),
    words: wordsOf(place),
    modes: isReached ? explainedModes(place) : [],
    before: isReached ? positionWords(place.before) : '',
    after: isReached ? positionWords(place.after) : '',
    time: seconds > 0 ? duration(seconds) : '',
  };
}

/** Each word, and each variable that is set, in the order of the block. */
function wordsOf(place: HoverPlace): ExplainedWord[] {
  const { block } = place;
  const found: WordText[] = Array.from({ length: block.wordCount }, (_, index) => wordSentence(place, index));
  for (const { isSet, column } of variableTokens(block)) {
    const sentence = isSet ? variableSentence(place, column) : undefined;
    if (sentence !== undefined) found.push(sentence);
  }
  found.sort((a, b) => a.range[0] - b.range[0]);
  return found.map(({ title, text }) => ({ title, text: partsOf(text) }));
}

/** What there is to say of a block that neither moves nor leads anywhere. */
function emptySentence({ block, isReached, configuration }: HoverPlace): string {
  if (block.kind === BlockKind.tapeMark) return 'Marks the start or the end of the program.';
  if (block.programNumber >= 0) return `Program number ${block.programNumber}: the program begins here.`;
  if (block.wordCount === 0 && !block.assigns) {
    return block.remarks.length > 0 ? 'A remark for the reader. The machine does nothing.' : 'Nothing in this line.';
  }
  if (!isReached) return 'The run never comes to this block.';
  if (block.deleteLevel > 0 && configuration.blockDelete === 'skip') return 'Skipped: block delete is on.';
  return block.assigns ? 'Sets values, nothing moves.' : 'Nothing moves: the block sets what holds from here on.';
}

/** A sentence of hover without the signs that Markdown needs, cut at the lines that it names. */
function partsOf(sentence: string): SentencePart[] {
  const plain = sentence.replace(/\\([\\`*_{}[\]()#+!|<>~-])/g, '$1').replaceAll('**', '');
  return plain
    .split(MARK)
    .map((part, index) => (index % 2 === 1 ? { line: Number(part) } : part))
    .filter((part) => part !== '');
}
