// The form's place: below program and path; and everything back as it was when the form goes.
import * as vscode from 'vscode';
import type { PathPreview } from '../path/register.ts';
import { groupCount, type Layout, withForm } from './groups.ts';

/** Where the form is opened, and how the layout comes back. */
export interface FormPlace {
  readonly column: vscode.ViewColumn;
  /** Called when the form is gone. */
  restore(): Promise<void>;
}

/** Brings the path up beside the program and makes room below both. */
export async function makeRoom(editor: vscode.TextEditor, preview: PathPreview): Promise<FormPlace> {
  const before = await vscode.commands.executeCommand<Layout>('vscode.getEditorLayout');
  const wasOpen = preview.column() !== undefined;
  const column = await roomBelow(editor, preview, before);
  return {
    column,
    restore: async () => {
      if (!wasOpen) {
        preview.close();
      }
      if (await groupsAre(groupCount(before))) {
        await vscode.commands.executeCommand('vscode.setEditorLayout', before);
      }
    },
  };
}

/** The form goes below everything: there it has the width for all its fields at once. */
async function roomBelow(editor: vscode.TextEditor, preview: PathPreview, before: Layout): Promise<vscode.ViewColumn> {
  const program = editor.viewColumn ?? vscode.ViewColumn.One;
  const path = preview.column() ?? program + 1;
  const isNew = path > groupCount(before);
  const layout = withForm(before, isNew);
  await vscode.commands.executeCommand('vscode.setEditorLayout', layout);
  // A path that is a tab over the program would hide it.
  if (path !== program) {
    preview.show(editor, path);
  }
  return groupCount(layout);
}

/** Waits until there are so many groups of editors: those that lost their last one go a moment later. */
async function groupsAre(count: number): Promise<boolean> {
  for (let tries = 0; tries < 40; tries++) {
    const now = await vscode.commands.executeCommand<Layout>('vscode.getEditorLayout');
    if (groupCount(now) === count) {
      return true;
    }
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  return false;
}
