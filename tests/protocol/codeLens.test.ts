/** Lenses that tell what comes of a tool and what is called, over the protocol. */
import { afterEach, describe, expect, test } from 'vitest';
import type { CodeLens } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PLATE, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const SETTINGS = {
  ...PULL,
  workspace: {
    ...PULL.workspace,
    configuration: true,
    didChangeConfiguration: { dynamicRegistration: true },
    codeLens: { refreshSupport: true },
  },
};

const CALLS = `O1
T1 M6 (END MILL D10)
G0 X0. Y0. Z5.
M98 P5 L3
M98 P5
T2 M6
G0 Z50.
M30
O5 (SLOT)
G90 G1 Z-1. F100.
G91 X10. F200.
G90 G0 Z5.
M99
`;

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('lenses by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, capabilities: object = PULL, options?: object) => {
    client = await start();
    const offered = await client.initialize(capabilities, options);
    open(client, text);
    return offered;
  };
  const lenses = async () => {
    const found = await client.request<CodeLens[] | null>('textDocument/codeLens', { textDocument });
    return found?.map(({ range, command }) => `${range.start.line} ${command?.title}`);
  };

  test('tools have time, cut length, depth and feeds', async () => {
    expect(await begin(PLATE.replace('K10.', 'J10.'))).toHaveProperty('codeLensProvider');
    expect(await lenses()).toEqual(['3 6.5 s, cuts 22 mm, to Z-1, F200', '9 21 s, cuts 32 mm, to Z-12, F100']);
    const found = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument });
    expect(found.map(({ command }) => command?.command)).toEqual(['', '']);
  });

  test('calls tell what they call, subprograms how often they are', async () => {
    await begin(CALLS);
    expect(await lenses()).toEqual([
      '1 27 s, cuts 64 mm, to Z-1, F100–200',
      '3 O5 SLOT, line 9, called 4 times in all',
      '4 O5 SLOT, line 9, called 4 times in all',
      '5 0.3 s, cuts nothing',
      '8 called 4 times',
    ]);
  });

  test('a setting switches them off, and the client is told to ask again', async () => {
    let refreshed = 0;
    let isOn = true;
    client = await start();
    client.answers.set('workspace/codeLens/refresh', () => {
      refreshed++;
      return null;
    });
    client.answers.set('workspace/configuration', (params) =>
      (params.items as { section: string }[]).map(({ section }) => (section === 'blockwright.codeLens' ? isOn : null)),
    );
    await client.initialize(SETTINGS);
    open(client, PLATE);
    expect(await lenses()).toHaveLength(2);
    isOn = false;
    client.notify('workspace/didChangeConfiguration', { settings: null });
    await expect.poll(lenses).toBeUndefined();
    await expect.poll(() => refreshed).toBe(1);
  });

  test('a client without settings gives them at the start', async () => {
    await begin(PLATE, PULL, { codeLens: false });
    expect(await lenses()).toBeUndefined();
    client.notify('workspace/didChangeConfiguration', { settings: { blockwright: { codeLens: true } } });
    await expect.poll(lenses).toHaveLength(2);
  });

  test('a tool that does nothing has none', async () => {
    await begin('T1 M6\nT2 M6\nG0 X0. Y0. Z5.\nG1 X10. F100.\nM30\n');
    expect(await lenses()).toEqual(['1 6 s, cuts 10 mm, to Z5, F100']);
  });

  test('nothing above nothing, an error answer for bad parameters', async () => {
    await begin('G0 X1.\n');
    expect(await lenses()).toBeUndefined();
    expect((await client.ask('textDocument/codeLens', {})).error?.code).toBe(-32602);
    expect((await client.ask('textDocument/codeLens', { textDocument: { uri: 'untitled:none' } })).error?.code).toBe(
      -32602,
    );
  });
});
