/** What a program could do without, as hints that editors show dimmed. */
import { afterEach, describe, expect, test } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL, PUSH } from './programs.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS3000 M3\nG0 X0. Y0.\nG43 H1 Z5.\n';
const TEXT = `#1=5.\n${HEAD}G90 G1 Z-1. F100\nG90 X5.\nGOTO 10\nX7.\nX8.\nN10 G0 Z50.\nM30\n`;
const tagSupport = { valueSet: [1, 2] };
const textDocument = { uri: ADDRESS };

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('what is not needed, by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const dimmed = (items: readonly Diagnostic[]): string[] =>
    items
      .filter(({ tags }) => tags?.includes(1))
      .map(({ range, severity, code, source }) => {
        expect([severity, code, source]).toEqual([4, undefined, 'blockwright']);
        const { start: from, end } = range;
        return `${from.line}:${from.character}-${end.line}:${end.character}`;
      });
  const report = (previousResultId?: string) =>
    client.request<{ kind: string; resultId: string; items: Diagnostic[] }>('textDocument/diagnostic', {
      textDocument,
      previousResultId,
    });
  const fading = (more: object = {}) => ({
    ...PULL,
    textDocument: { ...PULL.textDocument, publishDiagnostics: { tagSupport } },
    workspace: { ...PULL.workspace, ...more },
  });
  /** Resolves when the server has asked for the findings to be pulled again. */
  const refreshed = (): Promise<void> =>
    new Promise((resolve) => {
      client.answers.set('workspace/diagnostic/refresh', () => {
        resolve();
        return null;
      });
    });

  test('a client that is not told of more gets them at once', async () => {
    client = await start();
    await client.initialize(fading());
    open(client, TEXT.replace('GOTO 10', 'G0 X6.'));
    expect(dimmed((await report()).items)).toEqual(['0:0-0:2', '7:0-7:3']);
  });

  test('any other when nothing came in for a while; they keep their lines through edits', async () => {
    client = await start();
    await client.initialize(fading({ diagnostics: { refreshSupport: true } }));
    const again = refreshed();
    open(client, TEXT);
    const first = await report();
    expect(dimmed(first.items)).toEqual([]);
    await again;
    const second = await report(first.resultId);
    expect(dimmed(second.items)).toEqual(['0:0-0:2', '9:0-10:3']);
    expect((await report(second.resultId)).kind).toBe('unchanged');
    client.notify('textDocument/didChange', {
      textDocument: { ...textDocument, version: 2 },
      contentChanges: [{ range: { start: { line: 5, character: 0 }, end: { line: 5, character: 0 } }, text: '(A)\n' }],
    });
    expect(dimmed((await report(second.resultId)).items)).toEqual(['0:0-0:2', '10:0-11:3']);
    const later = refreshed();
    client.notify('textDocument/didChange', {
      textDocument: { ...textDocument, version: 3 },
      contentChanges: [
        { range: { start: { line: 10, character: 0 }, end: { line: 10, character: 3 } }, text: 'X[#1]' },
      ],
    });
    expect(dimmed((await report()).items)).toEqual(['0:0-0:2']);
    await later;
    expect(dimmed((await report()).items)).toEqual(['10:0-11:3']);
  });

  test('they are pushed to a client that pulls nothing', async () => {
    client = await start();
    await client.initialize({ textDocument: { ...PUSH.textDocument, publishDiagnostics: { tagSupport } } });
    open(client, TEXT);
    const items = ({ diagnostics }: Record<string, unknown>): string[] => dimmed(diagnostics as Diagnostic[]);
    await client.notice('textDocument/publishDiagnostics', (params) => items(params).length === 2);
  });

  test('the setting switches them off and on again', async () => {
    client = await start();
    const capabilities = fading();
    await client.initialize(capabilities, { dim: false });
    open(client, TEXT);
    expect(dimmed((await report()).items)).toEqual([]);
    client.notify('workspace/didChangeConfiguration', { settings: { blockwright: { dim: true } } });
    await expect.poll(async () => dimmed((await report()).items), { timeout: 10_000 }).toHaveLength(2);
    client.notify('workspace/didChangeConfiguration', { settings: { blockwright: { dim: false } } });
    await expect.poll(async () => dimmed((await report()).items), { timeout: 10_000 }).toHaveLength(0);
  });

  test('a client that cannot dim gets none', async () => {
    client = await start();
    await client.initialize(PULL);
    open(client, TEXT);
    expect((await report()).items.filter(({ tags }) => tags !== undefined)).toEqual([]);
  });
});
