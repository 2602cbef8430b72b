// From a move in the picture to its line in the text, with a word on which pass through the line it was.
import * as vscode from 'vscode';
import type { PathMove, PathMoveRequest } from '../../../server/src/core/geometry/pathRequestMove.ts';
import { passWords } from './passWords.ts';

/** Asks the server for a move; undefined where the line moves nothing or nobody answers. */
export type AskMove = (asked: PathMoveRequest) => Promise<PathMove | undefined>;

/** How long the word on the pass stays in the status bar, ms. */
const SAID_FOR = 8_000;

/** So long the pass is waited for before the cursor goes to the line, ms. */
const LONGEST_WAIT = 500;

/** The click itself gives the keyboard to the path, on a busy machine after the line was shown: so long that is waited for, ms. */
const FOCUS_LATE = 100;

/** How the text behind the line looks; made once, for all editors. */
let passNote: vscode.TextEditorDecorationType | undefined;

/** What going to a move needs of others. */
export interface MoveWays {
  readonly askMove: AskMove;
  /** A subprogram's own file is about to be shown: the path stays that of the program that calls it. */
  readonly stayAt: (file: vscode.Uri) => void;
}

/**
 * Puts the cursor on the line of a move, in the column where its program is shown already, and says which pass it was. A
 * move of a subprogram's own file leads to that file.
 */
export async function goToMove(uri: vscode.Uri, asked: PathMoveRequest, ways: MoveWays): Promise<void> {
  const move = asked.at === undefined ? undefined : await soon(ways.askMove(asked));
  const file = move?.origin?.uri === undefined ? undefined : vscode.Uri.parse(move.origin.uri);
  const column = editorOf(uri)?.viewColumn;
  if (file) {
    ways.stayAt(file);
  }
  const line = file && move?.origin ? move.origin.line : asked.line;
  const editor = await goToLine(file ?? uri, line, column);
  const words = move && passWords(move);
  if (words !== undefined) {
    sayPass(editor, line, words);
  }
}

/** The answer, or nothing where the server is busy with a long program: the line is worth more at once. */
function soon(answer: Promise<PathMove | undefined>): Promise<PathMove | undefined> {
  return Promise.race([answer, new Promise<undefined>((resolve) => setTimeout(resolve, LONGEST_WAIT, undefined))]);
}

function editorOf(uri: vscode.Uri): vscode.TextEditor | undefined {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  return [activeTextEditor, ...visibleTextEditors].find((editor) => editor?.document.uri.toString() === uri.toString());
}

/** `other` is the column where the program is not shown yet. */
async function goToLine(uri: vscode.Uri, line: number, other = vscode.ViewColumn.One): Promise<vscode.TextEditor> {
  const shown = editorOf(uri);
  const document = shown?.document ?? (await vscode.workspace.openTextDocument(uri));
  const place = document.lineAt(Math.min(line, document.lineCount - 1)).range;
  const column = shown?.viewColumn ?? other;
  const start = new vscode.Range(place.start, place.start);
  const show = (): Thenable<vscode.TextEditor> =>
    vscode.window.showTextDocument(document, { viewColumn: column, selection: start });
  let editor = await show();
  await new Promise((resolve) => setTimeout(resolve, FOCUS_LATE));
  if (vscode.window.activeTextEditor === undefined) {
    editor = await show();
  }
  editor.revealRange(place, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
  return editor;
}

/** Behind the line until the cursor goes on or the text changes, and in the status bar for those who do not see it. */
function sayPass(editor: vscode.TextEditor, line: number, words: string): void {
  passNote ??= vscode.window.createTextEditorDecorationType({
    after: { color: new vscode.ThemeColor('editorCodeLens.foreground'), margin: '0 0 0 3ch' },
  });
  const note = passNote;
  const { end } = editor.document.lineAt(Math.min(line, editor.document.lineCount - 1)).range;
  const renderOptions = { after: { contentText: words } };
  editor.setDecorations(note, [{ range: new vscode.Range(end, end), renderOptions }]);
  vscode.window.setStatusBarMessage(`Line ${line + 1}: ${words}`, SAID_FOR);
  const gone = vscode.Disposable.from(
    vscode.window.onDidChangeTextEditorSelection((change) => {
      if (change.textEditor === editor && change.selections[0]?.active.line !== line) {
        forget();
      }
    }),
    vscode.workspace.onDidChangeTextDocument((change) => {
      if (change.document === editor.document && change.contentChanges.length > 0) {
        forget();
      }
    }),
  );
  const forget = (): void => {
    gone.dispose();
    editor.setDecorations(note, []);
  };
}
