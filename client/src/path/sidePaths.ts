// The paths beside a program's own: its contour as programmed, and a second program that is laid over it.
import * as vscode from 'vscode';
import type { SideLayer } from '../../view/messages.ts';
import type { PathChannel } from './channel.ts';
import { PathPuller, type Say } from './puller.ts';

/** What the programs' language is called. */
const LANGUAGE = 'cnc-program';
const FROM_FILE = 'Another file…';

/** See the top of the file. One for each program that a panel shows. */
export class SidePaths {
  readonly #uri: vscode.Uri;
  readonly #channel: PathChannel;
  readonly #say: Say;
  #contour: PathPuller | undefined;
  #other: { readonly uri: vscode.Uri; readonly puller: PathPuller } | undefined;
  #isEnded = false;

  constructor(uri: vscode.Uri, channel: PathChannel, say: Say) {
    this.#uri = uri;
    this.#channel = channel;
    this.#say = say;
  }

  /** The view wants a path or wants it no longer. Which other program it is, the user says. */
  async want(layer: SideLayer, isOn: boolean): Promise<void> {
    if (layer === 'contour') {
      this.#contour?.end();
      this.#contour = isOn ? this.#pull(this.#uri, layer) : undefined;
      this.#contour?.restart();
      return;
    }
    const uri = isOn ? await askProgram(this.#uri) : undefined;
    if (this.#isEnded || (isOn && !uri)) {
      return;
    }
    this.#other?.puller.end();
    this.#other = uri && { uri, puller: this.#pull(uri, layer) };
    this.#lay();
  }

  /** The view begins again and has nothing of the second program; the contour it asks for itself. */
  restart(): void {
    if (this.#other) {
      this.#lay();
    }
  }

  /** The server has executed a program anew. */
  changed(uri: string): void {
    if (uri === this.#uri.toString()) {
      this.#contour?.changed();
    }
    if (uri === this.#other?.uri.toString()) {
      this.#other.puller.changed();
    }
  }

  serverChanged(): void {
    this.#contour?.serverChanged();
    this.#other?.puller.serverChanged();
  }

  /** Another program is shown. */
  end(): void {
    this.#isEnded = true;
    this.#contour?.end();
    this.#other?.puller.end();
  }

  /** Tells the view which program is laid over, and hands its path over. */
  #lay(): void {
    const name = this.#other && nameOf(this.#other.uri);
    void this.#say({ type: 'over', uri: this.#uri.toString(), ...(name !== undefined && { name }) });
    this.#other?.puller.restart();
  }

  /** The view knows all paths by the address of the program that they lie beside. */
  #pull(uri: vscode.Uri, layer: SideLayer): PathPuller {
    const beside = this.#uri.toString();
    const say: Say = (message) => this.#say('uri' in message ? { ...message, uri: beside } : message);
    return new PathPuller(uri.toString(), this.#channel, say, layer);
  }
}

/** Asks for another program: one that is open, or a file. The server has its text then. */
async function askProgram(beside: vscode.Uri): Promise<vscode.Uri | undefined> {
  const open = vscode.workspace.textDocuments
    .filter(({ languageId, uri }) => languageId === LANGUAGE && uri.toString() !== beside.toString())
    .map(({ uri }) => ({ label: nameOf(uri), description: vscode.workspace.asRelativePath(uri), uri }));
  const rows: (vscode.QuickPickItem & { uri?: vscode.Uri })[] = [...open, { label: FROM_FILE }];
  const title = `Program to lay over ${nameOf(beside)}`;
  const row = await vscode.window.showQuickPick(rows, { title, placeHolder: 'An open program, or a file' });
  const uri = row && (row.uri ?? (await vscode.window.showOpenDialog({ title }))?.[0]);
  if (!uri) {
    return undefined;
  }
  try {
    const document = await vscode.workspace.openTextDocument(uri);
    if (document.languageId !== LANGUAGE) {
      await vscode.languages.setTextDocumentLanguage(document, LANGUAGE);
    }
    return uri;
  } catch {
    void vscode.window.showWarningMessage(`${nameOf(uri)} cannot be opened; it may have been moved or is no text.`);
    return undefined;
  }
}

const nameOf = (uri: vscode.Uri): string => uri.path.replace(/^.*\//, '');
