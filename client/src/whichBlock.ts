// The command that asks for a place of the part and lists the blocks that cut there; the marked one is shown in the text.
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { CuttingBlock, CuttingBlocks } from '../../server/src/core/features/cutHere.ts';
import { goToLine } from './explainGoTo.ts';

const languageId = 'cnc-program';

type Answer = (CuttingBlocks & { readonly problem?: string }) | null;

interface BlockItem extends vscode.QuickPickItem {
  readonly block: CuttingBlock;
}

/** Registers `blockwright.whichBlock`. */
export function registerWhichBlock(client: BaseLanguageClient): vscode.Disposable {
  /** What was typed last: one place is often asked for after another close by. */
  let last = '';
  return vscode.commands.registerCommand('blockwright.whichBlock', async (typed?: unknown) => {
    const editor = vscode.window.activeTextEditor;
    if (editor?.document.languageId !== languageId) {
      void vscode.window.showInformationMessage('Open the CNC program of the part first.');
      return;
    }
    const ask = (point: string): Promise<Answer> => blocksAt(client, editor, point);
    const point = typeof typed === 'string' ? typed : await askForPoint(ask, last);
    if (point === undefined) {
      return;
    }
    last = point;
    await list(editor, point, await ask(point));
  });
}

function blocksAt(
  client: BaseLanguageClient,
  { document, selection }: vscode.TextEditor,
  point: string,
): Promise<Answer> {
  return client.sendRequest<Answer>('blockwright/blocksAt', {
    textDocument: client.code2ProtocolConverter.asTextDocumentIdentifier(document),
    position: { line: selection.active.line, character: 0 },
    point,
  });
}

async function askForPoint(ask: (point: string) => Promise<Answer>, last: string): Promise<string | undefined> {
  return vscode.window.showInputBox({
    title: 'Which block cut here?',
    prompt: 'The place on the part, in the program’s own coordinates. With Z only cuts at that depth count.',
    placeHolder: 'X10 Y20',
    value: last,
    validateInput: async (point) => (point.trim() === '' ? undefined : (await ask(point))?.problem),
  });
}

async function list(editor: vscode.TextEditor, point: string, answer: Answer): Promise<void> {
  if (!answer || answer.problem !== undefined || answer.blocks.length === 0) {
    void vscode.window.showInformationMessage(answer?.problem ?? `No block cuts at ${point}.`);
    return;
  }
  const { blocks, more } = answer;
  const items = blocks.map((block): BlockItem => ({ label: block.label, description: block.detail, block }));
  const chosen = await vscode.window.showQuickPick(items, {
    title: `Blocks that cut at ${point}`,
    placeHolder: more > 0 ? `The nearest first; ${more} more are not listed` : 'The nearest first',
    matchOnDescription: true,
    onDidSelectItem: (item) => reveal(editor, item as BlockItem),
  });
  if (chosen) {
    await goToLine(editor.document.uri, chosen.block.line);
  }
}

/** Brings the marked block into sight; the cursor stays where it is until one is taken. */
function reveal(editor: vscode.TextEditor, { block }: BlockItem): void {
  const line = Math.min(block.line, editor.document.lineCount - 1);
  editor.revealRange(editor.document.lineAt(line).range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
}
