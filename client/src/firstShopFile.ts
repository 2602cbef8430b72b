// The command that writes a first blockwright.json from the open programs' tools, never over one that is there.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

const fileName = 'blockwright.json';
const languageId = 'cnc-program';
/** Set while the workspace has a blockwright.json: then the editor's menu does not offer to write one. */
const hasFileKey = 'blockwright.hasShopFile';

/** Registers `blockwright.writeShopFile` and keeps up whether it is offered. */
export function registerFirstShopFile(client: BaseLanguageClient): vscode.Disposable {
  const watcher = vscode.workspace.createFileSystemWatcher(`**/${fileName}`, false, true, false);
  const look = async (): Promise<void> => {
    const found = await vscode.workspace.findFiles(`**/${fileName}`, undefined, 1);
    await vscode.commands.executeCommand('setContext', hasFileKey, found.length > 0);
  };
  watcher.onDidCreate(look);
  watcher.onDidDelete(look);
  void look();
  return vscode.Disposable.from(
    watcher,
    vscode.workspace.onDidChangeWorkspaceFolders(look),
    vscode.commands.registerCommand('blockwright.writeShopFile', () => writeShopFile(client)),
  );
}

async function writeShopFile(client: BaseLanguageClient): Promise<void> {
  const folder = await workspaceFolder();
  if (!folder) {
    return;
  }
  const file = vscode.Uri.joinPath(folder.uri, fileName);
  if (await exists(file)) {
    await show(file);
    void vscode.window.showInformationMessage(`${fileName} is there already. Nothing was written.`);
    return;
  }
  const { text, tools } = await client.sendRequest<{ text: string; tools: number }>('blockwright/firstShopFile', {
    folder: client.code2ProtocolConverter.asUri(folder.uri),
  });
  const edit = new vscode.WorkspaceEdit();
  edit.createFile(file, { overwrite: false, contents: new TextEncoder().encode(text) });
  if (!(await vscode.workspace.applyEdit(edit))) {
    void vscode.window.showErrorMessage(`${fileName} could not be written into ${folder.name}.`);
    return;
  }
  await show(file);
  void vscode.window.showInformationMessage(written(tools));
}

function written(tools: number): string {
  if (tools === 0) {
    return `${fileName} was written without tools: the open programs change none. Add yours.`;
  }
  const count = tools === 1 ? '1 tool' : `${tools} tools`;
  return `${fileName} was written with ${count} from the open programs. Check them against the tools in the machine.`;
}

/** The folder of the open program, the only one, or the one that is picked. */
async function workspaceFolder(): Promise<vscode.WorkspaceFolder | undefined> {
  const folders = vscode.workspace.workspaceFolders ?? [];
  if (folders.length === 0) {
    void vscode.window.showInformationMessage(
      `Open the folder of your programs first: ${fileName} is written into it.`,
    );
    return undefined;
  }
  const program = vscode.window.activeTextEditor?.document;
  const own = program?.languageId === languageId ? vscode.workspace.getWorkspaceFolder(program.uri) : undefined;
  return own ?? (folders.length === 1 ? folders[0] : vscode.window.showWorkspaceFolderPick());
}

async function exists(file: vscode.Uri): Promise<boolean> {
  return vscode.workspace.fs.stat(file).then(
    () => true,
    () => false,
  );
}

async function show(file: vscode.Uri): Promise<void> {
  await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(file));
}
