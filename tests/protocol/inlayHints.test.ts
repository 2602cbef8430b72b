/** Hints between the words over the protocol, and their settings. */
import { afterEach, describe, expect, test } from 'vitest';
import type { InlayHint } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const SETTINGS = {
  ...PULL,
  workspace: {
    ...PULL.workspace,
    configuration: true,
    didChangeConfiguration: { dynamicRegistration: true },
    inlayHint: { refreshSupport: true },
  },
};
const TEXT = 'G21 G90\n#1=2.5\nG0 X10. Y0. Z5.\nG91\nG1 X#1 F100.\nM30\n';

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('hints by a server as %s', (_name, start) => {
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
  const hints = (first = 0, last = 6) =>
    client.request<InlayHint[] | null>('textDocument/inlayHint', {
      textDocument,
      range: { start: { line: first, character: 0 }, end: { line: last, character: 0 } },
    });
  const labels = async () => (await hints())?.map(({ label }) => label);

  test('stand behind their words, with a sentence', async () => {
    expect(await begin(TEXT)).toHaveProperty('inlayHintProvider', true);
    expect(await hints()).toEqual([
      {
        position: { line: 4, character: 6 },
        label: '= 2.5',
        tooltip: 'X#1 comes to X2.5.',
        paddingLeft: true,
      },
      {
        position: { line: 4, character: 6 },
        label: '→ 12.5',
        tooltip: 'X is 12.5 from the work zero.',
        paddingLeft: true,
      },
    ]);
  });

  test('have a blank on the right too where the program has none', async () => {
    await begin('G21 G90\n#1=2\nG0 X#1Y#1 Z#1\nM30\n');
    expect((await hints())?.map(({ paddingRight }) => paddingRight ?? false)).toEqual([true, false, false]);
  });

  test('only in the lines asked for; a range past the end goes to the end', async () => {
    await begin(TEXT);
    expect(await hints(0, 3)).toBeNull();
    expect(await hints(4, 900)).toHaveLength(2);
  });

  test('after an edit they are those of the new text', async () => {
    await begin(TEXT);
    expect(await labels()).toEqual(['= 2.5', '→ 12.5']);
    client.notify('textDocument/didChange', {
      textDocument: { uri: ADDRESS, version: 2 },
      contentChanges: [{ range: { start: { line: 1, character: 3 }, end: { line: 1, character: 4 } }, text: '7' }],
    });
    expect(await labels()).toEqual(['= 7.5', '→ 17.5']);
  });

  test('each kind has a setting, and the client is told to ask again', async () => {
    let refreshed = 0;
    let own: Record<string, boolean> | false = { position: true };
    client = await start();
    client.answers.set('workspace/inlayHint/refresh', () => {
      refreshed++;
      return null;
    });
    client.answers.set('workspace/configuration', (params) =>
      (params.items as { section: string }[]).map(({ section }) => (section === 'blockwright.inlayHints' ? own : null)),
    );
    await client.initialize(SETTINGS);
    open(client, TEXT);
    expect(await labels()).toEqual(['= 2.5', '→ 12.5']);
    own = { values: false };
    client.notify('workspace/didChangeConfiguration', { settings: null });
    await expect.poll(labels).toEqual(['→ 12.5']);
    await expect.poll(() => refreshed).toBe(1);
    own = false;
    client.notify('workspace/didChangeConfiguration', { settings: null });
    await expect.poll(labels).toBeUndefined();
  });

  test('a client without settings gives them at the start', async () => {
    await begin(TEXT, PULL, { inlayHints: { position: false } });
    expect(await labels()).toEqual(['= 2.5']);
  });

  test('bad parameters are an error answer, a shop’s file has none', async () => {
    await begin(TEXT);
    const ask = async (params: object) => (await client.ask('textDocument/inlayHint', params)).error?.code;
    const range = { start: { line: 0, character: 0 }, end: { line: 1, character: 0 } };
    expect(await ask({ textDocument })).toBe(-32602);
    expect(await ask({ textDocument, range: { start: range.end, end: range.start } })).toBe(-32602);
    const past = { line: 99, character: 0 };
    expect(await ask({ textDocument, range: { start: past, end: past } })).toBe(-32602);
    expect(await ask({ textDocument: { uri: 'untitled:none' }, range })).toBe(-32602);
    const uri = 'file:///shop/blockwright.json';
    client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'json', version: 1, text: '{}' } });
    expect(await client.request('textDocument/inlayHint', { textDocument: { uri }, range })).toBeNull();
  });
});
