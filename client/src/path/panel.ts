// A panel that shows a program's path: hands the path to the view, brings clicks back to lines.
import * as vscode from 'vscode';
import { type FromView, readFromView, type ToView } from '../../view/messages.ts';
import { webviewPage } from '../webviewPage.ts';
import type { PathChannel } from './channel.ts';
import { type GhostChange, ghostOf } from './ghost.ts';
import { goToMove, type MoveWays } from './goToMove.ts';
import { Latest } from './latest.ts';
import { PathPuller } from './puller.ts';
import { RunLight } from './runLight.ts';
import { type AskDrawing, saveDrawing, savePicture } from './savePicture.ts';
import { SidePaths } from './sidePaths.ts';

/** The kind of panel, by which the workbench brings it back after its window was loaded again. */
export const pathPanelType = 'blockwright.path';

/** What a panel needs of the others and of the server. */
export interface PanelHost extends MoveWays {
  readonly extension: vscode.Uri;
  readonly channel: PathChannel;
  readonly askDrawing: AskDrawing;
  closed(panel: PathPanel): void;
  /** The panel goes along with the editor again. */
  followed(panel: PathPanel): void;
}

interface LitLines {
  readonly first: number;
  readonly last: number;
}

/** One panel with the path of one program at a time. */
export class PathPanel {
  readonly #panel: vscode.WebviewPanel;
  readonly #host: PanelHost;
  readonly #lights = new Latest((lit: LitLines) => this.#light(lit));
  /** The program that is shown. */
  #uri: vscode.Uri | undefined;
  #puller: PathPuller | undefined;
  /** The paths beside the program's own. */
  #sides: SidePaths | undefined;
  #runLight: RunLight | undefined;
  #follows: boolean;
  #isClosed = false;
  /** The lines that are lit; a view that has just begun is told again. */
  #lit: LitLines | undefined;
  /** How often a ghost was asked for; only the answer to the last counts. */
  #ghostsAsked = 0;
  /** What is drawn in dots; a view that was hidden or has just begun is told again. */
  #ghost: { readonly uri: string; readonly change: GhostChange } | undefined;

  /** Takes over a panel that was created, or brought back by the workbench. */
  constructor(panel: vscode.WebviewPanel, host: PanelHost, follows: boolean) {
    this.#panel = panel;
    this.#host = host;
    this.#follows = follows;
    const built = vscode.Uri.joinPath(host.extension, 'dist');
    const { webview } = panel;
    webview.options = { enableScripts: true, localResourceRoots: [built] };
    webview.onDidReceiveMessage((message: unknown) => this.#hear(readFromView(message)));
    panel.onDidDispose(() => {
      this.#isClosed = true;
      this.#puller?.end();
      this.#sides?.end();
      this.#runLight?.show(undefined);
      host.closed(this);
    });
    webview.html = webviewPage({
      title: 'Path',
      root: 'path',
      script: webview.asWebviewUri(vscode.Uri.joinPath(built, 'view.js')).toString(true),
      style: webview.asWebviewUri(vscode.Uri.joinPath(built, 'view.css')).toString(true),
      source: webview.cspSource,
    });
  }

  /** The column that it stands in. */
  get column(): vscode.ViewColumn | undefined {
    return this.#panel.viewColumn;
  }

  /** True while it has the keyboard. */
  get isActive(): boolean {
    return this.#panel.active;
  }

  /** The program that is shown. */
  get program(): vscode.Uri | undefined {
    return this.#uri;
  }

  /** Whether it shows the program of whatever editor has the keyboard. */
  get follows(): boolean {
    return this.#follows;
  }

  close(): void {
    this.#panel.dispose();
  }

  /** Brings the panel to the front where it is, without taking the keyboard from the program. */
  reveal(): void {
    this.#panel.reveal(undefined, true);
  }

  /** Moves it into a group of its own below the one it is in; it takes the keyboard. */
  async moveBelow(): Promise<void> {
    this.#panel.reveal();
    if (await this.#hasKeyboard()) {
      await vscode.commands.executeCommand('workbench.action.moveEditorToBelowGroup');
    }
  }

  /** Shows the path of an editor's program, and where its cursor is. */
  show(editor: vscode.TextEditor): void {
    this.showProgram(editor.document.uri);
    this.light(editor);
  }

  /** Shows a program's path; the program need not be seen in any editor. */
  showProgram(uri: vscode.Uri): void {
    if (!this.shows(uri.toString())) {
      this.#uri = uri;
      this.#lit = undefined;
      this.#runLight?.show(undefined);
      this.#runLight = new RunLight(uri);
      this.#puller?.end();
      this.#sides?.end();
      this.#sides = new SidePaths(uri, this.#host.channel, (message) => this.#say(message));
      this.#puller = new PathPuller(uri.toString(), this.#host.channel, (message) => this.#say(message));
      this.#panel.title = `Path: ${nameOf(uri)}`;
      void this.#begin();
    }
  }

  /** Lights the blocks where the cursor or the selection is. */
  light(editor: vscode.TextEditor): void {
    if (this.shows(editor.document.uri.toString())) {
      const { start, end } = editor.selection;
      this.#lit = { first: start.line, last: end.line };
      this.#lights.say(this.#lit);
    }
  }

  /** True if this is the program whose path it has. */
  shows(uri: string): boolean {
    return this.#uri?.toString() === uri;
  }

  /** True if this program's path can be seen now. */
  isSeen(uri: string): boolean {
    return this.#panel.visible && this.shows(uri);
  }

  /** Draws what a change of the program's text would make of its path; without one nothing is drawn any longer. */
  async showGhost(uri: string, change: GhostChange | undefined): Promise<void> {
    this.#ghost = change && { uri, change };
    const asked = ++this.#ghostsAsked;
    if (!this.shows(uri)) {
      return;
    }
    const data = change && (await ghostOf(this.#host.channel, uri, change));
    if (asked === this.#ghostsAsked && this.shows(uri)) {
      const gone = goneOf(change);
      void this.#say({
        type: 'ghost',
        uri,
        ...(data && { data, isBlock: change && 'inserted' in change, ...(gone && { gone }) }),
      });
    }
  }

  /** The server has executed this program anew. */
  changed(uri: string): void {
    this.#sides?.changed(uri);
    if (this.shows(uri)) {
      this.#puller?.changed();
    }
  }

  /** The program was closed and is open again: the server has numbered its pieces from the beginning. */
  reopened(uri: string): void {
    if (this.shows(uri)) {
      this.#puller?.restart();
    }
  }

  /** The server has ended or another one was started. */
  serverChanged(): void {
    this.#puller?.serverChanged();
    this.#sides?.serverChanged();
  }

  /** Tells the view which program it is and hands over everything. */
  async #begin(): Promise<void> {
    void this.#say({ type: 'follows', isOn: this.#follows });
    const uri = this.#uri;
    if (!uri) {
      return;
    }
    void this.#say({ type: 'program', uri: uri.toString(), name: nameOf(uri) });
    const trouble = await openOnServer(uri);
    if (!this.shows(uri.toString())) {
      return;
    }
    if (trouble === undefined) {
      this.#puller?.restart();
      this.#sides?.restart();
    } else {
      void this.#say({ type: 'trouble', text: trouble });
    }
    if (this.#lit) {
      this.#lights.say(this.#lit);
    }
    if (this.#ghost) {
      void this.showGhost(this.#ghost.uri, this.#ghost.change);
    }
  }

  /** Waits until it has the keyboard; false where it does not come to that. */
  #hasKeyboard(): Promise<boolean> {
    return new Promise((resolve) => {
      const end = (has: boolean): void => {
        clearTimeout(late);
        listener.dispose();
        resolve(has);
      };
      const late = setTimeout(() => end(false), 2_000);
      const listener = this.#panel.onDidChangeViewState(() => this.#panel.active && end(true));
      if (this.#panel.active) {
        end(true);
      }
    });
  }

