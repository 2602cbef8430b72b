/** Colours of words over the protocol, by range. */
import { afterEach, describe, expect, test } from 'vitest';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL } from './programs.ts';

const TEXT = 'G21 G90\nT1 M6\nG0 X1. Y2.\nG1 Z-1. F200\nX5.\n';
const textDocument = { uri: ADDRESS };

interface Provider {
  readonly legend: { readonly tokenTypes: string[]; readonly tokenModifiers: string[] };
  readonly range: boolean;
  readonly full: boolean;
}

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('colours of words by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (options?: object): Promise<Provider> => {
    client = await start();
    const { semanticTokensProvider } = await client.initialize(PULL, options);
    open(client, TEXT);
    return semanticTokensProvider as Provider;
  };
  const ask = (startLine: number, endLine: number, character = 0) =>
    client.ask('textDocument/semanticTokens/range', {
      textDocument,
      range: { start: { line: startLine, character: 0 }, end: { line: endLine, character } },
    });
  /** Line, text and kind with modifiers of each token. */
  const told = (data: number[], { legend }: Provider): string[] => {
    const lines = TEXT.split('\n');
    let [line, column] = [0, 0];
    const found: string[] = [];
    for (let i = 0; i < data.length; i += 5) {
      const [lineStep, columnStep, length, kind, bits] = data.slice(i, i + 5) as [
        number,
        number,
        number,
        number,
        number,
      ];
      column = lineStep > 0 ? columnStep : column + columnStep;
      line += lineStep;
      const modifiers = legend.tokenModifiers.filter((_, bit) => (bits & (1 << bit)) !== 0);
      found.push([line, lines[line]!.slice(column, column + length), legend.tokenTypes[kind], ...modifiers].join(' '));
    }
    return found;
  };

  test('the words of a range, by the kinds of the server for a client that colours them', async () => {
    const provider = await begin({ tokenKinds: true });
    expect(provider).toMatchObject({ range: true, full: false });
    const { data } = (await ask(2, 4)).result as { data: number[] };
    expect(told(data, provider)).toEqual([
      '2 G0 motion',
      '2 X1. axis rapid',
      '2 Y2. axis rapid',
      '3 G1 motion',
      '3 Z-1. axis',
      '3 F200 feed',
    ]);
  });

  test('by the kinds of the protocol for any other, also past the end of the range that it knows', async () => {
    const provider = await begin();
    const { data } = (await ask(4, 99)).result as { data: number[] };
    expect(told(data, provider)).toEqual(['4 X5. parameter inherited']);
  });

  test('what an edit changes is told with the next answer', async () => {
    const provider = await begin({ tokenKinds: true });
    client.notify('textDocument/didChange', {
      textDocument: { ...textDocument, version: 2 },
      contentChanges: [{ range: { start: { line: 3, character: 0 }, end: { line: 3, character: 2 } }, text: 'G0' }],
    });
    const { data } = (await ask(4, 5)).result as { data: number[] };
    expect(told(data, provider)).toEqual(['4 X5. axis inherited rapid']);
  });

  test('bad parameters are an error answer', async () => {
    await begin();
    expect((await client.ask('textDocument/semanticTokens/range', { textDocument })).error?.code).toBe(-32602);
    expect((await ask(77, 78)).error?.code).toBe(-32602);
    expect((await ask(3, 2)).error?.code).toBe(-32602);
  });
});
