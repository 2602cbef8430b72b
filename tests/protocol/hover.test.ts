/** Hover over the protocol: Markdown with links to the lines that it speaks of. */
import { afterEach, describe, expect, test } from 'vitest';
import type { Hover, MarkupContent } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL } from './programs.ts';

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('hover by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, uri = ADDRESS) => {
    client = await start();
    await client.initialize(PULL);
    if (uri === ADDRESS) open(client, text);
    else client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'cnc-program', version: 1, text } });
  };
  const ask = (line: number, character: number, uri = ADDRESS) =>
    client.request<Hover | null>('textDocument/hover', { textDocument: { uri }, position: { line, character } });
  const markdown = (hover: Hover | null) => (hover?.contents as MarkupContent | undefined)?.value.split('\n\n') ?? [];

  test('what a move inherits leads to the lines that set it', async () => {
    await begin('G21 G90 G54\nS500 M3\nG0 X0. Y0. Z0.\nG1 X5. F200\nX10.\n');
    const hover = await ask(4, 1);
    expect(hover?.range).toEqual({ start: { line: 4, character: 0 }, end: { line: 4, character: 4 } });
    expect(markdown(hover).at(-1)).toBe(
      `From [line 1](${ADDRESS}#L1): G21 G90 G54 · [line 2](${ADDRESS}#L2): S500 M3 · [line 4](${ADDRESS}#L4): G1 F200`,
    );
  });

  test('a jump leads to its block, and round brackets in a name do not end the link', async () => {
    const uri = 'file:///shop/part%20(2).nc';
    await begin('GOTO 10\nN10 M30\n', uri);
    expect(markdown(await ask(0, 2, uri))).toEqual(['Goes on at N10 in [line 2](file:///shop/part%20%282%29.nc#L2).']);
  });

  test('a thread in a remark', async () => {
    await begin('(SIX M8 HOLES)\n');
    expect(markdown(await ask(0, 6))).toEqual(['**M8** thread M8X1.25: pitch 1.25 mm, tap drill 6.8 mm']);
    expect(await ask(0, 10)).toBeNull();
  });

  test('bad parameters are an error answer', async () => {
    await begin('G21\n');
    const bad = (params: object) => client.ask('textDocument/hover', params);
    expect((await bad({ textDocument: { uri: ADDRESS } })).error?.code).toBe(-32602);
    expect((await bad({ textDocument: { uri: ADDRESS }, position: { line: 9, character: 0 } })).error?.code).toBe(
      -32602,
    );
  });
});
