/** The built server as a process, spoken to over stdio. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  createMessageConnection,
  type MessageConnection,
  type ServerCapabilities,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

/** A server that runs, with what it offers. */
export interface Session {
  readonly child: ChildProcess;
  readonly connection: MessageConnection;
  readonly offered: ServerCapabilities;
}

/** Starts a server for a client that can so much besides pulling findings. */
export const start = async (more: object = {}, options: object = {}): Promise<Session> => {
  const child = spawn(process.execPath, ['dist/server.node.js', '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  if (child.stdout === null || child.stdin === null) throw new Error('no pipes');
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  connection.listen();
  const capabilities = { textDocument: { diagnostic: { dynamicRegistration: false }, ...more } };
  const answer = await connection.sendRequest<{ capabilities: ServerCapabilities }>('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities,
    initializationOptions: options,
  });
  await connection.sendNotification('initialized', {});
  return { child, connection, offered: answer.capabilities };
};

/** Ends it. */
export const stop = async ({ connection, child }: Session): Promise<void> => {
  await connection.sendRequest('shutdown');
  await connection.sendNotification('exit');
  connection.dispose();
  child.kill();
};
