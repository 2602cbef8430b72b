// The panel that shows a program's path: follows the editor, hands the path to the view, brings clicks back to lines.
import * as vscode from 'vscode';
import type { GhostEdit } from '../../../server/src/core/geometry/pathRequest.ts';
import { readFromView, type ToView } from '../../view/messages.ts';
import type { PathChannel } from './channel.ts';
import { ghostOf } from './ghost.ts';
import { pathPage } from './page.ts';
import { PathPuller } from './puller.ts';

/** One panel with the path of one program at a time. */
export class PathPanel {
  readonly #panel: vscode.WebviewPanel;
  readonly #channel: PathChannel;
  #document: vscode.TextDocument | undefined;
  #puller: PathPuller | undefined;
  /** How often a ghost was asked for; only the answer to the last counts. */
  #ghostsAsked = 0;

  constructor(extension: vscode.Uri, channel: PathChannel, onClosed: () => void) {
    const built = vscode.Uri.joinPath(extension, 'dist');
    this.#channel = channel;
    this.#panel = vscode.window.createWebviewPanel(
      'blockwright.path',
      'Path',
      { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
      { enableScripts: true, localResourceRoots: [built] },
    );
    const { webview } = this.#panel;
    webview.onDidReceiveMessage((message: unknown) => this.#hear(message));
    this.#panel.onDidDispose(() => {
      this.#puller?.end();
      onClosed();
    });
    webview.html = pathPage({
      script: webview.asWebviewUri(vscode.Uri.joinPath(built, 'view.js')).toString(true),
      style: webview.asWebviewUri(vscode.Uri.joinPath(built, 'view.css')).toString(true),
      source: webview.cspSource,
    });
  }

  /** Brings the panel to the front where it is, without taking the keyboard from the program. */
  reveal(): void {
    this.#panel.reveal(undefined, true);
  }

  /** Shows another program's path. */
  show(editor: vscode.TextEditor): void {
    if (editor.document !== this.#document) {
      this.#document = editor.document;
      this.#puller?.end();
      this.#puller = new PathPuller(editor.document.uri.toString(), this.#channel, (message) => this.#say(message));
      this.#panel.title = `Path: ${nameOf(editor.document)}`;
      this.#begin();
    }
    this.light(editor);
  }

  /** Lights the blocks where the cursor or the selection is. */
  light(editor: vscode.TextEditor): void {
    if (editor.document === this.#document) {
      const { start, end } = editor.selection;
      void this.#say({ type: 'lit', uri: uriOf(editor.document), first: start.line, last: end.line });
    }
  }

  /** Draws what changes of the program's text would make of its path; without edits nothing is drawn any longer. */
  async showGhost(uri: string, edits: readonly GhostEdit[] | undefined): Promise<void> {
    const asked = ++this.#ghostsAsked;
    if (!this.#document || uri !== uriOf(this.#document)) {
      return;
    }
    const data = edits && (await ghostOf(this.#channel, uri, edits));
    if (asked === this.#ghostsAsked && this.#document && uri === uriOf(this.#document)) {
      void this.#say({ type: 'ghost', uri, ...(data && { data }) });
    }
  }

  /** The server has executed this program anew. */
  changed(uri: string): void {
    if (this.#document && uri === uriOf(this.#document)) {
      this.#puller?.changed();
    }
  }

  /** The server has ended or another one was started. */
  serverChanged(): void {
    this.#puller?.serverChanged();
  }

  /** Tells the view which program it is and hands over everything. */
  #begin(): void {
    if (this.#document) {
      void this.#say({ type: 'program', uri: uriOf(this.#document), name: nameOf(this.#document) });
      this.#puller?.restart();
    }
  }

  async #say(message: ToView): Promise<boolean> {
    return this.#panel.webview.postMessage(message);
  }

  #hear(message: unknown): void {
    const said = readFromView(message);
    if (said?.type === 'ready') {
      // A view that was hidden has forgotten everything but its camera.
      this.#begin();
      const editor = vscode.window.visibleTextEditors.find(({ document }) => document === this.#document);
      if (editor) {
        this.light(editor);
      }
    } else if (said?.type === 'goToLine' && this.#document && said.uri === uriOf(this.#document)) {
      void goToLine(this.#document, said.line);
    }
  }
}

const uriOf = (document: vscode.TextDocument): string => document.uri.toString();

const nameOf = (document: vscode.TextDocument): string => document.uri.path.replace(/^.*\//, '');

/** Puts the cursor on a line, in the column where the program is shown already. */
async function goToLine(document: vscode.TextDocument, line: number): Promise<void> {
  const shown = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
  const place = document.lineAt(Math.min(line, document.lineCount - 1)).range;
  const column = shown?.viewColumn ?? vscode.ViewColumn.One;
  const start = new vscode.Range(place.start, place.start);
  const editor = await vscode.window.showTextDocument(document, { viewColumn: column, selection: start });
  editor.revealRange(place, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
}
