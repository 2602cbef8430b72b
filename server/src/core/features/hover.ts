/**
 * What stands under the pointer, in the trade's words: the word with what it comes to, and the whole block with the
 * numbers that result. Lines and columns count from 0; numbers are shown in the program's units.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { blockSentences } from './hoverBlock.ts';
import { flowSentences } from './hoverFlow.ts';
import { HoverPlace } from './hoverPlace.ts';
import { variableSentence } from './hoverVariables.ts';
import { wordSentence } from './hoverWords.ts';

/** An explanation in Markdown, and the columns of the line that it is about. */
export interface HoverText {
  readonly markdown: string;
  readonly column: number;
  readonly endColumn: number;
}

/** Explains the place; undefined where there is nothing to say. The analysis must be up to date. */
export function hoverAt(
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
): HoverText | undefined {
  const place = new HoverPlace(analysis, configuration, line);
  const index = place.wordAt(column);
  const word =
    index >= 0 ? wordSentence(place, index) : (place.numberSentence(column) ?? variableSentence(place, column));
  const block = [...flowSentences(place), ...blockSentences(place, index)];
  if (!word && block.length === 0) return undefined;
  const range = word?.range ?? place.range;
  const lines = [...(word ? [`**${place.escape(word.title)}** ${word.text}`] : []), ...block];
  return { markdown: lines.join('\n\n'), column: range[0], endColumn: range[1] };
}
