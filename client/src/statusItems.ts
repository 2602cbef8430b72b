// The status bar: what holds behind the cursor's block and where the tool stands, and how long the program takes.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { StatusAt } from '../../server/src/core/features/statusAt.ts';
import { Latest } from './path/latest.ts';

const languageId = 'cnc-program';

/** Shows both items and keeps them up with the cursor. */
export function registerStatus(client: BaseLanguageClient): vscode.Disposable {
  const items = new StatusItems(client);
  return vscode.Disposable.from(
    items,
    vscode.window.onDidChangeActiveTextEditor((editor) => items.editorChanged(editor)),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => items.editorMoved(textEditor)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => items.textChanged(document)),
    client.onDidChangeState(() => items.editorChanged(vscode.window.activeTextEditor)),
  );
}

interface Place {
  readonly uri: vscode.Uri;
  readonly line: number;
}

class StatusItems {
  readonly #client: BaseLanguageClient;
  readonly #latest = new Latest((place: Place) => this.#ask(place));
  readonly #modes = item('blockwright.modes', 'CNC program: modes and position', 101);
  readonly #time = item('blockwright.time', 'CNC program: time', 100);
  #place: Place | undefined;

  constructor(client: BaseLanguageClient) {
    this.#client = client;
    this.editorChanged(vscode.window.activeTextEditor);
  }

  dispose(): void {
    this.#modes.dispose();
    this.#time.dispose();
  }

  /** Another editor has the keyboard; where it is none of a text (the path view), what is shown stays with its program. */
  editorChanged(editor: vscode.TextEditor | undefined): void {
    if (editor) {
      this.editorMoved(editor);
      return;
    }
    const { visibleTextEditors } = vscode.window;
    if (!visibleTextEditors.some(({ document }) => document.uri.toString() === this.#place?.uri.toString())) {
      this.#clear();
    }
  }

  editorMoved(editor: vscode.TextEditor): void {
    if (editor !== vscode.window.activeTextEditor) {
      return;
    }
    if (editor.document.languageId !== languageId) {
      this.#clear();
      return;
    }
    this.#at({ uri: editor.document.uri, line: editor.selection.active.line });
  }

  textChanged(document: vscode.TextDocument): void {
    const place = this.#place;
    if (place?.uri.toString() === document.uri.toString() && place.line < document.lineCount) {
      this.#at({ ...place });
    }
  }

  #at(place: Place): void {
    this.#place = place;
    this.#latest.say(place);
  }

  #clear(): void {
    this.#place = undefined;
    this.#modes.hide();
    this.#time.hide();
  }

  async #ask(place: Place): Promise<void> {
    const status = await this.#client.sendRequest<StatusAt | null>('blockwright/status', {
      textDocument: { uri: this.#client.code2ProtocolConverter.asUri(place.uri) },
      position: { line: place.line, character: 0 },
    });
    // What was asked for before the cursor went on is not shown.
    if (this.#place !== place) {
      return;
    }
    if (status) {
      this.#show(status);
    } else {
      this.#clear();
    }
  }

  #show({ text, time, sentences }: StatusAt): void {
    this.#modes.text = text;
    this.#modes.tooltip = 'What holds behind the block at the cursor, and where the tool stands. Click for all of it.';
    this.#modes.show();
    if (time === '') {
      this.#time.hide();
      return;
    }
    this.#time.text = `$(watch) ${time}`;
    this.#time.tooltip = ['Time of the whole run, without accelerations.', ...sentences].join('\n');
    this.#time.show();
  }
}

function item(id: string, name: string, priority: number): vscode.StatusBarItem {
  const made = vscode.window.createStatusBarItem(id, vscode.StatusBarAlignment.Left, priority);
  made.name = name;
  made.command = 'blockwright.explainBlock';
  return made;
}
