// Files that the server cannot reach itself (in a browser, or on a file system that only the editor knows).
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

type ReadFileQuestion = { readonly uri: string; readonly most?: number };
type ReadFileAnswer = { readonly text: string; readonly size?: number };

/** Larger files are not read where only their start is wanted: the editor reads a file whole or not at all. */
const largestForStart = 32_000_000;

/**
 * Answers the server's `blockwright/readFile`: the text of a file, null where there is none. With `most`: the text of
 * its first bytes, empty where the file is very large, and the size of the whole.
 */
export function answerReadFile(client: BaseLanguageClient): vscode.Disposable {
  return client.onRequest(
    'blockwright/readFile',
    async ({ uri, most }: ReadFileQuestion): Promise<ReadFileAnswer | null> => {
      const address = vscode.Uri.parse(uri, true);
      if (most === undefined) {
        const bytes = await ifThere(vscode.workspace.fs.readFile(address));
        return bytes === undefined ? null : { text: new TextDecoder().decode(bytes) };
      }
      const about = await ifThere(vscode.workspace.fs.stat(address));
      if (about?.type !== vscode.FileType.File) {
        return null;
      }
      const bytes =
        about.size > largestForStart ? new Uint8Array() : await ifThere(vscode.workspace.fs.readFile(address));
      return bytes === undefined ? null : { text: new TextDecoder().decode(bytes.subarray(0, most)), size: about.size };
    },
  );
}

/** Answers the server's `blockwright/listFolder`: the names of the plain files in a folder, null where there is none. */
export function answerListFolder(client: BaseLanguageClient): vscode.Disposable {
  return client.onRequest('blockwright/listFolder', async ({ uri }: { uri: string }) => {
    const entries = await ifThere(vscode.workspace.fs.readDirectory(vscode.Uri.parse(uri, true)));
    const files = entries?.filter(([, type]) => type === vscode.FileType.File).map(([name]) => name);
    return files === undefined ? null : { files };
  });
}

/** Undefined where there is no such file or folder. */
async function ifThere<T>(reading: Thenable<T>): Promise<T | undefined> {
  try {
    return await reading;
  } catch (error) {
    if (error instanceof vscode.FileSystemError && error.code === 'FileNotFound') {
      return undefined;
    }
    throw error;
  }
}
