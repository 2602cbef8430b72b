// The panel of the form: opens below the path, closes without a trace.
import * as vscode from 'vscode';
import { readFromForm } from '../../form/messages.ts';
import type { PathPreview } from '../path/register.ts';
import { webviewPage } from '../webviewPage.ts';
import { makeRoom } from './layout.ts';
import type { BlockRequests } from './requests.ts';
import { FormSession, type FormTask } from './session.ts';

/** A form that can be closed from outside. */
export interface OpenForm {
  close(): Promise<void>;
}

/** Opens the form; the layout and the keyboard come back when it goes. */
export async function openForm(
  context: vscode.ExtensionContext,
  editor: vscode.TextEditor,
  task: FormTask,
  requests: BlockRequests,
  preview: PathPreview,
): Promise<OpenForm> {
  const form = await requests.form(task.name, task.place);
  const { viewColumn, selection } = editor;
  const place = await makeRoom(editor, preview);
  const panel = createPanel(context.extensionUri, place.column, form.title);
  revealPlace(task);
  let writtenTo: number | undefined;
  const session = new FormSession(task, form, {
    requests,
    preview,
    store: context.globalState,
    say: (message) => void panel.webview.postMessage(message),
    close: (line) => {
      writtenTo = line;
      panel.dispose();
    },
  });
  const listeners = [
    panel.webview.onDidReceiveMessage((message: unknown) => {
      const said = readFromForm(message);
      if (said) {
        session.hear(said);
      }
    }),
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (document === task.document && contentChanges.length > 0) {
        session.documentChanged(contentChanges);
      }
    }),
    vscode.workspace.onDidCloseTextDocument((document) => {
      if (document === task.document) {
        panel.dispose();
      }
    }),
  ];
  const closed = new Promise<void>((resolve) => {
    panel.onDidDispose(async () => {
      session.end();
      for (const listener of listeners) {
        listener.dispose();
      }
      await place.restore();
      await backToProgram(task.document, viewColumn, selection, writtenTo);
      resolve();
    });
  });
  return {
    close: () => {
      panel.dispose();
      return closed;
    },
  };
}

/** The program has less room now: the place of the block is to be seen. */
function revealPlace({ document, place }: FormTask): void {
  const line = Math.min(place.line, document.lineCount - 1);
  for (const editor of vscode.window.visibleTextEditors) {
    if (editor.document === document) {
      editor.revealRange(new vscode.Range(line, 0, line, 0), vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    }
  }
}

function createPanel(extension: vscode.Uri, column: vscode.ViewColumn, title: string): vscode.WebviewPanel {
  const built = vscode.Uri.joinPath(extension, 'dist');
  const panel = vscode.window.createWebviewPanel(
    'blockwright.block',
    title,
    { viewColumn: column, preserveFocus: false },
    { enableScripts: true, localResourceRoots: [built], retainContextWhenHidden: true },
  );
  const { webview } = panel;
  webview.html = webviewPage({
    title,
    root: 'form',
    script: webview.asWebviewUri(vscode.Uri.joinPath(built, 'form.js')).toString(true),
    style: webview.asWebviewUri(vscode.Uri.joinPath(built, 'form.css')).toString(true),
    source: webview.cspSource,
  });
  return panel;
}

/** The keyboard is the program's again: the cursor where it was, or behind the block that was written. */
async function backToProgram(
  document: vscode.TextDocument,
  viewColumn: vscode.ViewColumn | undefined,
  selection: vscode.Selection,
  line: number | undefined,
): Promise<void> {
  if (document.isClosed) {
    return;
  }
  const shown = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
  const end = line === undefined ? undefined : document.lineAt(line).range.end;
  await vscode.window.showTextDocument(document, {
    viewColumn: shown?.viewColumn ?? viewColumn ?? vscode.ViewColumn.One,
    selection: end === undefined ? selection : new vscode.Range(end, end),
  });
}
