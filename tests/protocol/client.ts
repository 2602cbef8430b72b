/** A small client of the language server for tests: over the standard streams of a process, or to a worker. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { MessageChannel, type MessagePort, Worker } from 'node:worker_threads';
import { build } from 'esbuild';
import { type Message, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';

type Params = unknown;

/** An answer: the result, or the error with its code. */
export interface Answer {
  readonly result?: unknown;
  readonly error?: { readonly code: number; readonly message: string };
}

/** A notification of the server. */
interface Notice {
  readonly method: string;
  readonly params: Record<string, unknown>;
}

interface Transport {
  send(message: Record<string, unknown>): void;
  onMessage(listener: (message: Record<string, unknown>) => void): void;
  close(): Promise<void>;
  /** True while the server runs. */
  isAlive(): boolean;
  /** The channel of the path: a port to a worker, a pipe to a process. */
  readonly pathPort?: MessagePort;
  readonly process?: ChildProcess;
}

/** Talks to one server. */
export class TestClient {
  readonly notices: Notice[] = [];
  /** What the client answers when the server asks, by method; a promise is answered late. */
  readonly answers = new Map<string, (params: Record<string, unknown>) => unknown>();
  readonly transport: Transport;
  private readonly waiting = new Map<number, (answer: Answer) => void>();
  private readonly noticeListeners = new Set<() => void>();
  private nextId = 1;

  constructor(transport: Transport) {
    this.transport = transport;
    transport.onMessage((message) => this.received(message));
  }

  /** Sends a request; resolves with its answer, errors included. */
  ask(method: string, params: Params, id = this.nextId++): Promise<Answer> {
    const answered = new Promise<Answer>((resolve) => this.waiting.set(id, resolve));
    this.transport.send({ jsonrpc: '2.0', id, method, ...(params === undefined ? {} : { params }) });
    return answered;
  }

  /** Sends a request; resolves with its result, rejects with an error answer. */
  async request<Result>(method: string, params: Params): Promise<Result> {
    const { result, error } = await this.ask(method, params);
    if (error) throw new Error(`${method}: ${error.code} ${error.message}`);
    return result as Result;
  }

  /** Sends a notification. */
  notify(method: string, params: Params): void {
    this.transport.send({ jsonrpc: '2.0', method, ...(params === undefined ? {} : { params }) });
  }

  /** Starts the session as a client with these capabilities. */
  async initialize(capabilities: object, initializationOptions?: object): Promise<Record<string, unknown>> {
    const result = await this.request<{ capabilities: Record<string, unknown> }>('initialize', {
      processId: null,
      rootUri: null,
      capabilities,
      initializationOptions,
    });
    this.notify('initialized', {});
    return result.capabilities;
  }

  /** Resolves with the first notification from `from` on that fits. */
  async notice(method: string, fits: (params: Record<string, unknown>) => boolean, from = 0): Promise<Notice> {
    for (;;) {
      const found = this.notices.slice(from).find((notice) => notice.method === method && fits(notice.params));
      if (found) return found;
      await new Promise<void>((resolve) => {
        const listener = (): void => {
          this.noticeListeners.delete(listener);
          resolve();
        };
        this.noticeListeners.add(listener);
      });
    }
  }

  private received(message: Record<string, unknown>): void {
    if (typeof message.method === 'string') {
      const params = (message.params ?? {}) as Record<string, unknown>;
      if (message.id === undefined) {
        this.notices.push({ method: message.method, params });
        for (const listener of [...this.noticeListeners]) listener();
      } else {
        const result = this.answers.get(message.method)?.(params) ?? null;
        const send = (late: unknown): void => this.transport.send({ jsonrpc: '2.0', id: message.id, result: late });
        if (result instanceof Promise) void result.then(send);
        else send(result);
      }
      return;
    }
    const resolve = this.waiting.get(message.id as number);
    this.waiting.delete(message.id as number);
    resolve?.(message as Answer);
  }
}

const built = new Map<string, Promise<string>>();

/** Bundles an entry into a folder of its own, once a test run. */
function bundle(entry: 'node' | 'worker'): Promise<string> {
  const known = built.get(entry);
  if (known) return known;
  const outfile = join(mkdtempSync(join(tmpdir(), 'blockwright-protocol-')), `${entry}.cjs`);
  const made = build({
    entryPoints: [fileURLToPath(new URL(`../../server/src/entries/${entry}.ts`, import.meta.url))],
    outfile,
    bundle: true,
    mainFields: ['module', 'main'],
    logLevel: 'error',
    ...(entry === 'node'
      ? { platform: 'node' as const, format: 'cjs' as const, target: 'node20' }
      : { platform: 'browser' as const, format: 'iife' as const, target: 'es2022' }),
  }).then(() => outfile);
  built.set(entry, made);
  return made;
}

/** The server as a process, as the desktop and other editors run it; with a pipe for the path where told so. */
export async function startNodeServer(options: { readonly pathPipe?: boolean } = {}): Promise<TestClient> {
  const flags = options.pathPipe ? ['--stdio', '--path-pipe'] : ['--stdio'];
  const child: ChildProcess = spawn(process.execPath, [await bundle('node'), ...flags], {
    stdio: ['pipe', 'pipe', 'pipe', options.pathPipe ? 'pipe' : 'ignore'],
  });
  let gone = false;
  const ended = new Promise<void>((resolve) => {
    child.on('exit', () => {
      gone = true;
      resolve();
    });
  });
  const reader = new StreamMessageReader(child.stdout!);
  const writer = new StreamMessageWriter(child.stdin!);
  return new TestClient({
    send: (message) => void writer.write(message as unknown as Message).catch(() => undefined),
    onMessage: (listener) => {
      reader.listen((message) => listener(message as unknown as Record<string, unknown>));
    },
    isAlive: () => !gone,
    process: child,
    close: async () => {
      child.kill();
      await ended;
    },
  });
}

/**
 * What a browser's worker has and a thread of Node has not. A browser takes the messages of all ports in turn; Node takes
 * up to a thousand of one port first, so a port that a worker wakes itself with would leave the client waiting.
 */
const workerScope = `
const { parentPort, workerData } = require('node:worker_threads');
globalThis.self = globalThis;
self.postMessage = (message, transfer) => parentPort.postMessage(message, transfer);
self.addEventListener = () => undefined;
globalThis.MessageChannel = class {
  port1 = { onmessage: null };
  port2 = { postMessage: (data) => setImmediate(() => this.port1.onmessage?.({ data })) };
};
parentPort.on('message', (data) => self.onmessage?.({ data }));
require(workerData);
`;

/** The server as a worker, as the browser runs it; with a port for the path unless told otherwise. */
export async function startWorkerServer(options: { readonly pathPort?: boolean } = {}): Promise<TestClient> {
  const worker = new Worker(workerScope, { eval: true, workerData: await bundle('worker') });
  let gone = false;
  worker.on('exit', () => {
    gone = true;
  });
  const { port1, port2 } = new MessageChannel();
  if (options.pathPort !== false) worker.postMessage({ blockwrightPathPort: port2 }, [port2]);
  return new TestClient({
    send: (message) => worker.postMessage(message),
    onMessage: (listener) => worker.on('message', listener),
    isAlive: () => !gone,
    close: async () => {
      port1.close();
      await worker.terminate();
    },
    pathPort: port1,
  });
}
