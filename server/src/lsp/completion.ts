/** Completions: forms of generated blocks, plain forms with tab stops. */
import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  InsertTextFormat,
  type Position,
  type Range,
  TextEdit,
} from 'vscode-languageserver';
import { completionsAt, type CompletionItem as Offered } from '../core/features/completion.ts';
import type { ClientAbilities } from './capabilities.ts';
import { lineWithin } from './params.ts';
import type { Program } from './programs.ts';

/** What is offered at a position of a program that is up to date. Lines past the end get an error answer. */
export function completionsIn(
  program: Program,
  { line, character }: Position,
  { hasBlockForm, takesTabStops }: ClientAbilities,
): CompletionList | null {
  const { analysis, configuration } = program;
  lineWithin(line, analysis.lineCount);
  const column = Math.min(character, analysis.lineText(line).length);
  const { items, isIncomplete } = completionsAt(analysis, configuration, line, column, hasBlockForm);
  if (items.length === 0 && !isIncomplete) return null;
  return {
    isIncomplete,
    items: items.map((item, place) => toItem(item, place, rangeOf(item, line, column), takesTabStops)),
  };
}

const rangeOf = ({ column }: Offered, line: number, end: number): Range => ({
  start: { line, character: column },
  end: { line, character: end },
});

/** The item at a place of the list, which is kept among those that fit equally well. */
const toItem = (offered: Offered, place: number, range: Range, takesTabStops: boolean): CompletionItem => {
  const { label, detail, description, filter, form } = offered;
  const sortText = String(place).padStart(3, '0');
  const item: CompletionItem = { label, detail, documentation: description, filterText: filter, sortText };
  if (form !== undefined) {
    return {
      ...item,
      kind: CompletionItemKind.Event,
      textEdit: TextEdit.replace(range, ''),
      command: { title: detail, command: 'blockwright.insertBlock', arguments: [{ name: form }] },
    };
  }
  return {
    ...item,
    kind: CompletionItemKind.Snippet,
    insertTextFormat: takesTabStops ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: TextEdit.replace(range, takesTabStops ? offered.text : withoutStops(offered.text)),
  };
};

/** The text of a snippet with the numbers of its tab stops written out. */
const withoutStops = (text: string): string => {
  const defaults = new Map<string, string>();
  return text
    .replace(/\$\{(\d+):([^}]*)\}|\$(\d+)/g, (_, place: string | undefined, own: string, copy: string) => {
      if (place === undefined) return defaults.get(copy) ?? '';
      defaults.set(place, own);
      return own;
    })
    .replace(/\n$/, '');
};
