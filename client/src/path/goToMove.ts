// From a move in the picture to its line in the text, with a word on which pass through the line it was.
import * as vscode from 'vscode';
import type { PathMove, PathMoveRequest } from '../../../server/src/core/geometry/pathRequestMove.ts';
import { passWords } from './passWords.ts';

/** Asks the server for a move; undefined where the line moves nothing or nobody answers. */
export type AskMove = (asked: PathMoveRequest) => Promise<PathMove | undefined>;

/** How long the word on the pass stays in the status bar, ms. */
const SAID_FOR = 8_000;

/** How the text behind the line looks; made once, for all editors. */
let passNote: vscode.TextEditorDecorationType | undefined;

/** Puts the cursor on the line of a move, in the column where the program is shown already, and says which pass it was. */
export async function goToMove(uri: vscode.Uri, asked: PathMoveRequest, askMove: AskMove): Promise<void> {
  const [editor, move] = await Promise.all([
    goToLine(uri, asked.line),
    asked.at === undefined ? undefined : askMove(asked),
  ]);
  const words = move && passWords(move);
  if (words !== undefined) {
    sayPass(editor, asked.line, words);
  }
}

async function goToLine(uri: vscode.Uri, line: number): Promise<vscode.TextEditor> {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  const shown = [activeTextEditor, ...visibleTextEditors].find(
    (editor) => editor?.document.uri.toString() === uri.toString(),
  );
  const document = shown?.document ?? (await vscode.workspace.openTextDocument(uri));
  const place = document.lineAt(Math.min(line, document.lineCount - 1)).range;
  const column = shown?.viewColumn ?? vscode.ViewColumn.One;
  const start = new vscode.Range(place.start, place.start);
  const editor = await vscode.window.showTextDocument(document, { viewColumn: column, selection: start });
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
