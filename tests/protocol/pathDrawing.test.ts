/** `blockwright/svg`: the path as a drawing, over the protocol. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import { startNodeServer, type TestClient } from './client.ts';
import { ADDRESS, open, PLATE, PULL } from './programs.ts';

let client: TestClient;
const drawing = { uri: ADDRESS, plane: 'XY', units: 'mm' };

beforeEach(async () => {
  client = await startNodeServer();
  await client.initialize(PULL);
});

afterEach(() => client.transport.close());

test('draws the newest text, without what is hidden', async () => {
  open(client, PLATE.replace('K10.', 'J10.'));
  const { svg } = await client.request<{ svg: string }>('blockwright/svg', drawing);
  expect(svg).toContain('A10 10 0 0 0 10 -10');
  expect(svg).toContain('<title id="title">plate.nc, path in XY</title>');
  client.notify('textDocument/didChange', {
    textDocument: { uri: ADDRESS, version: 2 },
    contentChanges: [{ range: { start: { line: 7, character: 0 }, end: { line: 7, character: 3 } }, text: '' }],
  });
  const hidden = { ...drawing, hiddenKinds: ['arc'] };
  expect((await client.request<{ svg: string }>('blockwright/svg', hidden)).svg).not.toContain('A10 10');
});

test.each([{ plane: 'XZ' }, { units: 'cm' }, { uri: 1 }, { hiddenKinds: ['milling'] }, { hiddenSections: [-1] }])(
  'refuses %j',
  async (wrong) => {
    open(client, PLATE);
    await expect(client.request('blockwright/svg', { ...drawing, ...wrong })).rejects.toThrow('-32602');
  },
);

test('a program that is not open is an error answer', async () => {
  await expect(client.request('blockwright/svg', drawing)).rejects.toThrow('-32602');
});
