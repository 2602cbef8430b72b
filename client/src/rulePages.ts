// A finding's code is a link to the rule's page, which travels with the extension.
import * as vscode from 'vscode';

const showRule = 'blockwright.showRule';

/** The same finding with its code linked to the rule's page. */
export function withRulePages(finding: vscode.Diagnostic): vscode.Diagnostic {
  const code = typeof finding.code === 'object' ? finding.code.value : finding.code;
  if (typeof code === 'string') {
    const target = vscode.Uri.parse(`command:${showRule}?${encodeURIComponent(JSON.stringify([code]))}`);
    finding.code = { value: code, target };
  }
  return finding;
}

/** Registers the command behind those links. */
export function registerRulePages(context: vscode.ExtensionContext): vscode.Disposable {
  return vscode.commands.registerCommand(showRule, async (code: unknown) => {
    if (typeof code !== 'string' || !/^[a-z0-9-]+$/.test(code)) {
      return;
    }
    const page = vscode.Uri.joinPath(context.extensionUri, 'dist', 'rules', `${code}.md`);
    await vscode.commands.executeCommand('markdown.showPreview', page);
  });
}
