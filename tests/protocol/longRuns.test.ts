/** Loops that run long or never end: the server answers meanwhile, shows how far it is, and stops when it is told to. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Hover } from 'vscode-languageserver';
import { type Answer, startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { codes, open, PLATE, PULL, pull } from './programs.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS1000 M3\nG0 X0. Y0. Z5.\n';
const ENDLESS = `${HEAD}WHILE [1 EQ 1] DO1\nG1 X1. F100\nEND1\nM30\n`;
/** Never the same twice: only a limit ends it. */
const COUNTING = `${HEAD}#1=0\nWHILE [#1 GE 0] DO1\n#1=#1+1\nEND1\nM30\n`;
const OTHER = 'untitled:other.nc';

interface Progress {
  readonly token: string;
  readonly value: { readonly kind: string; readonly percentage?: number };
}

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('long runs, server as %s', (entry, start) => {
  let client: TestClient;
  let folder: string;
  let shop: string;

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'blockwright-long-'));
    client = await start();
    client.answers.set('blockwright/readFile', ({ uri }) =>
      uri === pathToFileURL(join(folder, 'blockwright.json')).href ? { text: shop } : null,
    );
  });

  afterEach(async () => {
    await client.transport.close();
    rmSync(folder, { recursive: true });
  });

  /** Starts a client in a shop with these limits; a short program is open beside. */
  const begin = async (limits: object): Promise<string> => {
    shop = JSON.stringify({ limits });
    writeFileSync(join(folder, 'blockwright.json'), shop);
    const options = entry === 'worker' ? { readFile: true } : {};
    await client.initialize({ ...PULL, window: { workDoneProgress: true } }, options);
    open(client, PLATE, OTHER);
    return pathToFileURL(join(folder, 'long.nc')).href;
  };
  const hover = () =>
    client.request<Hover | null>('textDocument/hover', {
      textDocument: { uri: OTHER },
      position: { line: 6, character: 6 },
    });
  const progress = (): Progress[] =>
    client.notices.filter(({ method }) => method === '$/progress').map(({ params }) => params as unknown as Progress);

  test('a loop that never ends is found at once', async () => {
    const uri = await begin({});
    open(client, ENDLESS, uri);
    expect(codes(await pull(client, uri))).toEqual(['4 endless-loop']);
  });

  test('while a loop counts on and on, other programs are answered, and how far it is is shown', async () => {
    const uri = await begin({ seconds: 3, steps: 1_000_000_000 });
    open(client, COUNTING, uri);
    let found: string[] | undefined;
    const waiting = pull(client, uri).then((findings) => {
      found = codes(findings);
    });
    let answers = 0;
    while (found === undefined) {
      expect((await hover())?.contents).toBeDefined();
      if (found === undefined) answers++;
    }
    await waiting;
    expect(found).toEqual(['5 endless-loop']);
    expect(answers).toBeGreaterThan(10);
    const shown = progress();
    expect(shown[0].value).toMatchObject({ kind: 'begin' });
    const shares = shown.flatMap(({ value }) => (value.kind === 'report' ? [value.percentage ?? -1] : []));
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares[0]).toBeGreaterThanOrEqual(0);
    expect(shares.at(-1)).toBeGreaterThan(50);
    await expect.poll(() => progress().at(-1)?.value.kind).toBe('end');
  });

  test('who stops it is answered so, and the next change starts it again', async () => {
    const uri = await begin({ seconds: 60, steps: 1_000_000_000 });
    open(client, COUNTING, uri);
    const waiting: Promise<Answer> = client.ask('textDocument/diagnostic', { textDocument: { uri } });
    const { params } = await client.notice('$/progress', ({ value }) => (value as { kind: string }).kind === 'report');
    client.notify('window/workDoneProgress/cancel', { token: params.token });
    expect((await waiting).error?.code).toBe(-32802);
    client.notify('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: COUNTING.replace('#1=#1+1', '#1=#1-1') }],
    });
    expect(codes(await pull(client, uri))).toEqual([]);
  });

  test('limits of the shop’s file are in force, and changing them runs again', async () => {
    const uri = await begin({ steps: 3000 });
    open(client, COUNTING, uri);
    const cutOff = async () =>
      (await pull(client, uri)).find(({ code }) => code === 'not-executed')?.message.toString();
    expect(await cutOff()).toMatch(/cut off here after 3000 blocks, in pass \d+ of the loop of line 6/);
    shop = JSON.stringify({ limits: { steps: 30_000 } });
    writeFileSync(join(folder, 'blockwright.json'), shop);
    const uris = [pathToFileURL(join(folder, 'blockwright.json')).href];
    client.notify('workspace/didChangeWatchedFiles', { changes: uris.map((one) => ({ uri: one, type: 2 })) });
    await expect.poll(cutOff).toMatch(/cut off here after 30000 blocks, in pass \d+/);
    const pass = Number(/in pass (\d+)/.exec((await cutOff()) ?? '')?.[1]);
    expect(pass).toBeGreaterThan(5000);
    // Three blocks a pass; the run is cut off at the end of a heap of passes.
    expect(pass).toBeLessThanOrEqual(12_000);
  });
});
