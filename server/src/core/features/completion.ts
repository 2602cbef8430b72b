/** What is offered where a block begins: the forms of generated blocks by their prefixes, and plain forms with tab stops. */
import type { BlockKind } from '../blocks/blockKind.ts';
import { BLOCKS } from '../blocks/registry.ts';
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { SNIPPETS, type Snippet, snippetLines } from './snippets.ts';

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

/** What is offered; `isIncomplete`: with the next letter there is more. */
export interface Completions {
  readonly items: readonly CompletionItem[];
  readonly isIncomplete: boolean;
}

const NOTHING: Completions = { items: [], isIncomplete: false };
/** Before the cursor: nothing but a sequence number, then the word that is being typed. */
const BLOCK_START = /^(\s*(?:N\d+\s*)?)([A-Za-z][A-Za-z-]*)?$/i;

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
  const match = BLOCK_START.exec(text.slice(0, column));
  if (match === null || text.slice(column).trim() !== '') return NOTHING;
  const [, before, word = ''] = match;
  // A single letter is the first of a word such as S2000 far more often than of a block's name.
  if (word.length === 1) return { items: [], isIncomplete: true };
  const inch = isInch(analysis, line, configuration);
  const usable = SNIPPETS.filter(({ needsFlow }) => needsFlow !== true || configuration.profile.flow);
  const plain = usable.map((snippet) => ({
    ...plainItem(snippet, hasForm),
    column: before.length,
    text: snippetLines(snippet, inch, configuration.profile).join('\n'),
  }));
  const forms = hasForm ? BLOCKS.map((kind) => formItem(kind, before)) : [];
  return { items: [...forms, ...plain], isIncomplete: false };
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
