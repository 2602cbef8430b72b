// Lights the line that a playback runs through, in the editors where the program can be seen; the keyboard stays where it is.
import * as vscode from 'vscode';

/** See the top of the file. */
export class RunLight {
  readonly #uri: vscode.Uri;
  #look: vscode.TextEditorDecorationType | undefined;

  constructor(uri: vscode.Uri) {
    this.#uri = uri;
  }

  /** Lights a line (from 0) and brings it into sight; without one nothing is lit any longer. */
  show(line: number | undefined): void {
    if (line === undefined) {
      this.#look?.dispose();
      this.#look = undefined;
      return;
    }
    this.#look ??= vscode.window.createTextEditorDecorationType({
      isWholeLine: true,
      backgroundColor: new vscode.ThemeColor('editor.stackFrameHighlightBackground'),
      border: '1px solid',
      borderColor: new vscode.ThemeColor('editor.lineHighlightBorder'),
      overviewRulerColor: new vscode.ThemeColor('editorOverviewRuler.rangeHighlightForeground'),
    });
    for (const editor of vscode.window.visibleTextEditors) {
      if (editor.document.uri.toString() === this.#uri.toString() && line < editor.document.lineCount) {
        const { range } = editor.document.lineAt(line);
        editor.setDecorations(this.#look, [range]);
        editor.revealRange(range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
      }
    }
  }
}
