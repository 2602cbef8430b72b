/**
 * The language server as a web worker. Before the language client speaks, its side may post `{ blockwrightPathPort }`
 * with a message port for the path; on the protocol's own channel anything foreign would be taken for a broken message.
 */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import type { ServerHost } from '../lsp/host.ts';
import { attachPort, type PathPort } from '../lsp/pathHandover.ts';
import { startServer } from '../lsp/server.ts';

type Receiver = { onmessage: ((event: { readonly data: unknown }) => void) | null };

/** The worker's global scope, as far as it is used. */
type Scope = ConstructorParameters<typeof BrowserMessageReader>[0] & Receiver;

declare const self: Scope;

self.onmessage = (event: { readonly data: unknown }) => {
  const port = pathPortIn(event.data);
  start(port);
  // Without a port the first message is the client's; the reader has taken its place as receiver by now.
  if (!port) self.onmessage?.(event);
};

function start(port: PathPort | undefined): void {
  const connection = createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self));
  const host: ServerHost = {
    readFile: () => undefined,
    listFolder: () => undefined,
    readStart: () => undefined,
    pause: makePause(),
    ...(port && { servePaths: (lookup) => attachPort(port, lookup) }),
  };
  startServer(connection, host);
}

function pathPortIn(data: unknown): PathPort | undefined {
  if (typeof data !== 'object' || data === null) return undefined;
  return (data as { blockwrightPathPort?: PathPort }).blockwrightPathPort;
}

/** A turn by way of a message to oneself: browsers hold timers back for 4 ms. */
function makePause(): () => Promise<void> {
  const { port1, port2 } = new MessageChannel();
  const waiting: (() => void)[] = [];
  (port1 as unknown as Receiver).onmessage = () => waiting.shift()?.();
  return () =>
    new Promise((resolve) => {
      waiting.push(resolve);
      port2.postMessage(0);
    });
}
