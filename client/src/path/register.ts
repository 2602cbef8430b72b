// The command that shows the path, and what the panel must hear of.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { GhostEdit } from '../../../server/src/core/geometry/pathRequest.ts';
import type { PathChannel } from './channel.ts';
import { PathPanel } from './panel.ts';

const languageId = 'cnc-program';

/** Draws what changes of a text would make of the path, where that program's path is shown; without edits no longer. */
export type ShowGhost = (uri: vscode.Uri, edits: readonly GhostEdit[] | undefined) => void;

/** Registers `blockwright.showPath` and keeps its panel up with the editor and the server. */
export function registerPathView(
  context: vscode.ExtensionContext,
  client: BaseLanguageClient,
  channel: PathChannel,
): ShowGhost {
  let panel: PathPanel | undefined;
  const follow = (editor: vscode.TextEditor | undefined): void => {
    if (panel && editor?.document.languageId === languageId) {
      panel.show(editor);
    }
  };
  const show = (): void => {
    const editor = programEditor();
    if (!editor) {
      void vscode.window.showInformationMessage(
        'Open a CNC program first: the path shown is that of the open program.',
      );
      return;
    }
    panel ??= new PathPanel(context.extensionUri, channel, () => {
      panel = undefined;
    });
    panel.reveal();
    panel.show(editor);
  };
  context.subscriptions.push(
    vscode.commands.registerCommand('blockwright.showPath', show),
    vscode.window.onDidChangeActiveTextEditor(follow),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => panel?.light(textEditor)),
    client.onNotification('blockwright/pathChanged', (said: unknown) => {
      const uri = (said as { uri?: unknown } | null)?.uri;
      if (typeof uri === 'string') {
        panel?.changed(vscode.Uri.parse(uri).toString());
      }
    }),
    client.onDidChangeState(() => panel?.serverChanged()),
  );
  return (uri, edits) => void panel?.showGhost(uri.toString(), edits);
}

/** The program in the active editor, or the one that is visible where something else has the keyboard. */
function programEditor(): vscode.TextEditor | undefined {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  return [activeTextEditor, ...visibleTextEditors].find((editor) => editor?.document.languageId === languageId);
}
