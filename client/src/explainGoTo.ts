// Puts the cursor at the start of a line, in the column where the program is shown already.
import * as vscode from 'vscode';

/** Goes to a line, from 0. */
export async function goToLine(uri: vscode.Uri, line: number): Promise<void> {
  const shown = vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri.toString());
  const document = shown?.document ?? (await vscode.workspace.openTextDocument(uri));
  const { start } = document.lineAt(Math.min(line, document.lineCount - 1)).range;
  const selection = new vscode.Range(start, start);
  const viewColumn = shown?.viewColumn ?? vscode.ViewColumn.One;
  const editor = await vscode.window.showTextDocument(document, { viewColumn, selection });
  editor.revealRange(selection, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
}
