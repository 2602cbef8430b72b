// The list of completions for a block's prefix that was typed before the server could answer: it is asked for then.
import * as vscode from 'vscode';
import type { CompletionMiddleware } from 'vscode-languageclient';
import { isPrefix, isTypedOn } from './typedPrefix.ts';

/** How long nobody types until typing has stopped, ms. */
const PAUSE = 250;

/** What was typed while the server was still on its way had no list of completions: it comes now. */
export async function completeTypedPrefix(languageId: string): Promise<void> {
  await suggestForPrefix(languageId);
  // A letter that is typed meanwhile makes that question an old one: it is asked once more when the typing has stopped.
  await new Promise<void>((resolve) => {
    let timer = setTimeout(end, PAUSE);
    const listener = vscode.workspace.onDidChangeTextDocument(() => {
      clearTimeout(timer);
      timer = setTimeout(end, PAUSE);
    });
    function end(): void {
      listener.dispose();
      resolve();
    }
  });
  await suggestForPrefix(languageId);
}

/** Asks for completions where a block's prefix stands before the cursor. */
async function suggestForPrefix(languageId: string): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== languageId || !editor.selection.isEmpty) {
    return;
  }
  const { line, character } = editor.selection.active;
  if (isPrefix(editor.document.lineAt(line).text, character)) {
    await suggest();
  }
}

/**
 * The editor asks with the first letter, for which there is nothing to offer, and asks no second time while it waits. Were the
 * other letters typed meanwhile, nothing would be asked after the empty answer: the question for them is put here.
 */
export const completeTypedMeanwhile: NonNullable<CompletionMiddleware['provideCompletionItem']> = async (
  document,
  position,
  context,
  token,
  next,
) => {
  const list = await next(document, position, context, token);
  const items = Array.isArray(list) ? list : (list?.items ?? []);
  const editor = vscode.window.activeTextEditor;
  const isHere = editor?.document === document && editor.selection.active.line === position.line;
  // By the text alone: the cursor's place is told a little later.
  if (items.length === 0 && isHere && isTypedOn(document.lineAt(position.line).text, position.character)) {
    void suggest();
  }
  return list;
};

const suggest = (): Thenable<unknown> => vscode.commands.executeCommand('editor.action.triggerSuggest');