  async #light({ first, last }: LitLines): Promise<void> {
    if (this.#uri) {
      await this.#say({ type: 'lit', uri: this.#uri.toString(), first, last });
    }
  }

  async #say(message: ToView): Promise<boolean> {
    return !this.#isClosed && this.#panel.webview.postMessage(message);
  }

  #hear(said: FromView | undefined): void {
    if (said?.type === 'ready') {
      // A view that was hidden has forgotten everything but what it keeps as its state.
      void this.#begin();
    } else if (said?.type === 'follow') {
      this.#follow(said.isOn);
    } else if (said && this.#uri && this.shows(said.uri)) {
      this.#hearOfProgram(said, this.#uri);
    }
  }

  /** What the view says about the program that is shown. */
  #hearOfProgram(said: Exclude<FromView, { type: 'ready' | 'follow' }>, uri: vscode.Uri): void {
    if (said.type === 'goToLine') {
      void goToMove(uri, said, this.#host);
    } else if (said.type === 'times') {
      this.#puller?.wantTimes();
    } else if (said.type === 'side') {
      void this.#sides?.want(said.layer, said.isOn);
    } else if (said.type === 'runs') {
      this.#runLight?.show(said.line);
    } else if (said.type === 'savePicture') {
      void savePicture(uri, said);
    } else if (said.type === 'saveDrawing') {
      void saveDrawing(uri, said, this.#host.askDrawing);
    } else {
      void this.#explain(said);
    }
  }

  #follow(isOn: boolean): void {
    this.#follows = isOn;
    void this.#say({ type: 'follows', isOn });
    if (isOn) {
      this.#host.followed(this);
    }
  }

  async #explain({ ticket, type: _, ...asked }: Extract<FromView, { type: 'explain' }>): Promise<void> {
    const move = (await this.#host.askMove(asked)) ?? null;
    void this.#say({ type: 'explained', uri: asked.uri, ticket, move });
  }
}

/** The lines that others take the place of. */
function goneOf(change: GhostChange | undefined): { first: number; last: number } | undefined {
  if (!change || !('inserted' in change) || !change.isInstead) {
    return undefined;
  }
  const { line, replaced } = change.inserted;
  return { first: line, last: line + replaced - 1 };
}

const nameOf = (uri: vscode.Uri): string => uri.path.replace(/^.*\//, '');

/** Makes sure that the server has the program's text; otherwise the words on why it has not. */
async function openOnServer(uri: vscode.Uri): Promise<string | undefined> {
  const isOpen = vscode.workspace.textDocuments.some((document) => document.uri.toString() === uri.toString());
  if (isOpen) {
    return undefined;
  }
  // A program that was never saved would be opened as an empty one.
  if (uri.scheme === 'untitled') {
    return `${nameOf(uri)} was closed without being saved`;
  }
  return vscode.workspace.openTextDocument(uri).then(
    () => undefined,
    () => `${nameOf(uri)} cannot be opened; it may have been moved or deleted`,
  );
}
