// Files that the server cannot reach itself (in a browser, or on a file system that only the editor knows).
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

/** Answers the server's `blockwright/readFile`: the text of a file, null where there is none. */
export function answerReadFile(client: BaseLanguageClient): vscode.Disposable {
  return client.onRequest('blockwright/readFile', async ({ uri }: { uri: string }) => {
    const address = vscode.Uri.parse(uri, true);
    const bytes = await vscode.workspace.fs.readFile(address).then(
      (read) => read,
      (error: unknown) => {
        if (error instanceof vscode.FileSystemError && error.code === 'FileNotFound') {
          return undefined;
        }
        throw error;
      },
    );
    return bytes === undefined ? null : { text: new TextDecoder().decode(bytes) };
  });
}
