/** The language server in a Node process: files from disk, messages over standard input and output or ipc. */
import { readFile } from 'node:fs/promises';
import { Socket } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { createConnection } from 'vscode-languageserver/node';
import type { ServerHost } from '../lsp/host.ts';
import { attachPipe } from '../lsp/pathHandover.ts';
import { startServer } from '../lsp/server.ts';
import { fileStart, namesIn } from './fileStart.ts';

/** Where a client that wants the path in binary puts the other end of a pipe. */
const PATH_DESCRIPTOR = 3;

/** How a client is served, and what holds before what it opens. */
interface NodeOptions extends Pick<ServerHost, 'shopFile' | 'profile'> {
  /** Instead of standard input and output. */
  readonly ipc?: boolean;
  /** Descriptor 3 is a pipe for the path. */
  readonly pathPipe?: boolean;
}

/** Serves one client until it goes. */
export function serveFromNode(options: NodeOptions): void {
  // Whatever a library prints must not get between the messages.
  console.log = console.error;
  const connection = options.ipc ? createConnection() : createConnection(process.stdin, process.stdout);
  startServer(connection, nodeHost(options));
}

function nodeHost({ pathPipe, shopFile, profile }: NodeOptions): ServerHost {
  const pages = pathToFileURL(join(__dirname, 'rules')).href;
  return {
    readFile: (uri) => (uri.startsWith('file:') ? readText(uri) : undefined),
    listFolder: (uri) => (uri.startsWith('file:') ? namesIn(fileURLToPath(uri)) : undefined),
    readStart: (uri, most, within) =>
      uri.startsWith('file:') ? fileStart(fileURLToPath(uri), most, fileURLToPath(within)) : undefined,
    rulePage: (code) => `${pages}/${code}.md`,
    pause: () => new Promise((resolve) => setImmediate(resolve)),
    ...(shopFile === undefined ? {} : { shopFile }),
    ...(profile === undefined ? {} : { profile }),
    ...(pathPipe && { servePaths: (lookup) => attachPipe(new Socket({ fd: PATH_DESCRIPTOR }), lookup) }),
  };
}

async function readText(uri: string): Promise<string | undefined> {
  try {
    return await readFile(fileURLToPath(uri), 'utf8');
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT' || code === 'ENOTDIR' || code === 'ERR_INVALID_FILE_URL_HOST') return undefined;
    throw error;
  }
}
