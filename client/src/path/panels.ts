// All panels that show paths: which of them a program belongs in, and what each must hear of.
import * as vscode from 'vscode';
import type { GhostChange } from './ghost.ts';
import { type PanelHost, PathPanel, pathPanelType } from './panel.ts';

const languageId = 'cnc-program';

/** See the top of the file. */
export class PathPanels implements vscode.WebviewPanelSerializer {
  readonly #host: PanelHost;
  #panels: readonly PathPanel[] = [];
  /** Programs that were closed while a panel showed their path. */
  readonly #closed = new Set<string>();
  /** A subprogram's file that a click on its caller's path has led to: the caller's path stays while it is looked at. */
  #visited: string | undefined;

  constructor({ extension, channel, askMove, askDrawing }: Omit<PanelHost, 'closed' | 'followed' | 'stayAt'>) {
    this.#host = {
      extension,
      channel,
      askMove,
      askDrawing,
      stayAt: (file) => {
        this.#visited = file.toString();
      },
      closed: (panel) => {
        this.#panels = this.#panels.filter((other) => other !== panel);
      },
      followed: (panel) => {
        const editor = programEditor();
        if (editor) {
          panel.show(editor);
        }
      },
    };
  }

  /** Where a program's path is shown or would be: the panel that has it, or that follows; undefined where there is none. */
  panelFor(uri: vscode.Uri | undefined): PathPanel | undefined {
    const shown = this.#panels.filter((panel) => uri && panel.shows(uri.toString()));
    const following = this.#panels.filter(({ follows }) => follows);
    return shown.find(({ follows }) => follows) ?? shown[0] ?? following[0];
  }

  isSeen(uri: string): boolean {
    return this.#panels.some((panel) => panel.isSeen(uri));
  }

  /** Shows a program in the panel that is for it, or in a new one in that column. */
  show(editor: vscode.TextEditor, column: vscode.ViewColumn): PathPanel {
    const panel = this.panelFor(editor.document.uri) ?? this.#create(column, true);
    panel.reveal();
    panel.show(editor);
    return panel;
  }

  /**
   * A further panel that stays with the program of the panel or editor that has the keyboard; false where neither has one.
   */
  async showInNew(): Promise<boolean> {
    const from = this.#panels.find(({ isActive }) => isActive);
    const editor = programEditor();
    const uri = from?.program ?? editor?.document.uri;
    if (!uri) {
      return false;
    }
    const beside = (from?.column ?? editor?.viewColumn ?? 0) + 1;
    const isTaken = this.#panels.some(({ column }) => column === beside);
    const panel = this.#create(vscode.ViewColumn.Beside, false);
    panel.showProgram(uri);
    const shown = vscode.window.visibleTextEditors.find((each) => uriOf(each) === uri.toString());
    if (shown) {
      panel.light(shown);
    }
    // As a tab over another path it would hide it: nobody opens a second one for that.
    if (isTaken) {
      await panel.moveBelow();
      if (editor && !from) {
        await vscode.window.showTextDocument(editor.document, editor.viewColumn);
      }
    }
    return true;
  }

  /** Another editor has the keyboard. */
  follow(editor: vscode.TextEditor | undefined): void {
    if (editor?.document.languageId !== languageId) {
      return;
    }
    const isVisit = uriOf(editor) === this.#visited;
    if (!isVisit) {
      this.#visited = undefined;
    }
    for (const panel of this.#panels) {
      if (panel.follows && !isVisit) panel.show(editor);
      else panel.light(editor);
    }
  }

  light(editor: vscode.TextEditor): void {
    for (const panel of this.#panels) {
      panel.light(editor);
    }
  }

  draw(uri: string, change: GhostChange | undefined): void {
    for (const panel of this.#panels) {
      void panel.showGhost(uri, change);
    }
  }

  changed(uri: string): void {
    for (const panel of this.#panels) {
      panel.changed(uri);
    }
  }

  serverChanged(): void {
    for (const panel of this.#panels) {
      panel.serverChanged();
    }
  }

  closedProgram({ uri }: vscode.TextDocument): void {
    if (this.#panels.some((panel) => panel.shows(uri.toString()))) {
      this.#closed.add(uri.toString());
    }
  }

  openedProgram({ uri }: vscode.TextDocument): void {
    if (this.#closed.delete(uri.toString())) {
      for (const panel of this.#panels) {
        panel.reopened(uri.toString());
      }
    }
  }

  /** Brings a panel back after the window was loaded again, with what its view had kept. */
  async deserializeWebviewPanel(brought: vscode.WebviewPanel, state: unknown): Promise<void> {
    const { program, follows } = (state ?? {}) as { program?: unknown; follows?: unknown };
    const panel = this.#add(brought, follows !== false);
    const editors = [vscode.window.activeTextEditor, ...vscode.window.visibleTextEditors];
    const editor = editors.find((each) => each && isProgram(each) && (panel.follows || uriOf(each) === program));
    if (editor) {
      panel.show(editor);
    } else if (typeof program === 'string') {
      panel.showProgram(vscode.Uri.parse(program));
    }
  }

  #create(column: vscode.ViewColumn, follows: boolean): PathPanel {
    const place = { viewColumn: column, preserveFocus: true };
    return this.#add(vscode.window.createWebviewPanel(pathPanelType, 'Path', place), follows);
  }

  #add(webviewPanel: vscode.WebviewPanel, follows: boolean): PathPanel {
    const panel = new PathPanel(webviewPanel, this.#host, follows);
    this.#panels = [...this.#panels, panel];
    return panel;
  }
}

const isProgram = (editor: vscode.TextEditor): boolean => editor.document.languageId === languageId;

const uriOf = (editor: vscode.TextEditor): string => editor.document.uri.toString();

/** The program in the active editor, or the one that is visible where something else has the keyboard. */
export function programEditor(): vscode.TextEditor | undefined {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  return [activeTextEditor, ...visibleTextEditors].find((editor) => editor && isProgram(editor));
}
