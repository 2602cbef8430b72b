// The command that writes a generated block: which kind, where, with which values; and what offers it.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { BlockHere } from '../../../server/src/core/features/blockForm.ts';
import type { PathPreview } from '../path/register.ts';
import { type BlockCall, readCall } from './call.ts';
import { lastValues } from './lastValues.ts';
import { type OpenForm, openForm } from './panel.ts';
import { type Place, placeAt } from './place.ts';
import { BlockRequests, type KindItem } from './requests.ts';
import type { FormTask } from './session.ts';

const languageId = 'cnc-program';
const insertBlock = 'blockwright.insertBlock';

/** Registers `blockwright.insertBlock` and the code action that offers it on an empty line. */
export function registerBlockForm(
  context: vscode.ExtensionContext,
  client: BaseLanguageClient,
  preview: PathPreview,
): vscode.Disposable {
  let open: OpenForm | undefined;
  const command = async (argument: unknown): Promise<void> => {
    const call = readCall(argument);
    const editor = await editorOf(call);
    if (!editor) {
      void vscode.window.showInformationMessage('Open a CNC program and put the cursor where the block is to stand.');
      return;
    }
    await open?.close();
    open = undefined;
    const requests = new BlockRequests(client, editor.document);
    const task = await taskFor(call, editor, requests, context.globalState);
    if (task) {
      open = await openForm(context, editor, task, requests, preview);
    }
  };
  return vscode.Disposable.from(
    vscode.commands.registerCommand(insertBlock, command),
    vscode.languages.registerCodeActionsProvider({ language: languageId }, new EmptyLineActions(), {
      providedCodeActionKinds: [EmptyLineActions.kind],
    }),
  );
}

/** Offers the list of blocks on an empty line. */
class EmptyLineActions implements vscode.CodeActionProvider {
  static readonly kind = vscode.CodeActionKind.Refactor.append('insertBlock');

  provideCodeActions(document: vscode.TextDocument, range: vscode.Range): vscode.CodeAction[] {
    if (!range.isSingleLine || document.lineAt(range.start.line).text.trim() !== '') {
      return [];
    }
    const action = new vscode.CodeAction('Insert a block…', EmptyLineActions.kind);
    action.command = { command: insertBlock, title: action.title, arguments: [{ line: range.start.line }] };
    return [action];
  }
}

/** The editor of the program that is meant, shown if it is not. */
async function editorOf({ uri }: BlockCall): Promise<vscode.TextEditor | undefined> {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  const shown = [activeTextEditor, ...visibleTextEditors].find(
    (editor) => editor && (uri === undefined || editor.document.uri.toString() === vscode.Uri.parse(uri).toString()),
  );
  if (uri !== undefined && !shown) {
    return vscode.window.showTextDocument(vscode.Uri.parse(uri));
  }
  const editor = uri === undefined ? activeTextEditor : shown;
  return editor?.document.languageId === languageId ? editor : undefined;
}

/** What the form is opened for; undefined where the user chose nothing. */
async function taskFor(
  call: BlockCall,
  { document, selection }: vscode.TextEditor,
  requests: BlockRequests,
  store: vscode.Memento,
): Promise<FormTask | undefined> {
  const { replaces, line } = call;
  const at = replaces?.firstLine ?? line ?? selection.active.line;
  const { kinds, isFree, here } = await requests.kinds(at);
  const isRevised = replaces !== undefined && here?.firstLine === replaces.firstLine;
  if (isRevised && here) {
    return revision(document, here, call);
  }
  const choice = await chooseKind(call, kinds, here);
  if (choice === 'revise') {
    return here && revision(document, here, {});
  }
  if (choice === undefined) {
    return undefined;
  }
  const column = line === undefined || line === selection.active.line ? selection.active.character : 0;
  const place = replaces
    ? { line: replaces.firstLine, replaced: replaces.lastLine - replaces.firstLine + 1 }
    : placeAt(at, column, isFree);
  const typed = call.values ? await inProgramUnits(requests, choice.name, place, call.values) : {};
  const kept = lastValues(store, choice.name);
  return {
    document,
    name: choice.name,
    place,
    kept,
    typed,
    isRevised: false,
    takesLines: replaces !== undefined,
    edited: false,
  };
}

const revision = (document: vscode.TextDocument, here: BlockHere, { values, edited }: BlockCall): FormTask => ({
  document,
  name: here.name,
  place: { line: here.firstLine, replaced: here.lastLine - here.firstLine + 1 },
  kept: values ?? here.values,
  typed: {},
  isRevised: true,
  takesLines: true,
  edited: here.edited || edited === true,
});

/** Values in mm as they are typed in the program. */
async function inProgramUnits(
  requests: BlockRequests,
  name: string,
  place: Place,
  values: Readonly<Record<string, string>>,
): Promise<Readonly<Record<string, string>>> {
  const { kept } = await requests.block(name, place, { values: {}, kept: values, isRevised: true });
  return kept;
}

interface KindChoice extends vscode.QuickPickItem {
  readonly choice: KindItem | 'revise';
}

/** The kind that the call names or the user picks; a block cannot stand inside another one, which can be revised. */
async function chooseKind(
  { name, replaces }: BlockCall,
  kinds: readonly KindItem[],
  here: BlockHere | undefined,
): Promise<KindItem | 'revise' | undefined> {
  if (here && !replaces) {
    const title = kinds.find((kind) => kind.name === here.name)?.title ?? here.name;
    const revise: KindChoice = { label: `Revise the ${title.toLowerCase()}`, choice: 'revise' };
    const placeHolder = 'The cursor is in a generated block, and no other can stand in there';
    return (await vscode.window.showQuickPick([revise], { title: 'Insert a block', placeHolder }))?.choice;
  }
  const named = kinds.find((kind) => kind.name === name);
  if (name !== undefined) {
    if (!named) {
      void vscode.window.showErrorMessage(`There is no block ${name}. Choose one by “Insert block…”.`);
    }
    return named;
  }
  const rows = kinds.map((kind): KindChoice => ({ label: kind.title, detail: kind.summary, choice: kind }));
  const picked = await vscode.window.showQuickPick(rows, {
    title: 'Insert a block',
    placeHolder: 'Which block? Its form opens, and nothing is written before you say so',
    matchOnDetail: true,
  });
  return picked?.choice;
}
