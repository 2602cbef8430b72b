/** The server's own answers about a block: its status, its sentences, the blocks that cut at a place. */
import { afterEach, describe, expect, test } from 'vitest';
import type { CuttingBlocks } from '../../server/src/core/features/cutHere.ts';
import type { Explanation } from '../../server/src/core/features/explain.ts';
import type { StatusAt } from '../../server/src/core/features/statusAt.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PLATE, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const at = (line: number) => ({ textDocument, position: { line, character: 0 } });

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('a block by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text = PLATE): Promise<void> => {
    client = await start();
    await client.initialize(PULL);
    open(client, text);
  };

  test('its status in one line, with the time of the program', async () => {
    await begin();
    const status = await client.request<StatusAt>('blockwright/status', at(6));
    expect(status.text).toBe('G1 G90 G54 T1 S3000 F200 · X0. Y0. Z-1.');
    expect(status.time).toMatch(/^\d+(\.\d+)? s$/);
    expect(status.sentences[0]).toMatch(/^Line 7 is reached after /);
  });

  test('its sentences, with what it inherits', async () => {
    await begin();
    const told = await client.request<Explanation>('blockwright/explain', at(13));
    expect(told).toMatchObject({ line: 13, text: 'N120 X15.', before: 'X5. Y5. Z5.', after: 'X15. Y5. Z5.' });
    expect(told.modes.find(({ word }) => word === 'G83')).toMatchObject({ line: 12, isOwn: false });
    expect(told.modes.find(({ word }) => word === 'T2')).toMatchObject({ line: 9, text: 'DRILL D5' });
  });

  test('the blocks that cut at a place, in the units of the program', async () => {
    await begin('G20 G90 G54\nT1 M6 (END MILL D0.5)\nG0 X0. Y0. Z1.\nG1 Z-.1 F9.\nX2.\nM30\n');
    const ask = (point: string) =>
      client.request<CuttingBlocks & { problem?: string }>('blockwright/blocksAt', { ...at(3), point });
    expect(await ask('X1 Y.2')).toMatchObject({
      blocks: [{ line: 4, label: 'Line 5: X2.', detail: 'T1 END MILL D0.5, 0.2 in beside its path, tip at Z-0.1' }],
      more: 0,
    });
    expect((await ask('X1 Y.3')).blocks).toEqual([]);
    expect((await ask('left of the hole')).problem).toMatch(/^Write the place as in a program/);
  });

  test('bad parameters are an error answer', async () => {
    await begin();
    for (const method of ['blockwright/status', 'blockwright/explain', 'blockwright/blocksAt']) {
      expect((await client.ask(method, { textDocument, point: 'X1 Y1' })).error?.code, method).toBe(-32602);
      expect((await client.ask(method, { ...at(99), point: 'X1 Y1' })).error?.code, method).toBe(-32602);
      const unknown = { ...at(1), textDocument: { uri: 'untitled:other.nc' }, point: 'X1 Y1' };
      expect((await client.ask(method, unknown)).error?.code, method).toBe(-32602);
    }
    expect((await client.ask('blockwright/blocksAt', at(1))).error?.code).toBe(-32602);
  });
});
