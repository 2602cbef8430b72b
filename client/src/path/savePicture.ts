// The picture of a path goes into a file: as it was seen, or as a drawing to scale.
import * as vscode from 'vscode';
import type { PathDrawingRequest } from '../../../server/src/core/geometry/pathRequestDrawing.ts';

/** Asks the server for a drawing's text; rejects where it makes none. */
export type AskDrawing = (asked: PathDrawingRequest) => Promise<string>;

/** How long the word on a file stays in the status bar, ms. */
const SAID_FOR = 8_000;

/** Asks where to, and writes the picture there. */
export async function savePicture(
  program: vscode.Uri,
  { view, data }: { readonly view: string; readonly data: ArrayBuffer },
): Promise<void> {
  await save(program, `${view}.png`, { 'PNG picture': ['png'] }, async () => new Uint8Array(data));
}

/** Asks where to, has the drawing made and writes it there. */
export async function saveDrawing(
  program: vscode.Uri,
  { uri, plane, units, hiddenKinds, hiddenSections }: PathDrawingRequest,
  askDrawing: AskDrawing,
): Promise<void> {
  const asked = { uri, plane, units, ...(hiddenKinds && { hiddenKinds }), ...(hiddenSections && { hiddenSections }) };
  await save(program, `${plane}.svg`, { 'SVG drawing': ['svg'] }, async () =>
    new TextEncoder().encode(await askDrawing(asked)),
  );
}

async function save(
  program: vscode.Uri,
  ending: string,
  filters: Record<string, string[]>,
  content: () => Promise<Uint8Array>,
): Promise<void> {
  const file = await vscode.window.showSaveDialog({ defaultUri: beside(program, ending), filters });
  if (!file) {
    return;
  }
  const name = file.path.replace(/^.*\//, '');
  try {
    await vscode.workspace.fs.writeFile(file, await content());
    vscode.window.setStatusBarMessage(`Saved ${name}`, SAID_FOR);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    void vscode.window.showErrorMessage(`${name} was not saved: ${why}. Choose another folder, or try again.`);
  }
}

/** Beside the program, under its name; a program that was never saved has the workspace's folder. */
function beside(program: vscode.Uri, ending: string): vscode.Uri {
  const name = `${program.path.replace(/^.*\//, '').replace(/\.[^.]*$/, '') || 'path'}-${ending}`;
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  if (program.scheme === 'untitled' && folder) {
    return vscode.Uri.joinPath(folder, name);
  }
  return program.with({ path: program.path.replace(/[^/]*$/, name) });
}
