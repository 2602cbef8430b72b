/** The shop's file over the protocol: patterns, profiles in files of their own, mistakes at their places, a first file. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { readConfigurationFile } from '../../server/src/core/machine/configurationFile.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { open, PLATE, PULL, PUSH, pull } from './programs.ts';

/** Two codes of one group: an error under rs274ngc, a warning elsewhere. */
const TWO_MOTIONS = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS1000 M3\nG0 G1 X1. F100\nM30\n';

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('the shop’s file, server as %s', (entry, start) => {
  let client: TestClient;
  let folder: string;
  const files = new Map<string, string>();
  const options = entry === 'worker' ? { readFile: true } : {};

  beforeEach(async () => {
    client = await start();
    folder = mkdtempSync(join(tmpdir(), 'blockwright-shop-'));
    files.clear();
    client.answers.set('blockwright/readFile', ({ uri }) => {
      const text = files.get(String(uri));
      return text === undefined ? null : { text };
    });
  });

  afterEach(async () => {
    await client.transport.close();
    rmSync(folder, { recursive: true });
  });

  const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;

  /** Puts a file where the server finds it: on disk, or with the client for a server that cannot read. */
  const write = (name: string, text: string): string => {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
    files.set(uriOf(name), text);
    return uriOf(name);
  };

  const severity = async (uri: string): Promise<number | undefined> =>
    (await pull(client, uri)).find((finding) => finding.code === 'modal-conflict')?.severity;

  const opened = (name: string, text = TWO_MOTIONS): string => {
    open(client, text, uriOf(name));
    return uriOf(name);
  };

  test('holds by pattern, for a name and for a path', async () => {
    write(
      'blockwright.json',
      '{ "programs": { "strict *": { "profile": "rs274ngc" }, "left/**/*.nc": { "profile": "rs274ngc" } } }',
    );
    await client.initialize(PULL, options);
    const names = ['plate.nc', 'STRICT one.NC', 'left/plate.nc', 'left/a/b.nc', 'right/left.nc'];
    const found = [];
    for (const name of names) found.push(await severity(opened(name)));
    expect(found).toEqual([2, 1, 1, 1, 2]);
  });

  test('a changed profile file is noticed at once, and watched where the client lets it', async () => {
    write('blockwright.json', '{ "profile": "profiles/mill one.json" }');
    const profile = write('profiles/mill one.json', '{ "base": "iso" }');
    const watched: unknown[] = [];
    client.answers.set('client/registerCapability', (params) => {
      watched.push(...(params.registrations as { registerOptions: { watchers: unknown[] } }[]));
      return null;
    });
    const didChangeWatchedFiles = { dynamicRegistration: true, relativePatternSupport: true };
    await client.initialize({ ...PULL, workspace: { ...PULL.workspace, didChangeWatchedFiles } }, options);
    const program = opened('plate.nc');
    expect(await severity(program)).toBe(2);
    expect(JSON.stringify(watched)).toContain(JSON.stringify({ baseUri: uriOf('profiles'), pattern: 'mill*one.json' }));
    write('profiles/mill one.json', '{ "base": "rs274ngc" }');
    // Editors write the same address in several ways.
    const uri = profile.replace('profiles', '%70rofiles');
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 2 }] });
    await expect.poll(() => severity(program)).toBe(1);
  });

  test('a profile file that becomes wrong is told of where it is named, and the last good one stays', async () => {
    const shop = write('blockwright.json', '{\n "profile": "mill.json" }');
    const profile = write('mill.json', '{ "base": "rs274ngc" }');
    await client.initialize(PUSH, options);
    opened('plate.nc');
    const programFindings = async (from: number) => {
      const { params } = await client.notice(
        'textDocument/publishDiagnostics',
        ({ uri }) => uri === uriOf('plate.nc'),
        from,
      );
      return (params.diagnostics as Diagnostic[]).find((one) => one.code === 'modal-conflict')?.severity;
    };
    expect(await programFindings(0)).toBe(1);
    write('mill.json', '{ "bas": "rs274ngc" }');
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: profile, type: 2 }] });
    const { params } = await client.notice('textDocument/publishDiagnostics', ({ uri }) => uri === shop);
    const [problem] = params.diagnostics as Diagnostic[];
    expect(problem.message).toContain('"bas" is not known');
    expect(problem.range).toEqual({ start: { line: 1, character: 12 }, end: { line: 1, character: 23 } });
    const from = client.notices.length;
    client.notify('textDocument/didChange', {
      textDocument: { uri: uriOf('plate.nc'), version: 2 },
      contentChanges: [{ text: `(A LINE MORE)\n${TWO_MOTIONS}` }],
    });
    expect(await programFindings(from)).toBe(1);
  });

  test('an open file is told of as wrong when its profile file becomes so, without any program', async () => {
    const shop = write('blockwright.json', '{ "profile": "mill.json" }');
    const profile = write('mill.json', '{ "base": "iso" }');
    await client.initialize(PUSH, options);
    const textDocument = { uri: shop, languageId: 'json', version: 1, text: '{ "profile": "mill.json" }' };
    client.notify('textDocument/didOpen', { textDocument });
    write('mill.json', '{ "base": "no" }');
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: profile, type: 2 }] });
    const { params } = await client.notice('textDocument/publishDiagnostics', ({ uri }) => uri === shop);
    expect((params.diagnostics as Diagnostic[])[0].message).toContain('"base" is "no"');
  });

  test('each mistake that the schema cannot see is underlined, and the last good file stays in force', async () => {
    const shop = write('blockwright.json', '{ "profile": "rs274ngc" }');
    await client.initialize(PULL, { ...options, shopFileSchema: true });
    const program = opened('plate.nc');
    expect(await severity(program)).toBe(1);
    const mistakes = [
      '{ "tools": [{ "number": 1, "kind": "tap", "thread": «"M999"» }] }',
      '{ "tools": [{ "number": 1, "kind": "tap" },\n { "number": «1», "kind": "tap" }] }',
      '{ "material": «"plate"» }',
      '{ "stock": { "shape": "box",\n "min": [0, «9», 0], "max": [1, 1, 1] } }',
      '{ "machine": { "axes": { "Z": { "min": «0», "max": -400 } } } }',
      '{ "programs": { «"parts/"»: {} } }',
      '{ "programs": { "*.nc": {\n\n "profile": «"no such"» } } }',
    ];
    let version = 1;
    client.notify('textDocument/didOpen', {
      textDocument: { uri: shop, languageId: 'json', version, text: '{ "profile": "rs274ngc" }' },
    });
    for (const marked of mistakes) {
      const text = marked.replace('«', '').replace('»', '');
      client.notify('textDocument/didChange', {
        textDocument: { uri: shop, version: ++version },
        contentChanges: [{ text }],
      });
      const before = marked.slice(0, marked.indexOf('«')).split('\n');
      const length = marked.indexOf('»') - marked.indexOf('«') - 1;
      const start = { line: before.length - 1, character: before[before.length - 1].length };
      const [problem, ...others] = await pull(client, shop);
      expect(problem, marked).toMatchObject({
        severity: 1,
        range: { start, end: { line: start.line, character: start.character + length } },
      });
      expect(others, marked).toEqual([]);
      expect(await severity(program), marked).toBe(1);
    }
    client.notify('textDocument/didChange', {
      textDocument: { uri: shop, version: ++version },
      contentChanges: [{ text: '{}' }],
    });
    await expect.poll(() => severity(program)).toBe(2);
    expect(await pull(client, shop)).toEqual([]);
  });

  test('a first file comes from the tools of the open programs in the folder', async () => {
    await client.initialize(PULL, options);
    opened('plate.nc', PLATE);
    opened('more/cover.nc', PLATE.replace('DRILL D5', 'REAMER D5'));
    open(client, PLATE.replace('T2', 'T9'), 'file:///elsewhere/other.nc');
    const first = await client.request<{ text: string; tools: number }>('blockwright/firstShopFile', {
      folder: pathToFileURL(folder).href,
    });
    expect(first.tools).toBe(3);
    expect(JSON.parse(first.text)).toEqual({
      version: 1,
      units: 'mm',
      tools: [
        { number: 1, kind: 'end-mill', description: '6MM END MILL', diameter: 6 },
        { number: 2, kind: 'drill', description: 'DRILL D5', diameter: 5 },
      ],
      programs: {
        'more/cover.nc': { tools: [{ number: 2, kind: 'reamer', description: 'REAMER D5', diameter: 5 }] },
      },
    });
    expect(readConfigurationFile(first.text).problems).toEqual([]);
  });

  test('a first file without a folder is an error answer', async () => {
    await client.initialize(PULL, options);
    for (const params of [undefined, {}, { folder: 3 }]) {
      expect((await client.ask('blockwright/firstShopFile', params)).error?.code).toBe(-32602);
    }
    const { tools } = await client.request<{ tools: number }>('blockwright/firstShopFile', { folder: 'file:///empty' });
    expect(tools).toBe(0);
  });
});
