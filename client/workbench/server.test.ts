// The served folder must not leak to other pages, nor let anything out of itself.
import { mkdir, mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { type IncomingMessage, request } from 'node:http';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Served, serveWorkbench } from './server.ts';

const root = new URL('../..', import.meta.url).pathname;

interface Reply {
  readonly status: number;
  readonly body: string;
  readonly headers: IncomingMessage['headers'];
}

let place: string;
let served: Served;

/** One request exactly as written: the path is not tidied, the headers are as given. */
function ask(path: string, headers: Record<string, string> = {}, method = 'GET', body = ''): Promise<Reply> {
  return new Promise((done, failed) => {
    const call = request(
      {
        host: '127.0.0.1',
        port: served.port,
        path,
        method,
        headers: { host: `w.localhost:${served.port}`, ...headers },
      },
      (response) => {
        const parts: Buffer[] = [];
        response.on('data', (part: Buffer) => parts.push(part));
        response.on('end', () =>
          done({ status: response.statusCode ?? 0, body: Buffer.concat(parts).toString(), headers: response.headers }),
        );
      },
    );
    call.on('error', failed);
    call.end(body);
  });
}

const token = (): Record<string, string> => ({ 'x-blockwright-token': served.token });
const own = (): Record<string, string> => ({ ...token(), origin: `http://w.localhost:${served.port}` });
const write = (path: string, headers = own()): Promise<Reply> =>
  ask(`/mount/write?path=${encodeURIComponent(path)}&create=true&overwrite=true`, headers, 'POST', 'NEW');

beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'blockwright-served-'));
  await mkdir(join(place, 'programs/inner'), { recursive: true });
  await writeFile(join(place, 'programs/a.nc'), 'G0 X1.');
  await writeFile(join(place, 'secret.txt'), 'SECRET');
  served = await serveWorkbench({ root, folder: join(place, 'programs'), port: 0 });
});

afterEach(async () => {
  await served.close();
  await rm(place, { recursive: true, force: true });
});

describe('what the page needs', () => {
  it('reads and lists with the token', async () => {
    expect((await ask('/mount/read?path=/a.nc', token())).body).toBe('G0 X1.');
    const listed: [string, number][] = JSON.parse((await ask('/mount/list?path=/', token())).body);
    expect(listed.sort()).toEqual([
      ['a.nc', 1],
      ['inner', 2],
    ]);
  });

  it('saves on disk', async () => {
    expect((await write('/inner/b.nc')).status).toBe(200);
    expect(await readFile(join(place, 'programs/inner/b.nc'), 'utf8')).toBe('NEW');
  });

  it('makes folders, renames and deletes', async () => {
    expect((await ask('/mount/folder?path=/made', own(), 'POST')).status).toBe(200);
    expect((await ask('/mount/rename?path=/a.nc&to=/made/c.nc&overwrite=false', own(), 'POST')).status).toBe(200);
    expect(await readFile(join(place, 'programs/made/c.nc'), 'utf8')).toBe('G0 X1.');
    expect((await ask('/mount/delete?path=/made&recursive=false', own(), 'POST')).status).toBe(403);
    expect((await ask('/mount/delete?path=/made&recursive=true', own(), 'POST')).status).toBe(200);
    expect((await ask('/mount/stat?path=/made', token())).status).toBe(404);
  });

  it('answers the page, the workbench and the extension’s manifest', async () => {
    expect((await ask('/')).body).toContain('workbench.web.main.js');
    expect((await ask('/static/build/out/vs/loader.js')).status).toBe(200);
    expect(JSON.parse((await ask('/extension/package.json')).body).name).toBe('blockwright');
  });

  it('sends localhost and 127.0.0.1 to the address that works', async () => {
    const reply = await ask('/', { host: `localhost:${served.port}` });
    expect([reply.status, reply.headers.location]).toEqual([302, served.address]);
  });

  it('takes a free port where the wished one is taken', async () => {
    const blocker = createServer();
    await new Promise<void>((done) => blocker.listen(0, '127.0.0.1', () => done()));
    const { port } = blocker.address() as { port: number };
    const other = await serveWorkbench({ root, folder: join(place, 'programs'), port });
    expect(other.port).not.toBe(port);
    await other.close();
    await new Promise((done) => blocker.close(done));
  });
});

