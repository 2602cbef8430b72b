/**
 * What stands under the pointer, in the trade's words: the word with what it comes to, and the whole block with the
 * numbers that result. Lines and columns count from 0; numbers are shown in the program's units.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { blockSentences } from './hoverBlock.ts';
import { flowSentences, passSentence } from './hoverFlow.ts';
import { inheritedModes } from './hoverModes.ts';
import { HoverPlace, type LineLink, type WordText } from './hoverPlace.ts';
import { remarkSentence } from './hoverRemark.ts';
import { variableSentence } from './hoverVariables.ts';
import { wordSentence } from './hoverWords.ts';

/** An explanation in Markdown, and the columns of the line that it is about. */
export interface HoverText {
  readonly markdown: string;
  readonly column: number;
  readonly endColumn: number;
}

/** A line without a link. */
const inWords: LineLink = (line) => `line ${line + 1}`;

/**
 * Explains the place; undefined where there is nothing to say. The analysis must be up to date. `link` names a line in
 * Markdown.
 */
export function hoverAt(
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
  link: LineLink = inWords,
): HoverText | undefined {
  const place = new HoverPlace(analysis, configuration, line, link);
  const remark = remarkSentence(place, column);
  if (remark !== undefined) return shown(place, remark, []);
  const index = place.wordAt(column);
  const word = index >= 0 ? wordSentence(place, index) : place.numberSentence(column);
  const variable = variableSentence(place, column);
  const about = [passSentence(place), inheritedModes(place)].filter((sentence) => sentence !== '');
  const block = [...flowSentences(place), ...blockSentences(place, index), ...about];
  // A variable within a word: first what it holds, then what the word comes to by it.
  if (variable !== undefined) return shown(place, variable, word === undefined ? block : [told(place, word), ...block]);
  return word === undefined && block.length === 0 ? undefined : shown(place, word, block);
}

const told = (place: HoverPlace, { title, text }: WordText): string => `**${place.escape(title)}** ${text}`;

const shown = (place: HoverPlace, word: WordText | undefined, block: readonly string[]): HoverText => {
  const [column, endColumn] = word?.range ?? place.range;
  const lines = word === undefined ? block : [told(place, word), ...block];
  return { markdown: lines.join('\n\n'), column, endColumn };
};
