/** Subprograms in the files beside a program, over the protocol: found, late, edited, missing, never from outside. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { open, PULL, PUSH, pull, seeded } from './programs.ts';

const MAIN = 'O1 (MAIN)\nG17 G21 G40 G49 G80 G90 G54\nG0 X0. Y0. Z5.\nM98 P1000\nG0 X50.\nM30\n';
const STEP = 'O1000 (A STEP)\nG0 X11.\nM99\n';
/** Raises an error at the call: an arc whose ends do not fit. */
const WRONG = 'O1000 (A STEP)\nG1 X11. F100\nG3 X12. Y0. I0. J3.\nM99\n';

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('subprograms, server as %s', (entry, start) => {
  let client: TestClient;
  let folder: string;
  /** What the client knows, for a server that cannot read: addresses with their texts. */
  const files = new Map<string, string>();
  /** Addresses that the client was asked for. */
  let asked: string[] = [];
  const options = entry === 'worker' ? { readFile: true, listFolder: true } : {};

  beforeEach(async () => {
    client = await start();
    folder = join(mkdtempSync(join(tmpdir(), 'blockwright-sub-')), 'parts');
    mkdirSync(folder);
    files.clear();
    asked = [];
    client.answers.set('blockwright/readFile', ({ uri, most }) => {
      asked.push(String(uri));
      const text = files.get(String(uri));
      if (text === undefined) return null;
      return typeof most === 'number' ? { text: text.slice(0, most), size: text.length } : { text };
    });
    client.answers.set('blockwright/listFolder', ({ uri }) => {
      asked.push(String(uri));
      const inside = [...files.keys()].filter((file) => file.slice(0, file.lastIndexOf('/')) === uri);
      return { files: inside.map((file) => decodeURIComponent(file.slice(file.lastIndexOf('/') + 1))) };
    });
  });

  afterEach(async () => {
    await client.transport.close();
    rmSync(dirname(folder), { recursive: true });
  });

  const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;
  const write = (name: string, text: string): string => {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
    files.set(uriOf(name), text);
    return uriOf(name);
  };
  const remove = (name: string): void => {
    rmSync(join(folder, name));
    files.delete(uriOf(name));
  };
  /** Starts a client that has the folder open. */
  const begin = (capabilities: object = PULL, root: string | null = folder): Promise<unknown> =>
    client
      .request('initialize', {
        processId: null,
        rootUri: root === null ? null : pathToFileURL(root).href,
        capabilities,
        initializationOptions: options,
      })
      .then(() => client.notify('initialized', {}));
  const opened = (name: string, text: string): string => {
    open(client, text, uriOf(name));
    return uriOf(name);
  };
  const edit = (uri: string, version: number, text: string): void =>
    client.notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ text }] });
  const found = (uri: string): Promise<Diagnostic[]> => pull(client, uri);
  const errors = async (uri: string): Promise<string[]> =>
    (await found(uri)).filter(({ severity }) => severity === 1).map(({ code, range }) => `${range.start.line} ${code}`);
  /** Vertices of the whole path. */
  const vertices = async (uri: string): Promise<number> => {
    const { data } = await client.request<{ data: string }>('blockwright/path', { uri });
    const { pieces } = JSON.parse(Buffer.from(data, 'base64').toString()) as { pieces: { vertices: number }[] };
    return pieces.reduce((sum, piece) => sum + piece.vertices, 0);
  };
  const told = (capture: Diagnostic[]): string[] => capture.map(({ code }) => String(code));
  const FAULT = ['3 arc-radius-mismatch'];

  test('the call’s findings come from the file beside the program', async () => {
    write('holes.nc', WRONG);
    await begin();
    const main = opened('main.nc', MAIN);
    expect(await errors(main)).toEqual(FAULT);
    expect(told(await found(main))).not.toContain('subprogram-missing');
  });

  test('the path goes through the file', async () => {
    const step = STEP.replace('X11.', 'X11.\nY12.\nX13.');
    write('holes.nc', step);
    await begin();
    const called = await vertices(opened('main.nc', MAIN));
    const inOneFile = await vertices(opened('one.nc', `${MAIN}${step}`));
    const missing = await vertices(opened('missing.nc', MAIN.replace('P1000', 'P1234')));
    expect(called).toBe(inOneFile);
    expect(called).toBeGreaterThan(missing);
  });

  test('found by name, and through another subprogram', async () => {
    write('O01000.tap', 'M98 P2000\nM99\n');
    write('2000', WRONG.replace('O1000', ''));
    await begin();
    expect(await errors(opened('main.nc', MAIN))).toEqual(FAULT);
  });

  test('what stands in an editor counts before the file, and its callers follow each change', async () => {
    const sub = write('holes.nc', STEP);
    await begin();
    const main = opened('main.nc', MAIN);
    expect(await errors(main)).toEqual([]);
    opened('holes.nc', WRONG);
    expect(await errors(main)).toEqual(FAULT);
    edit(sub, 2, STEP);
    expect(await errors(main)).toEqual([]);
    edit(sub, 3, WRONG.replace('O1000', 'O1001'));
    expect(await errors(main)).toEqual([]);
    edit(sub, 4, WRONG);
    expect(await errors(main)).toEqual(FAULT);
    client.notify('textDocument/didClose', { textDocument: { uri: sub } });
    expect(await errors(main)).toEqual([]);
  });

  test('a file that was never saved counts too', async () => {
    await begin();
    const main = opened('main.nc', MAIN);
    expect(await errors(main)).toEqual([]);
    opened('new.nc', WRONG);
    expect(await errors(main)).toEqual(FAULT);
  });

  test('a file that comes, changes and goes on disk runs its callers again; the folder is watched', async () => {
    const watched: unknown[] = [];
    client.answers.set('client/registerCapability', (params) => {
      watched.push(...(params.registrations as unknown[]));
      return null;
    });
    const didChangeWatchedFiles = { dynamicRegistration: true, relativePatternSupport: true };
    await begin({ ...PULL, workspace: { ...PULL.workspace, didChangeWatchedFiles } });
    const main = opened('main.nc', MAIN);
    expect(await errors(main)).toEqual([]);
    expect(JSON.stringify(watched)).toContain(
      JSON.stringify({ globPattern: { baseUri: pathToFileURL(folder).href, pattern: '*' } }),
    );
    const uri = write('holes.nc', WRONG);
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 1 }] });
    expect(await errors(main)).toEqual(FAULT);
    write('holes.nc', STEP);
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 2 }] });
    expect(await errors(main)).toEqual([]);
    write('holes.nc', WRONG);
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 2 }] });
    expect(await errors(main)).toEqual(FAULT);
    remove('holes.nc');
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 3 }] });
    expect(await errors(main)).toEqual([]);
  });

  test('findings that were pulled are pulled again when a subprogram changes', async () => {
    let refreshes = 0;
    client.answers.set('workspace/diagnostic/refresh', () => {
      refreshes++;
      return null;
    });
    const sub = write('holes.nc', STEP);
    await begin({ ...PULL, workspace: { ...PULL.workspace, diagnostics: { refreshSupport: true } } });
    const main = opened('main.nc', MAIN);
    opened('holes.nc', STEP);
    expect(await errors(main)).toEqual([]);
    await new Promise((resolve) => setTimeout(resolve, 400));
    refreshes = 0;
    edit(sub, 2, WRONG);
    await expect.poll(() => refreshes).toBe(1);
    expect(await errors(main)).toEqual(FAULT);
    edit(sub, 3, WRONG);
    await new Promise((resolve) => setTimeout(resolve, 400));
    expect(refreshes).toBe(1);
  });

  test('a client that is pushed hears of the whole program only, and again after a change', async () => {
    const sub = write('holes.nc', WRONG);
    await begin(PUSH);
    const main = opened('main.nc', MAIN);
    const pushedFor = async (from: number): Promise<string[]> => {
      const { params } = await client.notice('textDocument/publishDiagnostics', ({ uri }) => uri === main, from);
      return (params.diagnostics as Diagnostic[])
        .filter(({ severity }) => severity === 1)
        .map(({ code }) => String(code));
    };
    expect(await pushedFor(0)).toEqual(['arc-radius-mismatch']);
    const from = client.notices.length;
    opened('holes.nc', WRONG);
    edit(sub, 2, STEP);
    expect(await pushedFor(from)).toEqual([]);
  });

  test('missing is missing, from an untitled program everything is', async () => {
    write('holes.nc', WRONG);
    await begin();
    opened('main.nc', MAIN.replace('P1000', 'P1234'));
    open(client, MAIN, 'untitled:main.nc');
    open(client, MAIN, 'untitled:/parts/main.nc');
    for (const uri of [uriOf('main.nc'), 'untitled:main.nc', 'untitled:/parts/main.nc']) {
      expect(await errors(uri)).toEqual([]);
      expect(told(await found(uri)), uri).toContain('subprogram-missing');
    }
  });

  test('a call that is never reached is looked up too', async () => {
    write('holes.nc', STEP);
    await begin();
    const text = MAIN.replace('M98 P1000\n', 'GOTO 9\nM98 P1000\nM98 P1234\nN9 ');
    const found = (await pull(client, opened('main.nc', text))).filter(({ code }) => code === 'subprogram-missing');
    expect(found.map(({ range }) => range.start.line)).toEqual([5]);
  });

  test('typing in the calling program does not wait for its subprograms', async () => {
    write('holes.nc', WRONG);
    await begin();
    const main = opened('main.nc', MAIN);
    expect(await errors(main)).toEqual(FAULT);
    asked = [];
    for (let version = 2; version < 12; version++) {
      edit(main, version, MAIN.replace('X50.', `X${version}.`));
      expect(await errors(main)).toEqual(FAULT);
    }
    edit(main, 12, MAIN.replace('O1 ', 'O2 '));
    expect(await errors(main)).toEqual(FAULT);
    expect(asked).toEqual([]);
  });

  test('after random edits of both the findings are those of files freshly opened', async () => {
    const random = seeded(11);
    const pieces = [
      'G1 X1. F100',
      WRONG.split('\n')[2],
      'M99',
      'M98 P1000',
      'M98 P2000 L2',
      'O1000',
      'O2000',
      'G91',
      '',
    ];
    const texts: Record<string, string[]> = { main: MAIN.split('\n'), sub: STEP.split('\n') };
    const uris: Record<string, string> = {};
    await begin();
    for (const name of ['main', 'sub']) uris[name] = opened(`${name}.nc`, texts[name].join('\n'));
    const heard = new Set<string>();
    for (let step = 0; step < 40; step++) {
      // Begins anew now and then: most edits leave little that calls or can be called.
      const anew = { 3: 'sub', 7: 'main' }[step % 8];
      if (anew !== undefined) texts[anew] = (anew === 'sub' ? WRONG : MAIN).split('\n');
      const name = anew ?? (random() < 0.5 ? 'main' : 'sub');
      const lines = texts[name];
      const insert = pieces[Math.floor(random() * pieces.length)];
      if (anew === undefined) lines.splice(Math.floor(random() * lines.length), random() < 0.6 ? 1 : 0, insert);
      edit(uris[name], step + 2, lines.join('\n'));
      write(`fresh${step}/sub.nc`, texts.sub.join('\n'));
      const fresh = await pull(client, opened(`fresh${step}/main.nc`, texts.main.join('\n')));
      const plain = (all: readonly Diagnostic[]) => all.map(({ code, range, message }) => ({ code, range, message }));
      expect(plain(await found(uris.main)), `step ${step}`).toEqual(plain(fresh));
      for (const code of told(fresh)) heard.add(code);
    }
    expect([...heard]).toEqual(expect.arrayContaining(['arc-radius-mismatch', 'subprogram-missing']));
  });

  test('nothing outside the open folders is read', async () => {
    const inner = join(folder, 'inner');
    mkdirSync(inner);
    write('holes.nc', WRONG);
    write('inner/deeper/holes.nc', WRONG);
    symlinkSync(join(folder, 'holes.nc'), join(inner, 'O1000.nc'));
    await begin(PULL, inner);
    const odd = ['file:///etc/../..', `${pathToFileURL(inner).href}/%2e%2e`, `${pathToFileURL(inner).href}/..`];
    const mains = [uriOf('main.nc'), uriOf('inner/main.nc'), ...odd.map((at) => `${at}/main.nc`)];
    for (const uri of mains) {
      open(client, MAIN, uri);
      expect(await errors(uri), uri).toEqual([]);
      client.notify('textDocument/didClose', { textDocument: { uri } });
    }
    const outside = asked.filter((uri) => !uri.endsWith('/blockwright.json') && !fileURLToPath(uri).startsWith(inner));
    expect(outside).toEqual([]);
    write('inner/holes.nc', WRONG);
    expect(await errors(opened('inner/main.nc', MAIN))).toEqual(FAULT);
  });

  test('a folder that is opened later is read from then on', async () => {
    write('holes.nc', WRONG);
    await begin({ ...PULL, workspace: { ...PULL.workspace, workspaceFolders: true } }, join(folder, 'elsewhere'));
    const main = opened('main.nc', MAIN);
    expect(await errors(main)).toEqual([]);
    client.answers.set('workspace/workspaceFolders', () => [{ uri: pathToFileURL(folder).href, name: 'parts' }]);
    client.notify('workspace/didChangeWorkspaceFolders', { event: { added: [], removed: [] } });
    await expect.poll(() => errors(main)).toEqual(FAULT);
  });

  test('without an open folder, the program’s own counts', async () => {
    write('holes.nc', WRONG);
    await begin(PULL, null);
    expect(await errors(opened('main.nc', MAIN))).toEqual(FAULT);
  });

  test('a file that is too large is not read, and that is said', async () => {
    write('holes.nc', `${WRONG}${'(A LONG REMARK)\n'.repeat(300_000)}`);
    await begin();
    expect(await errors(opened('main.nc', MAIN))).toEqual([]);
    const { params } = await client.notice('window/showMessage', () => true);
    expect(params.message).toContain('holes.nc is not read as the subprogram O1000: it has more than 4 MB');
  });

  describe('files that come late', () => {
    const main = 'far:/parts/main.nc';
    const sub = 'far:/parts/holes.nc';
    const delayed = (milliseconds: number): void => {
      for (const method of ['blockwright/listFolder', 'blockwright/readFile']) {
        const answer = client.answers.get(method)!;
        client.answers.set(method, async (params) => {
          if (String(params.uri).endsWith('blockwright.json')) return null;
          await new Promise((resolve) => setTimeout(resolve, milliseconds));
          return answer(params);
        });
      }
    };
    const beginFar = (capabilities: object): Promise<unknown> =>
      client
        .request('initialize', {
          processId: null,
          rootUri: 'far:/parts',
          capabilities,
          initializationOptions: { readFile: true, listFolder: true },
        })
        .then(() => client.notify('initialized', {}));
    const pushes = (): Diagnostic[][] =>
      client.notices
        .filter(({ method, params }) => method === 'textDocument/publishDiagnostics' && params.uri === main)
        .map(({ params }) => params.diagnostics as Diagnostic[]);

    test('who pulls waits for them', async () => {
      files.set(sub, WRONG);
      delayed(200);
      await beginFar(PULL);
      open(client, MAIN, main);
      expect(await errors(main)).toEqual(FAULT);
    });

    test('who waits is answered at once when they are no longer wanted', async () => {
      delayed(60_000);
      await beginFar(PULL);
      open(client, MAIN, main);
      const waiting = client.ask('textDocument/diagnostic', { textDocument: { uri: main } }, 4711);
      open(client, STEP, 'far:/parts/other.nc');
      expect(await errors('far:/parts/other.nc')).toEqual([]);
      client.notify('$/cancelRequest', { id: 4711 });
      expect((await waiting).error?.code).toBe(-32800);
    });

    test('nothing is pushed before they are there', async () => {
      files.set(sub, WRONG);
      delayed(300);
      await beginFar(PUSH);
      open(client, MAIN, main);
      await expect.poll(pushes, { timeout: 5000 }).toHaveLength(1);
      expect(told(pushes()[0])).toContain('arc-radius-mismatch');
    });

    test('the program is told of after some seconds as far as it is known, and nothing wrong; then again', async () => {
      files.set(sub, WRONG);
      delayed(3000);
      await beginFar(PUSH);
      open(client, `${MAIN.replace('G0 X50.\n', '')}`, main);
      await expect.poll(pushes, { timeout: 8000 }).toHaveLength(1);
      expect(pushes()[0].filter(({ severity }) => severity !== 4)).toEqual([]);
      expect(told(pushes()[0])).not.toContain('subprogram-missing');
      await expect.poll(pushes, { timeout: 8000 }).toHaveLength(2);
      expect(told(pushes()[1])).toContain('arc-radius-mismatch');
    });
  });
});