describe('paths that leave the folder', () => {
  const outside = ['/../secret.txt', '/inner/../../secret.txt', '/..\\secret.txt', '../secret.txt', '/a.nc\0.txt', ''];
  it.each(outside)('refuses to read %j', async (path) => {
    const reply = await ask(`/mount/read?path=${encodeURIComponent(path)}`, token());
    expect([reply.status, reply.body.includes('SECRET')]).toEqual([403, false]);
  });

  it.each(outside)('refuses to write %j', async (path) => {
    expect((await write(path)).status).toBe(403);
    expect(await readFile(join(place, 'secret.txt'), 'utf8')).toBe('SECRET');
  });

  it('refuses what leaves in the other served folders', async () => {
    for (const path of [
      '/extension/dist/../.git/config',
      '/extension/dist/%2e%2e/.git/config',
      '/extension/.git/config',
    ]) {
      expect((await ask(path)).status).toBeGreaterThanOrEqual(403);
    }
    expect((await ask('/static/build/%2e%2e/package.json')).status).toBeGreaterThanOrEqual(403);
    expect((await ask('/static/build/..%5cpackage.json')).status).toBe(403);
  });
});

describe.runIf(process.platform !== 'win32')('symbolic links that leave the folder', () => {
  beforeEach(async () => {
    await symlink(join(place, 'secret.txt'), join(place, 'programs/link.nc'));
    await symlink(place, join(place, 'programs/out'));
    await symlink(join(place, 'absent.txt'), join(place, 'programs/dangling.nc'));
  });

  it('are not read', async () => {
    for (const path of ['/link.nc', '/out/secret.txt', '/out']) {
      expect((await ask(`/mount/read?path=${path}`, token())).status).toBe(403);
    }
    expect((await ask('/mount/list?path=/out', token())).status).toBe(403);
  });

  it('are not written through, nor created through', async () => {
    expect((await write('/link.nc')).status).toBe(403);
    expect((await write('/out/new.txt')).status).toBe(403);
    expect((await write('/dangling.nc')).status).toBeGreaterThanOrEqual(403);
    expect(await readFile(join(place, 'secret.txt'), 'utf8')).toBe('SECRET');
    await expect(readFile(join(place, 'absent.txt'))).rejects.toThrow();
    await expect(readFile(join(place, 'new.txt'))).rejects.toThrow();
  });

  it('are not renamed out of or into', async () => {
    expect((await ask('/mount/rename?path=/a.nc&to=/out/a.nc&overwrite=true', own(), 'POST')).status).toBe(403);
    expect((await ask('/mount/delete?path=/out/secret.txt&recursive=true', own(), 'POST')).status).toBe(403);
    expect(await readFile(join(place, 'secret.txt'), 'utf8')).toBe('SECRET');
  });
});

describe('requests from elsewhere', () => {
  it('refuses another host’s name', async () => {
    for (const host of [
      'evil.example',
      `evil.example:${served.port}`,
      `w.localhost.evil.example:${served.port}`,
      'w.localhost',
    ]) {
      expect((await ask('/', { host })).status).toBe(403);
      expect((await ask('/files/package.json', { host })).status).toBe(403);
      expect((await ask('/mount/read?path=/a.nc', { ...token(), host })).status).toBe(403);
    }
  });

  it('refuses files without this start’s token', async () => {
    expect((await ask('/mount/read?path=/a.nc')).status).toBe(403);
    expect((await ask('/mount/read?path=/a.nc', { 'x-blockwright-token': '0'.repeat(48) })).status).toBe(403);
    const { 'x-blockwright-token': _, ...origin } = own();
    expect((await write('/a.nc', origin)).status).toBe(403);
    expect(await readFile(join(place, 'programs/a.nc'), 'utf8')).toBe('G0 X1.');
  });

  it('gives every start another token', async () => {
    const other = await serveWorkbench({ root, folder: join(place, 'programs'), port: 0 });
    expect(other.token).not.toBe(served.token);
    await other.close();
  });

  it('refuses another page, token or not', async () => {
    for (const origin of [
      'http://evil.example',
      'null',
      `https://w.localhost:${served.port}`,
      `http://w.localhost:${served.port}.evil.example`,
    ]) {
      expect((await write('/a.nc', { ...token(), origin })).status).toBe(403);
      expect((await ask('/files/package.json', { origin })).status).toBe(403);
      expect((await ask('/mount/read?path=/a.nc', { ...token(), origin }, 'OPTIONS')).status).toBe(403);
    }
    expect(
      (await ask('/files/package.json', { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'no-cors' })).status,
    ).toBe(403);
    expect(await readFile(join(place, 'programs/a.nc'), 'utf8')).toBe('G0 X1.');
  });

  it('refuses writing without an origin, and writing by GET', async () => {
    expect((await write('/a.nc', token())).status).toBe(403);
    expect((await ask('/mount/write?path=/a.nc&overwrite=true', own())).status).toBe(405);
  });

  it('cannot be framed by another page', async () => {
    const policy = (await ask('/')).headers['content-security-policy'];
    expect(policy).toBe(`frame-ancestors http://w.localhost:${served.port} http://*.w.localhost:${served.port}`);
  });
});
