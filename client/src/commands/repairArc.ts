// The command that lists what may be meant by a wrong arc, and draws the marked one before it is taken.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { GhostEdit } from '../../../server/src/core/geometry/pathRequest.ts';
import type { PathPreview } from '../path/register.ts';

const languageId = 'cnc-program';

/** What the server answers: the texts to change, and the same for the drawing. */
interface Repair {
  readonly title: string;
  readonly edits: Parameters<BaseLanguageClient['protocol2CodeConverter']['asTextEdits']>[0];
  readonly preview?: readonly GhostEdit[];
}

/** Where the command is to look, as code actions say it; else at the cursor. */
interface ArcPlace {
  readonly uri: string;
  /** Counts from 0. */
  readonly line: number;
}

interface RepairItem extends vscode.QuickPickItem {
  readonly repair: Repair;
}

/** Registers `blockwright.repairArc`. */
export function registerRepairArc(client: BaseLanguageClient, preview: PathPreview): vscode.Disposable {
  return vscode.commands.registerCommand('blockwright.repairArc', (place?: ArcPlace) =>
    repairArc(client, preview, place),
  );
}

async function repairArc(client: BaseLanguageClient, preview: PathPreview, place?: ArcPlace): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== languageId) {
    void vscode.window.showInformationMessage('Open a CNC program and put the cursor into the block of the wrong arc.');
    return;
  }
  const { document, selection } = editor;
  const { version } = document;
  const isHere = place !== undefined && vscode.Uri.parse(place.uri).toString() === document.uri.toString();
  const line = isHere ? place.line : selection.active.line;
  const repairs = await client.sendRequest<Repair[]>('blockwright/arcRepairs', {
    textDocument: client.code2ProtocolConverter.asTextDocumentIdentifier(document),
    position: { line, character: 0 },
  });
  if (repairs.length === 0) {
    void vscode.window.showInformationMessage(nothingIn(line));
    return;
  }
  const list = listOf(repairs, line, preview.isSeen(document.uri));
  const chosen = await pick(list, (repair) => preview.draw(document.uri, repair?.preview && { edits: repair.preview }));
  if (chosen) {
    await take(client, document, version, chosen);
  }
}

const nothingIn = (line: number): string => `No arc to repair in line ${line + 1}. Put the cursor on the marked block.`;

function listOf(repairs: readonly Repair[], line: number, pathIsSeen: boolean): vscode.QuickPick<RepairItem> {
  const list = vscode.window.createQuickPick<RepairItem>();
  list.title = `Repair the arc in line ${line + 1}`;
  list.placeholder = pathIsSeen
    ? 'The likeliest first; the path view draws the marked one in thick dots'
    : 'The likeliest first; with the path view open, the marked one is drawn there';
  list.items = repairs.map((repair) => ({ label: repair.title, repair }));
  return list;
}

/** Shows the list; the marked repair is drawn, nothing is drawn any longer when the list goes. */
function pick(
  list: vscode.QuickPick<RepairItem>,
  draw: (repair: Repair | undefined) => void,
): Promise<Repair | undefined> {
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
