// The extension on the desktop: the server is a process of its own, the path comes over a pipe beside its messages.
import { type ChildProcess, spawn } from 'node:child_process';
import type { ExtensionContext } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/node';
import { activateWith } from './activate.ts';
import { createPipeChannel } from './path/pipeChannel.ts';

/** Called by VS Code when a program is opened. */
export function activate(context: ExtensionContext): Promise<void> {
  return activateWith(context, (options, connect) => {
    const start = async (): Promise<ChildProcess> => {
      const child = startServer(context.asAbsolutePath('dist/server.node.js'));
      connect(createPipeChannel(child));
      return child;
    };
    return new LanguageClient('blockwright', 'Blockwright', start, options);
  });
}

/** Messages go over standard input and output, path chunks over descriptor 3. */
function startServer(module: string): ChildProcess {
  return spawn(process.execPath, [module, '--stdio', '--path-pipe'], {
    stdio: ['pipe', 'pipe', 'pipe', 'pipe'],
    env: { ...process.env, ELECTRON_RUN_AS_NODE: '1' },
    windowsHide: true,
  });
}
