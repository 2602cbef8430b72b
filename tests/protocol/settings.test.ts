/** The editor's setting and the shop's file, against both entries of the language server. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PLATE, PULL, PUSH, pull } from './programs.ts';

const RULE = 'arc-centre-off-plane';
const severityOf = (findings: readonly Diagnostic[]) => findings.find((finding) => finding.code === RULE)?.severity;
const settingsKnown = { ...PULL, workspace: { ...PULL.workspace, configuration: true } };

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('settings, server as %s', (name, start) => {
  let client: TestClient;
  let folder: string;
  let program: string;
  let shopFile: string;

  beforeEach(async () => {
    client = await start();
    folder = mkdtempSync(join(tmpdir(), 'blockwright-shop-'));
    mkdirSync(join(folder, 'parts'));
    program = pathToFileURL(join(folder, 'parts', 'plate one.nc')).href;
    shopFile = pathToFileURL(join(folder, 'blockwright.json')).href;
  });

  afterEach(async () => {
    await client.transport.close();
    rmSync(folder, { recursive: true });
  });

  /** Puts the shop's file where the server finds it: on disk, or with the client for a server that cannot read. */
  const writeShopFile = (text: string): void => {
    writeFileSync(join(folder, 'blockwright.json'), text);
    client.answers.set('blockwright/readFile', ({ uri }) => (uri === shopFile ? { text } : null));
  };
  const options = name === 'worker' ? { readFile: true } : {};
  const rulesAnswer = (severity: string) => () => [{ [RULE]: severity }];

  test('the editor’s setting is asked for and obeyed', async () => {
    client.answers.set('workspace/configuration', rulesAnswer('hint'));
    await client.initialize(settingsKnown, options);
    open(client, PLATE);
    expect(severityOf(await pull(client))).toBe(4);
    client.answers.set('workspace/configuration', rulesAnswer('off'));
    client.notify('workspace/didChangeConfiguration', { settings: null });
    await expect.poll(async () => severityOf(await pull(client))).toBe(undefined);
  });

  test('a change of settings right behind the opening leaves nobody waiting', async () => {
    client.answers.set('workspace/configuration', rulesAnswer('hint'));
    await client.initialize(settingsKnown, options);
    open(client, PLATE);
    client.notify('workspace/didChangeConfiguration', { settings: null });
    expect(severityOf(await pull(client))).toBe(4);
  });

  test('a client without settings gives them at the start, or tells of a change', async () => {
    await client.initialize(PULL, { ...options, rules: { [RULE]: 'warning', nonsense: 7 } });
    open(client, PLATE);
    expect(severityOf(await pull(client))).toBe(2);
    client.notify('workspace/didChangeConfiguration', { settings: { blockwright: { rules: { [RULE]: 'hint' } } } });
    await expect.poll(async () => severityOf(await pull(client))).toBe(4);
  });

  test('the nearest shop’s file goes before the editor’s setting', async () => {
    writeShopFile(`{ "version": 1, "rules": { "${RULE}": "warning" } }`);
    client.answers.set('workspace/configuration', rulesAnswer('off'));
    await client.initialize(settingsKnown, options);
    open(client, PLATE, program);
    expect(severityOf(await pull(client, program))).toBe(2);
  });

  test('a shop’s file that changes on disk is read again', async () => {
    writeShopFile(`{ "version": 1, "rules": { "${RULE}": "warning" } }`);
    await client.initialize(PULL, options);
    open(client, PLATE, program);
    expect(severityOf(await pull(client, program))).toBe(2);
    writeShopFile(`{ "version": 1, "rules": { "${RULE}": "hint" } }`);
    client.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: shopFile, type: 2 }] });
    await expect.poll(async () => severityOf(await pull(client, program))).toBe(4);
  });

  test('what stands in an editor counts before it is saved, and the last good one while it is wrong', async () => {
    writeShopFile('{ "version": 1 }');
    await client.initialize(PULL, options);
    open(client, PLATE, program);
    expect(severityOf(await pull(client, program))).toBe(1);
    const text = `{ "version": 1, "rules": { "${RULE}": "hint" } }`;
    client.notify('textDocument/didOpen', { textDocument: { uri: shopFile, languageId: 'json', version: 1, text } });
    await expect.poll(async () => severityOf(await pull(client, program))).toBe(4);
    expect(await pull(client, shopFile)).toEqual([]);
    client.notify('textDocument/didChange', {
      textDocument: { uri: shopFile, version: 2 },
      contentChanges: [
        { range: { start: { line: 0, character: 2 }, end: { line: 0, character: 11 } }, text: '"vision"' },
      ],
    });
    const problems = await pull(client, shopFile);
    expect(problems[0]).toMatchObject({ severity: 1, range: { start: { line: 0, character: 2 } } });
    expect(severityOf(await pull(client, program))).toBe(4);
    client.notify('textDocument/didClose', { textDocument: { uri: shopFile } });
    await expect.poll(async () => severityOf(await pull(client, program))).toBe(1);
  });

  test('a client that checks the schema itself is told only what the schema cannot', async () => {
    await client.initialize(PULL, { ...options, shopFileSchema: true });
    const textDocument = { uri: shopFile, languageId: 'json', version: 1 };
    const openShopFile = (text: string) =>
      client.notify('textDocument/didOpen', { textDocument: { ...textDocument, text } });
    openShopFile('{ "vision": 1 }');
    expect(await pull(client, shopFile)).toEqual([]);
    openShopFile('{ "version": 1, "tools": [{ "number": 1, "kind": "tap", "thread": "M999" }] }');
    expect((await pull(client, shopFile)).map((problem) => problem.message)).toEqual([expect.stringContaining('M999')]);
  });

  test('a wrong shop’s file that nobody has open is told of at its own place', async () => {
    writeShopFile('{ "version": 1,\n  "vision": 2 }');
    await client.initialize(PUSH, options);
    open(client, PLATE, program);
    const { params } = await client.notice('textDocument/publishDiagnostics', ({ uri }) => uri === shopFile);
    expect((params.diagnostics as Diagnostic[])[0].range.start).toEqual({ line: 1, character: 2 });
  });

  test('a profile in a file of its own is taken', async () => {
    const profileText = '{ "base": "rs274ngc" }';
    const text = '{ "version": 1, "profile": "mill.json" }';
    writeShopFile(text);
    writeFileSync(join(folder, 'mill.json'), profileText);
    client.answers.set('blockwright/readFile', ({ uri }) => {
      if (uri === shopFile) return { text };
      return String(uri).endsWith('/mill.json') ? { text: profileText } : null;
    });
    await client.initialize(PULL, options);
    const twoOfOneGroup = 'G21 G90\nG0 G1 X1. F100\nM30\n';
    open(client, twoOfOneGroup, program);
    open(client, twoOfOneGroup, ADDRESS);
    const severity = async (uri: string) =>
      (await pull(client, uri)).find((finding) => finding.code === 'modal-conflict')?.severity;
    expect([await severity(program), await severity(ADDRESS)]).toEqual([1, 2]);
  });
});
