/** Completions: forms of generated blocks, plain forms with tab stops, words of the block. */
import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  type Connection,
  InsertTextFormat,
  type Range,
  TextEdit,
} from 'vscode-languageserver';
import { headOfLines, numberOfName } from '../core/checks/flow/siblingFiles.ts';
import { completionsAt, type CompletionItem as Offered } from '../core/features/completion.ts';
import type { WordItem } from '../core/features/completionPlace.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { type AskedPlace, placeAsked } from './upToDate.ts';

/** Answers what is offered while a program is typed. */
export function listenToCompletion(connection: Connection, server: Server): void {
  connection.onCompletion(async (params, token) => {
    const asked = await placeAsked(server, params, token);
    return asked ? completionsIn(server, asked) : null;
  });
}

/** What is offered at a place. */
async function completionsIn(
  server: Server,
  { program, line, column: end }: AskedPlace,
): Promise<CompletionList | null> {
  const { analysis, configuration } = program;
  const { hasBlockForm, takesTabStops } = server.client;
  const offered = completionsAt(analysis, configuration, line, end, hasBlockForm);
  const { items, column } = offered;
  const words = [...offered.words];
  if (offered.namesProgram) {
    const own = new Set(words.map(({ label }) => label));
    words.push(...(await programsBeside(server, program)).filter(({ label }) => !own.has(label)));
  }
  const isIncomplete = offered.isIncomplete || words.length > 0;
  if (items.length === 0 && !isIncomplete) return null;
  return {
    isIncomplete,
    items: [
      ...items.map((item, place) => toItem(item, place, rangeOf(item, line, end), takesTabStops)),
      ...words.map((word, place) => toWord(word, place, rangeOf({ column }, line, end))),
    ],
  };
}

/** Programs in files of their own beside this one, as far as an editor has them open or their name is the number. */
async function programsBeside(server: Server, program: Program): Promise<WordItem[]> {
  const { files } = await server.subprograms.filesBeside(program);
  const found = new Map<number, string>();
  for (const { name, program: open } of files) {
    const head = open && headOfLines((at) => open.analysis.lineText(at), open.analysis.lineCount).number;
    const number = head !== undefined && head >= 0 ? head : numberOfName(name);
    if (number >= 0 && !found.has(number)) found.set(number, name);
  }
  return [...found]
    .sort(([a], [b]) => a - b)
    .map(([number, name]) => ({ label: `P${number}`, detail: `program O${number}`, effect: name, kind: 'program' }));
}

const WORD_KINDS: Readonly<Record<WordItem['kind'], CompletionItemKind>> = {
  code: CompletionItemKind.Keyword,
  word: CompletionItemKind.Value,
  tool: CompletionItemKind.Reference,
  variable: CompletionItemKind.Variable,
  place: CompletionItemKind.Reference,
  program: CompletionItemKind.Function,
};

/** A word; what it does here stands beside it in the list. */
const toWord = (word: WordItem, place: number, range: Range): CompletionItem => {
  const { label, detail, effect, kind, removes, isAsTyped } = word;
  const { start } = range;
  return {
    label,
    labelDetails: { detail: `  ${detail}`, description: effect },
    detail: [detail, effect].filter((part) => part !== '').join('; '),
    kind: WORD_KINDS[kind],
    filterText: label,
    sortText: String(place).padStart(3, '0'),
    textEdit: TextEdit.replace(range, label),
    ...(isAsTyped && { preselect: true }),
    ...(removes && { additionalTextEdits: [TextEdit.del(wordRange(removes, start.line))] }),
  };
};

const wordRange = ([from, to]: readonly [number, number], line: number): Range => ({
  start: { line, character: from },
  end: { line, character: to },
});

const rangeOf = ({ column }: Pick<Offered, 'column'>, line: number, end: number): Range => ({
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
