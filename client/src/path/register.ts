// The commands that show the path, and what their panels must hear of.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { PathDrawingRequest } from '../../../server/src/core/geometry/pathRequestDrawing.ts';
import { isPathMove, type PathMove, type PathMoveRequest } from '../../../server/src/core/geometry/pathRequestMove.ts';
import type { PathChannel } from './channel.ts';
import type { GhostChange } from './ghost.ts';
import { type PathPanel, pathPanelType } from './panel.ts';
import { PathPanels, programEditor } from './panels.ts';

/** The path view as others use it: shown beside a program, with what changes of its text would make of it in dots. */
export interface PathPreview {
  /** True if the path of this program can be seen now. */
  isSeen(uri: vscode.Uri): boolean;
  /** Draws the change, where that program's path is shown; without one it is drawn no longer. */
  draw(uri: vscode.Uri, change: GhostChange | undefined): void;
  /** The column of the view that a program in the editor is shown in; undefined where there is none yet. */
  column(): vscode.ViewColumn | undefined;
  /** Shows a program's path, in a column where the view was not open; the keyboard stays where it is. */
  show(editor: vscode.TextEditor, column: vscode.ViewColumn): void;
  /** Closes the view that `show` had to open. */
  close(): void;
}

/** Registers the path's commands and keeps its panels up with the editors and the server. */
export function registerPathView(
  context: vscode.ExtensionContext,
  client: BaseLanguageClient,
  channel: PathChannel,
): PathPreview {
  const askMove = (asked: PathMoveRequest): Promise<PathMove | undefined> => moveFrom(client, asked);
  const askDrawing = (asked: PathDrawingRequest): Promise<string> => drawingFrom(client, asked);
  const panels = new PathPanels({ extension: context.extensionUri, channel, askMove, askDrawing });
  context.subscriptions.push(
    vscode.commands.registerCommand('blockwright.showPath', () => {
      const editor = programEditor();
      if (editor) panels.show(editor, vscode.ViewColumn.Beside);
      else sayNothingOpen();
    }),
    vscode.commands.registerCommand('blockwright.showPathInNewPanel', async () => {
      if (!(await panels.showInNew())) sayNothingOpen();
    }),
    vscode.window.registerWebviewPanelSerializer(pathPanelType, panels),
    vscode.window.onDidChangeActiveTextEditor((editor) => panels.follow(editor)),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => panels.light(textEditor)),
    vscode.workspace.onDidCloseTextDocument((document) => panels.closedProgram(document)),
    vscode.workspace.onDidOpenTextDocument((document) => panels.openedProgram(document)),
    client.onNotification('blockwright/pathChanged', (said: unknown) => {
      const uri = (said as { uri?: unknown } | null)?.uri;
      if (typeof uri === 'string') {
        panels.changed(vscode.Uri.parse(uri).toString());
      }
    }),
    client.onDidChangeState(() => panels.serverChanged()),
  );
  return new Preview(panels);
}

/** What others see of the panels. */
class Preview implements PathPreview {
  readonly #panels: PathPanels;
  /** The panel that had to be opened for them. */
  #opened: PathPanel | undefined;

  constructor(panels: PathPanels) {
    this.#panels = panels;
  }

  isSeen(uri: vscode.Uri): boolean {
    return this.#panels.isSeen(uri.toString());
  }

  draw(uri: vscode.Uri, change: GhostChange | undefined): void {
    this.#panels.draw(uri.toString(), change);
  }

  column(): vscode.ViewColumn | undefined {
    return this.#panels.panelFor(programEditor()?.document.uri)?.column;
  }

  show(editor: vscode.TextEditor, column: vscode.ViewColumn): void {
    const known = this.#panels.panelFor(editor.document.uri);
    const panel = this.#panels.show(editor, column);
    if (panel !== known) {
      this.#opened = panel;
    }
  }

  close(): void {
    this.#opened?.close();
    this.#opened = undefined;
  }
}

function sayNothingOpen(): void {
  void vscode.window.showInformationMessage('Open a CNC program first: the path shown is that of the open program.');
}

/** Asks the server; a program that has just been closed, or a server that starts anew, is no answer. */
async function moveFrom(client: BaseLanguageClient, asked: PathMoveRequest): Promise<PathMove | undefined> {
  try {
    const move: unknown = await client.sendRequest('blockwright/pathMove', asked);
    return isPathMove(move) ? move : undefined;
  } catch {
    return undefined;
  }
}

/** Asks the server for a drawing to scale; throws where it makes none. */
async function drawingFrom(client: BaseLanguageClient, asked: PathDrawingRequest): Promise<string> {
  const { svg } = (await client.sendRequest<{ svg?: unknown } | null>('blockwright/svg', asked)) ?? {};
  if (typeof svg !== 'string') {
    throw new Error('the language server gave no drawing');
  }
  return svg;
}
