/** Findings that take their time come by themselves, however the client gets its findings. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { open, PULL, PUSH, pull } from './programs.ts';

const SHOP = '{ "version": 1, "stock": { "shape": "box", "min": [0, 0, -20], "max": [80, 50, 0] } }';
/** Two slots, and on line 15 a rapid from one to the other at depth. */
const TWO_SLOTS = `%
O1 (COVER)
G17 G21 G40 G49 G80 G90 G94 G54
T1 M6 (END MILL D10)
S3000 M3
G0 X10. Y10.
G43 H1 Z2.
G1 Z-5. F200
Y40.
G0 Z2.
X60.
G1 Z-5.
Y10.
G0 Z-3.
X10.
Z30.
M30
%
`;
const WANTED = 'rapid-into-stock at line 15';

const told = (findings: readonly Diagnostic[]): string[] =>
  findings
    .filter(({ code }) => code === 'rapid-into-stock')
    .map(({ code, range }) => `${code} at line ${range.start.line + 1}`);

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('findings that take their time, server as %s', (entry, start) => {
  let client: TestClient;
  let folder: string;
  const options = entry === 'worker' ? { readFile: true } : {};
  const program = (): string => pathToFileURL(join(folder, 'cover.nc')).href;

  beforeEach(async () => {
    client = await start();
    folder = mkdtempSync(join(tmpdir(), 'blockwright-idle-'));
    writeFileSync(join(folder, 'blockwright.json'), SHOP);
    const shop = pathToFileURL(join(folder, 'blockwright.json')).href;
    client.answers.set('blockwright/readFile', ({ uri }) => (uri === shop ? { text: SHOP } : null));
  });

  afterEach(async () => {
    await client.transport.close();
    rmSync(folder, { recursive: true });
  });

  test('a client that pulls and can be told to ask again gets an answer at once, and is told', async () => {
    const asked: number[] = [];
    client.answers.set('workspace/diagnostic/refresh', () => asked.push(1) && null);
    await client.initialize(
      { ...PULL, workspace: { ...PULL.workspace, diagnostics: { refreshSupport: true } } },
      options,
    );
    open(client, TWO_SLOTS, program());
    expect(told(await pull(client, program()))).toEqual([]);
    await expect.poll(async () => asked.length, { timeout: 5000 }).toBeGreaterThan(0);
    await expect.poll(async () => told(await pull(client, program())), { timeout: 5000 }).toEqual([WANTED]);
  });

  test('a client that pulls and cannot be told waits for all', async () => {
    await client.initialize(PULL, options);
    open(client, TWO_SLOTS, program());
    expect(told(await pull(client, program()))).toEqual([WANTED]);
    client.notify('textDocument/didChange', {
      textDocument: { uri: program(), version: 2 },
      contentChanges: [{ range: { start: { line: 3, character: 0 }, end: { line: 3, character: 0 } }, text: '(A)\n' }],
    });
    expect(told(await pull(client, program()))).toEqual(['rapid-into-stock at line 16']);
  });

  test('a client that is pushed to is pushed to again', async () => {
    await client.initialize(PUSH, options);
    open(client, TWO_SLOTS, program());
    const { params } = await client.notice('textDocument/publishDiagnostics', ({ uri }) => uri === program());
    expect(told(params.diagnostics as Diagnostic[])).toEqual([]);
    await client.notice(
      'textDocument/publishDiagnostics',
      ({ uri, diagnostics }) => uri === program() && told(diagnostics as Diagnostic[])[0] === WANTED,
    );
  });
});
