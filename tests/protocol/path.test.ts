/** The path's own channels: a message port into the worker, a pipe on descriptor 3 of the process. */
import { afterEach, describe, expect, test } from 'vitest';
import { createPipeChannel } from '../../client/src/path/pipeChannel.ts';
import { readPackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import { isPathIndex } from '../../server/src/core/geometry/pathRequest.ts';
import { isPathMove, type PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import type { PathSection } from '../../server/src/core/geometry/pathSummary.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PLATE, PULL, pull } from './programs.ts';

type Ask = (request: object) => Promise<ArrayBuffer>;

const overPort = async (): Promise<{ client: TestClient; ask: Ask }> => {
  const client = await startWorkerServer();
  const port = client.transport.pathPort!;
  let id = 0;
  const ask: Ask = (request) =>
    new Promise((resolve, reject) => {
      port.once('message', ({ data, failure }) => (data ? resolve(data) : reject(new Error(failure))));
      port.postMessage({ id: ++id, request });
    });
  return { client, ask };
};

const overPipe = async (): Promise<{ client: TestClient; ask: Ask }> => {
  const client = await startNodeServer({ pathPipe: true });
  const channel = createPipeChannel(client.transport.process!);
  return { client, ask: (request) => channel.request(request as never) };
};

describe.each([
  ['port', overPort],
  ['pipe', overPipe],
] as const)('path over a %s', (_name, start) => {
  let client: TestClient;
  const list = { uri: ADDRESS, version: 0, chunk: -1, layer: 'program' };

  afterEach(async () => {
    await client.transport.close();
  });

  test('the list, a piece, and word of a change', async () => {
    const started = await start();
    client = started.client;
    await client.initialize(PULL);
    open(client, PLATE);
    await pull(client);
    const index = JSON.parse(new TextDecoder().decode(await started.ask(list)));
    expect(index.pieces).toHaveLength(1);
    expect(index.findings.length).toBeGreaterThan(0);
    const piece = await started.ask({ ...list, chunk: index.pieces[0].id });
    expect(piece.byteLength).toBeGreaterThan(index.pieces[0].vertices * 16);
    client.notify('textDocument/didChange', {
      textDocument: { uri: ADDRESS, version: 2 },
      contentChanges: [{ range: { start: { line: 5, character: 16 }, end: { line: 5, character: 16 } }, text: '1' }],
    });
    const { params } = await client.notice('blockwright/pathChanged', ({ uri }) => uri === ADDRESS);
    expect(params.version).toBeGreaterThan(index.version);
  });

  test('the times of a piece, the contour, another program, and the sums', async () => {
    const started = await start();
    client = started.client;
    await client.initialize(PULL);
    open(client, PLATE);
    await pull(client);
    const index = JSON.parse(new TextDecoder().decode(await started.ask(list)));
    expect(isPathIndex(index)).toBe(true);
    expect(index.summary.sections.map(({ tool }: PathSection) => [tool.number, tool.kind, tool.diameter])).toEqual([
      [1, 'end-mill', 6],
      [2, 'drill', 5],
    ]);
    expect(index.summary.offsets).toEqual(['G54']);
    const { id, vertices, seconds } = index.pieces[0];
    const times = readPackedTimes(await started.ask({ ...list, chunk: id, what: 'times' }));
    expect(times?.seconds).toHaveLength(vertices);
    expect(times?.seconds.at(-1)).toBeCloseTo(seconds, 6);
    expect(seconds).toBeCloseTo(index.summary.seconds, 9);
    const contour = JSON.parse(new TextDecoder().decode(await started.ask({ ...list, layer: 'contour' })));
    expect(contour.pieces).toEqual([]);
    open(client, PLATE.replace('X15.', 'X16.'), 'untitled:second.nc');
    await pull(client, 'untitled:second.nc');
    const other = await started.ask({ ...list, uri: 'untitled:second.nc', layer: 'other' });
    expect(JSON.parse(new TextDecoder().decode(other)).pieces).toHaveLength(1);
  });

  test('a move in words and numbers', async () => {
    const started = await start();
    client = started.client;
    await client.initialize(PULL);
    open(client, PLATE);
    const ask = (params: object) => client.request<PathMove | null>('blockwright/pathMove', params);
    const drilled = await ask({ uri: ADDRESS, line: 12, at: [5, 5, -11.9] });
    expect(isPathMove(drilled)).toBe(true);
    expect(drilled).toMatchObject({ kind: 'line', tool: 2, feed: 100, offset: 'G54', pass: 1 });
    expect(drilled?.text.join(' ')).toContain('pecks');
    expect(await ask({ uri: ADDRESS, line: 0 })).toBeNull();
    for (const wrong of [
      {},
      { uri: ADDRESS },
      { uri: ADDRESS, line: 999 },
      { uri: ADDRESS, line: 12, pass: 3 },
      { uri: ADDRESS, line: 12, at: [1, 2] },
      { uri: 'untitled:none.nc', line: 0 },
    ]) {
      await expect(ask(wrong)).rejects.toThrow('-32602');
    }
  });

  test('a program that is not open yet is refused, and told of once it runs', async () => {
    const started = await start();
    client = started.client;
    await client.initialize(PULL);
    await expect(started.ask(list)).rejects.toThrow('is not open');
    await expect(started.ask({ uri: 5 })).rejects.toThrow();
    open(client, PLATE);
    await client.notice('blockwright/pathChanged', ({ uri }) => uri === ADDRESS);
    expect((await started.ask(list)).byteLength).toBeGreaterThan(0);
  });
});
