// The side view with the cursor's block in sentences; it follows the cursor until it is told to stay.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { Explanation } from '../../server/src/core/features/explain.ts';
import { goToLine } from './explainGoTo.ts';
import { explainPage } from './explainPage.ts';
import { Latest } from './path/latest.ts';

const languageId = 'cnc-program';
const goTo = 'blockwright.explainGoTo';
const toggle = 'blockwright.explainToggle';
/** So long nothing new must come before a page is drawn, ms: each page is loaded anew, and while somebody types many come. */
const drawPause = 120;

/** Registers `blockwright.explainBlock` and the commands behind the view's links. */
export function registerExplain(client: BaseLanguageClient): vscode.Disposable {
  const view = new ExplainView(client);
  return vscode.Disposable.from(
    view,
    vscode.commands.registerCommand('blockwright.explainBlock', () => view.show()),
    vscode.commands.registerCommand(goTo, async (uri: unknown, line: unknown) => {
      if (typeof uri === 'string' && typeof line === 'number') {
        await goToLine(vscode.Uri.parse(uri), line);
      }
    }),
    vscode.commands.registerCommand(toggle, () => view.toggle()),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => view.moved(textEditor)),
    vscode.window.onDidChangeActiveTextEditor((editor) => view.moved(editor)),
    vscode.workspace.onDidChangeTextDocument(({ document }) => view.changed(document)),
  );
}

class ExplainView {
  readonly #client: BaseLanguageClient;
  readonly #latest = new Latest((place: Place) => this.#ask(place));
  #panel: vscode.WebviewPanel | undefined;
  #follows = true;
  #place: Place | undefined;
  #explanation: Explanation | undefined;
  #pause: ReturnType<typeof setTimeout> | undefined;
  /** What the page was drawn from. */
  #drawn = '';

  constructor(client: BaseLanguageClient) {
    this.#client = client;
  }

  dispose(): void {
    clearTimeout(this.#pause);
    this.#panel?.dispose();
  }

  /** Opens the view beside the program, or brings it to the front, at the cursor's block. */
  show(): void {
    const editor = vscode.window.activeTextEditor;
    if (editor?.document.languageId !== languageId) {
      void vscode.window.showInformationMessage('Open a CNC program and put the cursor into a block.');
      return;
    }
    this.#follows = true;
    if (this.#panel) {
      this.#panel.reveal(undefined, true);
    } else {
      this.#open();
    }
    this.moved(editor);
  }

  /** Stays at its block, or follows the cursor again. */
  toggle(): void {
    this.#follows = !this.#follows;
    const editor = vscode.window.visibleTextEditors.find(
      ({ document }) => document.uri.toString() === this.#place?.uri,
    );
    if (this.#follows && editor) {
      this.moved(editor);
    }
    this.#draw();
  }

  /** The cursor has moved in an editor. */
  moved(editor: vscode.TextEditor | undefined): void {
    if (!this.#panel || !this.#follows || editor?.document.languageId !== languageId) {
      return;
    }
    this.#at({ uri: editor.document.uri.toString(), line: editor.selection.active.line });
  }

  /** The text has changed: what is said of the block may be something else now. */
  changed(document: vscode.TextDocument): void {
    const place = this.#place;
    if (this.#panel && place && place.uri === document.uri.toString() && place.line < document.lineCount) {
      this.#at(place);
    }
  }

  #open(): void {
    const beside = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    const options = { enableCommandUris: [goTo, toggle], localResourceRoots: [] };
    const panel = vscode.window.createWebviewPanel('blockwright.explain', 'Block in words', beside, options);
    panel.onDidDispose(() => {
      this.#panel = undefined;
      this.#place = undefined;
      this.#explanation = undefined;
    });
    this.#panel = panel;
    this.#drawn = '';
    this.#drawNow();
  }

  #at(place: Place): void {
    this.#place = place;
    this.#latest.say(place);
  }

  async #ask(place: Place): Promise<void> {
    const explanation = await this.#client.sendRequest<Explanation | null>('blockwright/explain', {
      textDocument: { uri: this.#client.code2ProtocolConverter.asUri(vscode.Uri.parse(place.uri)) },
      position: { line: place.line, character: 0 },
    });
    if (this.#place === place) {
      this.#explanation = explanation ?? undefined;
      this.#draw();
    }
  }

  #draw(): void {
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.#drawNow(), drawPause);
  }

  #drawNow(): void {
    const source = JSON.stringify([this.#place?.uri, this.#follows, this.#explanation]);
    if (source === this.#drawn) {
      return;
    }
    const uri = this.#place?.uri ?? '';
    const links = {
      toLine: (line: number) => commandLink(goTo, [uri, line]),
      toggle: commandLink(toggle, []),
      follows: this.#follows,
    };
    if (this.#panel) {
      this.#drawn = source;
      this.#panel.webview.html = explainPage(this.#explanation, links, makeNonce());
    }
  }
}

interface Place {
  readonly uri: string;
  /** From 0. */
  readonly line: number;
}

const commandLink = (command: string, values: readonly unknown[]): string =>
  `command:${command}?${encodeURIComponent(JSON.stringify(values))}`;

function makeNonce(): string {
  return btoa(String.fromCharCode(...crypto.getRandomValues(new Uint8Array(18)))).replace(/[+/=]/g, '0');
}
