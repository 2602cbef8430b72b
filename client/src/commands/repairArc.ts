// The command that lists what may be meant by a wrong arc, and draws the marked one before it is taken.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { GhostEdit } from '../../../server/src/core/geometry/pathRequest.ts';
import type { ShowGhost } from '../path/register.ts';

const languageId = 'cnc-program';

/** What the server answers: the texts to change, and the same for the drawing. */
interface Repair {
  readonly title: string;
  readonly edits: Parameters<BaseLanguageClient['protocol2CodeConverter']['asTextEdits']>[0];
  readonly preview?: readonly GhostEdit[];
}

interface RepairItem extends vscode.QuickPickItem {
  readonly repair: Repair;
}

/** Registers `blockwright.repairArc`. */
export function registerRepairArc(client: BaseLanguageClient, showGhost: ShowGhost): vscode.Disposable {
  return vscode.commands.registerCommand('blockwright.repairArc', () => repairArc(client, showGhost));
}

async function repairArc(client: BaseLanguageClient, showGhost: ShowGhost): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== languageId) {
    void vscode.window.showInformationMessage('Open a CNC program and put the cursor into the block of the wrong arc.');
    return;
  }
  const { document, selection } = editor;
  const { version } = document;
  const repairs = await client.sendRequest<Repair[]>('blockwright/arcRepairs', {
    textDocument: client.code2ProtocolConverter.asTextDocumentIdentifier(document),
    position: client.code2ProtocolConverter.asPosition(selection.active),
  });
  if (repairs.length === 0) {
    void vscode.window.showInformationMessage(nothingIn(selection.active.line));
    return;
  }
  const chosen = await pick(repairs, selection.active.line, (repair) => showGhost(document.uri, repair?.preview));
  if (chosen) {
    await take(client, document, version, chosen);
  }
}

const nothingIn = (line: number): string =>
  `Line ${line + 1} has no wrong arc that can be repaired. Put the cursor into the block that is marked as wrong.`;

/** The list; the marked repair is drawn, nothing is drawn any longer when the list goes. */
function pick(
  repairs: readonly Repair[],
  line: number,
  draw: (repair: Repair | undefined) => void,
): Promise<Repair | undefined> {
  const list = vscode.window.createQuickPick<RepairItem>();
  list.title = `Repair the arc in line ${line + 1}`;
  list.placeholder = 'The arc that is meant, the likeliest first; the path view draws the marked one';
  list.items = repairs.map((repair) => ({ label: repair.title, repair }));
  return new Promise((resolve) => {
    list.onDidChangeActive(([item]) => draw(item?.repair));
    list.onDidAccept(() => {
      resolve(list.activeItems[0]?.repair);
      list.hide();
    });
    list.onDidHide(() => {
      draw(undefined);
      list.dispose();
      resolve(undefined);
    });
    list.show();
  });
}

/** Changes the program, unless it was changed while the list was open. */
async function take(
  client: BaseLanguageClient,
  document: vscode.TextDocument,
  version: number,
  { edits }: Repair,
): Promise<void> {
  if (document.version !== version) {
    void vscode.window.showWarningMessage(
      'The program has changed meanwhile. Nothing was repaired; run the command again.',
    );
    return;
  }
  const change = new vscode.WorkspaceEdit();
  change.set(document.uri, (await client.protocol2CodeConverter.asTextEdits(edits)) ?? []);
  if (!(await vscode.workspace.applyEdit(change))) {
    void vscode.window.showErrorMessage('The repair could not be written into the program.');
  }
}
