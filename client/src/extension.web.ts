// The extension in the browser: the server is a web worker, the path comes through a message port of its own.
import { type ExtensionContext, Uri } from 'vscode';
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  LanguageClient,
  type MessageTransports,
} from 'vscode-languageclient/browser';
import { activateWith } from './activate.ts';
import { createPortChannel } from './path/portChannel.ts';

/** The extension host of the browser is itself a worker; no types for a page are wanted here. */
declare const Worker: new (address: string) => Worker & { terminate(): void };

/** Called by VS Code when a program is opened. */
export function activate(context: ExtensionContext): Promise<void> {
  const server = Uri.joinPath(context.extensionUri, 'dist/server.worker.js').toString(true);
  return activateWith(context, (options, connect) => {
    let worker: InstanceType<typeof Worker> | undefined;
    context.subscriptions.push({ dispose: () => worker?.terminate() });
    const start = async (): Promise<MessageTransports> => {
      worker?.terminate();
      worker = new Worker(server);
      // The port is posted before the client speaks: later, the server would take it for a broken message.
      connect(createPortChannel(worker));
      return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
    };
    return new LanguageClient('blockwright', 'Blockwright', start, options);
  });
}
