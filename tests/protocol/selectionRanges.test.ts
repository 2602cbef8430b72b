/** Growing selections over the protocol. */
import { afterEach, describe, expect, test } from 'vitest';
import type { SelectionRange } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PLATE, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('growing selections by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string) => {
    client = await start();
    const offered = await client.initialize(PULL);
    open(client, text);
    return offered;
  };
  const chain = (range: SelectionRange | undefined): string[] =>
    range === undefined
      ? []
      : [
          `${range.range.start.line}:${range.range.start.character}-${range.range.end.line}:${range.range.end.character}`,
          ...chain(range.parent),
        ];

  test('one chain a position, each range around the one before', async () => {
    expect(await begin(PLATE)).toHaveProperty('selectionRangeProvider', true);
    const found = await client.request<SelectionRange[]>('textDocument/selectionRange', {
      textDocument,
      positions: [
        { line: 12, character: 9 },
        { line: 16, character: 3 },
      ],
    });
    expect(found.map(chain)).toEqual([
      ['12:9-12:12', '12:5-12:35', '12:0-12:35', '12:0-13:9', '9:0-20:0', '1:0-20:0', '0:0-20:0'],
      ['16:1-16:11', '16:0-16:12', '9:0-20:0', '1:0-20:0', '0:0-20:0'],
    ]);
  });

  test('many positions, none, and bad ones', async () => {
    await begin(PLATE);
    const ask = (params: object) => client.ask('textDocument/selectionRange', params);
    const positions = Array.from({ length: 300 }, (_, i) => ({ line: i % 20, character: i % 30 }));
    expect((await ask({ textDocument, positions })).result).toHaveLength(300);
    expect((await ask({ textDocument, positions: [] })).result).toEqual([]);
    for (const bad of [undefined, {}, [{ line: 1 }], [{ line: 99, character: 0 }], [{ line: -1, character: 0 }]]) {
      expect((await ask({ textDocument, positions: bad })).error?.code, JSON.stringify(bad)).toBe(-32602);
    }
  });
});
