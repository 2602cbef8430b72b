/** The same scenes against both entries of the language server: a process over its standard streams, and a worker. */

import { afterEach, describe, expect, test } from 'vitest';
import type { CodeAction, DocumentSymbol, FoldingRange, Hover, SymbolInformation } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, applied, codes, open, PLATE, PULL, PUSH, pull, seeded, WRONG_ARC } from './programs.ts';

const INVALID_PARAMS = -32602;
const textDocument = { uri: ADDRESS };

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
  ['worker without a path port', () => startWorkerServer({ pathPort: false })],
] as const)('server as %s', (name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (capabilities: object, options?: object): Promise<Record<string, unknown>> => {
    client = await start();
    return client.initialize(capabilities, options);
  };
  const hover = (line: number, character: number) =>
    client.request<Hover | null>('textDocument/hover', { textDocument, position: { line, character } });
  const actionsAt = (line: number, from: number, to: number) =>
    client.request<CodeAction[] | null>('textDocument/codeAction', {
      textDocument,
      range: { start: { line, character: from }, end: { line, character: to } },
      context: { diagnostics: [] },
    });
  const change = (version: number, ...contentChanges: object[]) =>
    client.notify('textDocument/didChange', { textDocument: { uri: ADDRESS, version }, contentChanges });
  const insert = (line: number, character: number, text: string) => ({
    range: { start: { line, character }, end: { line, character } },
    text,
  });

  test('a client that pulls gets the finding at the right word, and nothing is pushed', async () => {
    const capabilities = await begin(PULL);
    expect(capabilities.diagnosticProvider).toBeDefined();
    open(client, PLATE);
    const findings = await pull(client);
    expect(codes(findings)).toContain('7 arc-centre-off-plane');
    const finding = findings.find((one) => one.code === 'arc-centre-off-plane')!;
    expect(finding).toMatchObject({
      severity: 1,
      source: 'blockwright',
      range: {
        start: { line: WRONG_ARC.line, character: WRONG_ARC.column },
        end: { line: WRONG_ARC.line, character: WRONG_ARC.endColumn },
      },
    });
    if (name === 'process') expect(finding.codeDescription?.href).toMatch(/^file:.*\/rules\/arc-centre-off-plane\.md$/);
    expect(client.notices.filter((notice) => notice.method === 'textDocument/publishDiagnostics')).toEqual([]);
  });

  test('asking again without a change answers "unchanged", after a change in full', async () => {
    await begin(PULL);
    open(client, PLATE);
    const ask = (previousResultId?: string) =>
      client.request<{ kind: string; resultId: string }>('textDocument/diagnostic', { textDocument, previousResultId });
    const first = await ask();
    expect(first.kind).toBe('full');
    expect(await ask(first.resultId)).toEqual({ kind: 'unchanged', resultId: first.resultId });
    change(2, insert(8, 0, ' '));
    expect((await ask(first.resultId)).kind).toBe('unchanged');
    change(3, insert(0, 0, '( FIRST LINE )\n'));
    expect((await ask(first.resultId)).kind).toBe('full');
  });

  test('a client that does not pull is pushed the findings, and an empty list on closing', async () => {
    const capabilities = await begin(PUSH);
    expect(capabilities.diagnosticProvider).toBeUndefined();
    open(client, PLATE);
    const { params } = await client.notice('textDocument/publishDiagnostics', () => true);
    expect(params.version).toBe(1);
    expect(codes(params.diagnostics as never)).toContain('7 arc-centre-off-plane');
    const before = client.notices.length;
    change(2, {
      range: { start: { line: 7, character: WRONG_ARC.column }, end: { line: 7, character: WRONG_ARC.column + 1 } },
      text: 'J',
    });
    const next = await client.notice('textDocument/publishDiagnostics', ({ version }) => version === 2, before);
    expect(codes(next.params.diagnostics as never)).not.toContain('7 arc-centre-off-plane');
    client.notify('textDocument/didClose', { textDocument });
    const last = await client.notice('textDocument/publishDiagnostics', ({ version }) => version === undefined, before);
    expect(last.params.diagnostics).toEqual([]);
  });

  test('after random edits the findings are those of a program freshly opened', async () => {
    await begin(PULL);
    const random = seeded(7);
    const pieces = [
      'G2 X1. I2.',
      '\n',
      'K3.',
      '(',
      ')',
      'F0',
      'G91',
      '\r\n',
      'T5 M6',
      'G81 Z-3. R1.',
      '',
      'X',
      '%',
      'O',
    ];
    open(client, PLATE);
    let lines = PLATE.split('\n');
    for (let step = 0; step < 40; step++) {
      const line = Math.floor(random() * lines.length);
      const endLine = Math.min(lines.length - 1, line + Math.floor(random() * 2));
      const from = Math.floor(random() * (lines[line].length + 1));
      const to =
        endLine === line ? Math.min(lines[line].length, from + 3) : Math.floor(random() * (lines[endLine].length + 1));
      const text = pieces[Math.floor(random() * pieces.length)];
      change(step + 2, { range: { start: { line, character: from }, end: { line: endLine, character: to } }, text });
      const whole = [
        ...lines.slice(0, line),
        lines[line].slice(0, from) + text + lines[endLine].slice(to),
        ...lines.slice(endLine + 1),
      ].join('\n');
      lines = whole.split(/\r\n|\r|\n/);
      open(client, whole, 'untitled:fresh.nc');
      expect(await pull(client), `step ${step}`).toEqual(await pull(client, 'untitled:fresh.nc'));
    }
  });

  test('the whole text can be replaced', async () => {
    await begin(PULL);
    open(client, PLATE);
    change(2, { text: '' });
    const empty = await pull(client);
    open(client, '', 'untitled:fresh.nc');
    expect(empty).toEqual(await pull(client, 'untitled:fresh.nc'));
    change(3, { text: PLATE });
    expect(codes(await pull(client))).toContain('7 arc-centre-off-plane');
  });

  test('the first quick fix of the wrong word, applied, leaves no finding there', async () => {
    await begin(PULL);
    open(client, PLATE);
    const actions = (await actionsAt(WRONG_ARC.line, WRONG_ARC.column, WRONG_ARC.endColumn))!;
    expect(actions[0]).toMatchObject({ kind: 'quickfix', isPreferred: true });
    expect(actions[0].diagnostics?.[0].code).toBe('arc-centre-off-plane');
    const repaired = applied(PLATE, actions[0].edit!);
    expect(repaired.split('\n')[7]).toBe('N60 G3 X10. Y10. I0. J10.');
    open(client, repaired);
    expect(codes(await pull(client)).filter((code) => code.startsWith('7 '))).toEqual([]);
  });

  test('a client that cannot do document changes gets plain changes', async () => {
    await begin(PUSH);
    open(client, PLATE);
    const actions = (await actionsAt(WRONG_ARC.line, WRONG_ARC.column, WRONG_ARC.column))!;
    expect(Object.keys(actions[0].edit?.changes ?? {})).toEqual([ADDRESS]);
  });

  test.each([
    ['behind the block', 'N60 G3 X10. Y10. I0. K10.'],
    ['before a block that ends in a remark to the end of the line', 'N60 G3 X10. Y10. I0. K10. ; CORNER'],
  ])('a finding is silenced by a remark %s', async (_name, block) => {
    await begin(PULL);
    const text = PLATE.replace('N60 G3 X10. Y10. I0. K10.', block);
    open(client, text);
    const actions = (await actionsAt(7, WRONG_ARC.column, WRONG_ARC.column))!;
    const ignore = actions.find((action) => action.title === 'Ignore arc-centre-off-plane in this block')!;
    const silenced = applied(text, ignore.edit!);
    expect(silenced).toContain('( blockwright-ignore arc-centre-off-plane )');
    open(client, silenced);
    expect((await pull(client)).map((finding) => finding.code)).not.toContain('arc-centre-off-plane');
  });

  test('only quick fixes are offered, and nothing where there is no finding', async () => {
    await begin(PULL);
    open(client, PLATE);
    expect(await actionsAt(5, 0, 3)).toBeNull();
    const refactorings = await client.request('textDocument/codeAction', {
      textDocument,
      range: { start: { line: 7, character: 21 }, end: { line: 7, character: 21 } },
      context: { diagnostics: [], only: ['refactor'] },
    });
    expect(refactorings).toBeNull();
  });

  test('hover tells the word and the block in numbers', async () => {
    await begin(PULL);
    open(client, PLATE.replace('K10.', 'J10.'));
    const onX = (await hover(7, 8))!;
    expect(onX.range).toEqual({ start: { line: 7, character: 7 }, end: { line: 7, character: 11 } });
    const text = (onX.contents as { value: string }).value;
    expect(text).toContain('X to 10 mm (moves +10)');
    expect(text).toContain('Centre X0 Y10, radius 10 mm, 90° counter-clockwise');
    expect(text).toContain('15.708 mm long at 200 mm/min');
    const onCycle = ((await hover(12, 6))!.contents as { value: string }).value;
    expect(onCycle).toContain('in 5 pecks of 3 mm');
    expect(onCycle).toContain('T2');
  });

  test('hover says nothing on an empty line, and takes a column past the end for the end', async () => {
    await begin(PULL);
    open(client, 'G21 G90\n\nG0 X1.\n');
    expect(await hover(1, 0)).toBeNull();
    expect((await hover(2, 5000))?.range?.end.character).toBe(6);
  });

  test('the outline has the program, its tools and their operations', async () => {
    await begin(PULL);
    open(client, PLATE);
    const [program] = await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument });
    expect(program.name).toBe('O1001');
    expect(program.children?.map((tool) => tool.name)).toEqual(['T1 6MM END MILL', 'T2 DRILL D5']);
    expect(program.children?.[0].range).toMatchObject({ start: { line: 3 }, end: { line: 8 } });
    expect(program.children?.[1].children?.map(({ name, detail }) => [name, detail])).toEqual([
      ['2 holes Ø5 to Z-12', 'drill in pecks'],
    ]);
  });

  test('a client that cannot nest gets a flat outline', async () => {
    await begin(PUSH);
    open(client, PLATE);
    const symbols = await client.request<SymbolInformation[]>('textDocument/documentSymbol', { textDocument });
    expect(symbols.map((symbol) => symbol.containerName)).toEqual([
      undefined,
      'O1001',
      'T1 6MM END MILL',
      'O1001',
      'T2 DRILL D5',
    ]);
  });

  test('folding: tape marks, tools, remarks of several lines', async () => {
    await begin(PULL);
    open(client, PLATE);
    const ranges = await client.request<FoldingRange[]>('textDocument/foldingRange', { textDocument });
    const spans = ranges.map(({ startLine, endLine, kind }) => `${startLine}-${endLine} ${kind}`);
    expect(spans).toEqual(expect.arrayContaining(['0-19 region', '3-8 region', '16-17 comment']));
  });

  const position = { line: 0, character: 0 };
  const range = { start: position, end: position };
  test.each([
    ['textDocument/hover', {}],
    ['textDocument/hover', undefined],
    ['textDocument/hover', []],
    ['textDocument/hover', { textDocument }],
    ['textDocument/hover', { textDocument, position: { line: -1, character: 0 } }],
    ['textDocument/hover', { textDocument, position: { line: 0.5, character: 0 } }],
    ['textDocument/hover', { textDocument, position: { line: '0', character: 0 } }],
    ['textDocument/hover', { textDocument, position: { line: 21, character: 0 } }],
    ['textDocument/hover', { textDocument: { uri: 'untitled:none' }, position }],
    ['textDocument/hover', { textDocument: { uri: 5 }, position }],
    ['textDocument/hover', { textDocument: null, position }],
    ['textDocument/diagnostic', {}],
    ['textDocument/diagnostic', { textDocument: { uri: 'untitled:none' } }],
    ['textDocument/documentSymbol', { textDocument: {} }],
    ['textDocument/documentSymbol', { textDocument: { uri: 'untitled:none' } }],
    ['textDocument/foldingRange', {}],
    ['textDocument/foldingRange', { textDocument: { uri: 'untitled:none' } }],
    ['textDocument/codeAction', { textDocument }],
    ['textDocument/codeAction', { textDocument, range: { start: position } }],
    ['textDocument/codeAction', { textDocument, range: { start: { line: 2, character: 0 }, end: position } }],
    [
      'textDocument/codeAction',
      { textDocument, range: { start: position, end: { line: 99, character: 0 } }, context: {} },
    ],
    ['textDocument/codeAction', { textDocument: { uri: 'untitled:none' }, range, context: {} }],
    ['blockwright/path', {}],
    ['blockwright/path', { uri: 'untitled:none' }],
    ['blockwright/path', { uri: ADDRESS, chunk: 'first' }],
  ])('%s with %j is an error for its parameters', async (method, params) => {
    await begin(PULL);
    open(client, PLATE);
    const answer = await client.ask(method, params);
    expect(answer.error?.code).toBe(INVALID_PARAMS);
    expect(answer.result).toBeUndefined();
  });

  test('messages that cannot be read change nothing and end nothing', async () => {
    await begin(PULL);
    open(client, PLATE);
    const before = await pull(client);
    client.notify('textDocument/didOpen', {});
    client.notify('textDocument/didOpen', { textDocument: { uri: 'untitled:x' } });
    client.notify('textDocument/didChange', { textDocument });
    client.notify('textDocument/didChange', { textDocument, contentChanges: [{ text: 5 }] });
    client.notify('textDocument/didChange', { textDocument, contentChanges: [{ text: 'X', range: { start: 1 } }] });
    client.notify('textDocument/didChange', { textDocument: { uri: 'untitled:none' }, contentChanges: [] });
    client.notify('textDocument/didClose', { textDocument: { uri: 'untitled:none' } });
    client.notify('workspace/didChangeConfiguration', {});
    client.notify('workspace/didChangeWatchedFiles', { changes: [null] });
    client.notify('blockwright/unheardOf', { a: 1 });
    expect((await client.ask('blockwright/unheardOf', {})).error?.code).toBe(-32601);
    expect(await pull(client)).toEqual(before);
    expect(client.transport.isAlive()).toBe(true);
  });

  test('a change past the end goes to the end', async () => {
    await begin(PULL);
    open(client, 'G21 G90');
    change(2, insert(40, 7, '\nG3 X1. Y1. I0. K1.'));
    open(client, 'G21 G90\nG3 X1. Y1. I0. K1.', 'untitled:fresh.nc');
    expect(await pull(client)).toEqual(await pull(client, 'untitled:fresh.nc'));
  });

  test('a closed program is not known any more', async () => {
    await begin(PULL);
    open(client, PLATE);
    client.notify('textDocument/didClose', { textDocument });
    expect((await client.ask('textDocument/diagnostic', { textDocument })).error?.code).toBe(INVALID_PARAMS);
  });

  test('a byte order mark and CRLF change no line and no column but the first line’s', async () => {
    await begin(PULL);
    open(client, PLATE);
    const plain = await pull(client);
    open(client, PLATE.replaceAll('\n', '\r\n'), 'untitled:crlf.nc');
    expect(await pull(client, 'untitled:crlf.nc')).toEqual(plain);
    open(client, `\uFEFF${PLATE}`, 'untitled:bom.nc');
    expect(await pull(client, 'untitled:bom.nc')).toEqual(plain);
  });

  test('columns count UTF-16 units: behind a character of two units', async () => {
    await begin(PULL);
    open(client, PLATE.replace('N60 G3', 'N60 (\u{1F600}) G3'));
    const finding = (await pull(client)).find((one) => one.code === 'arc-centre-off-plane');
    expect(finding?.range.start.character).toBe(WRONG_ARC.column + 5);
  });

  test('more than 1,000 findings of a rule are cut off and counted', async () => {
    await begin(PULL);
    open(client, `G21 G90 G17\nF100\n${'G3 X1. Y1. I0. K1.\n'.repeat(1200)}M30\n`);
    const findings = (await pull(client)).filter((finding) => finding.code === 'arc-centre-off-plane');
    expect(findings).toHaveLength(1000);
    expect(findings.at(-1)?.data).toEqual({ more: 200 });
    expect(findings.at(-1)?.message).toContain('200 more');
  });

  test('a request that waits for a long run can be cancelled, and what comes meanwhile is answered', async () => {
    await begin(PULL);
    open(client, `G21 G90 G17\nF100\n${'G1 X1. Y1.\nG3 X2. Y1. I0.5 J0.\n'.repeat(150_000)}M30\n`);
    const waiting = client.ask('textDocument/diagnostic', { textDocument }, 4711);
    client.notify('$/cancelRequest', { id: 4711 });
    expect((await waiting).error?.code).toBe(-32800);
    open(client, PLATE, 'untitled:other.nc');
    expect(codes(await pull(client, 'untitled:other.nc'))).toContain('7 arc-centre-off-plane');
  });

  test('the path is answered in base64, and its changes are told from then on', async () => {
    await begin(PULL);
    open(client, PLATE);
    const answer = await client.request<{ version: number; data: string }>('blockwright/path', { uri: ADDRESS });
    const index = JSON.parse(Buffer.from(answer.data, 'base64').toString());
    expect(index.pieces.length).toBeGreaterThan(0);
    const from = client.notices.length;
    change(2, insert(6, 5, ' '));
    await client.notice('blockwright/pathChanged', ({ uri }) => uri === ADDRESS, from);
  });

  test('shutdown is answered', async () => {
    await begin(PULL);
    expect(await client.request('shutdown', undefined)).toBeNull();
  });
});
