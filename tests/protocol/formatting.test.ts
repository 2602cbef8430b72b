/** Formatting, sequence numbers and lines of the other unit over the protocol. */
import { afterEach, describe, expect, test } from 'vitest';
import type { CodeAction, TextEdit } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, applied, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const options = { tabSize: 2, insertSpaces: true };
const DISABLED = { textDocument: { ...PULL.textDocument, codeAction: { disabledSupport: true } } };
const UNTIDY = '%\no1(x  y)\ng21g90g17\nn10 g0x.5y1.\nX 2.  (a remark)\nm30\nnotes of  mine\n%\n';
const TIDY = '%\nO1 (x  y)\nG21 G90 G17\nN10 G0 X.5 Y1.\nX2.  (a remark)\nM30\nnotes of  mine\n%\n';

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, capabilities: object = DISABLED, initializationOptions?: object) => {
    client = await start();
    const offered = await client.initialize(capabilities, initializationOptions);
    open(client, text);
    return offered;
  };
  const changed = (text: string, edits: TextEdit[] | null) => applied(text, { changes: { [ADDRESS]: edits ?? [] } });
  const format = () => client.request<TextEdit[] | null>('textDocument/formatting', { textDocument, options });
  const formatLines = (line: number, endLine: number, endCharacter = 0) =>
    client.request<TextEdit[] | null>('textDocument/rangeFormatting', {
      textDocument,
      options,
      range: { start: { line, character: 0 }, end: { line: endLine, character: endCharacter } },
    });
  const enter = (line: number, ch = '\n') =>
    client.request<TextEdit[] | null>('textDocument/onTypeFormatting', {
      textDocument,
      options,
      ch,
      position: { line, character: 0 },
    });
  const actions = async (range: object, only?: string[]) =>
    (await client.request<CodeAction[] | null>('textDocument/codeAction', {
      textDocument,
      range,
      context: { diagnostics: [], triggerKind: 1, ...(only === undefined ? {} : { only }) },
    })) ?? [];
  const START = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

  test('a program is formatted, and not what is no program', async () => {
    const offered = await begin(UNTIDY);
    expect(offered).toMatchObject({
      documentFormattingProvider: true,
      documentRangeFormattingProvider: true,
      documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
    });
    expect(changed(UNTIDY, await format())).toBe(TIDY);
    await client.transport.close();
    await begin(TIDY);
    expect(await format()).toBeNull();
  });

  test('the lines of a selection are formatted, and no others', async () => {
    await begin('g0x1.\ng0x2.\ng0x3.\nm30\n');
    expect(changed('g0x1.\ng0x2.\ng0x3.\nm30\n', await formatLines(1, 2))).toBe('g0x1.\nG0 X2.\ng0x3.\nm30\n');
    expect(changed('g0x1.\ng0x2.\ng0x3.\nm30\n', await formatLines(1, 2, 3))).toBe('g0x1.\nG0 X2.\nG0 X3.\nm30\n');
  });

  test('Enter formats the line that it finished, never the one that it began', async () => {
    const text = 'g0x1.\ng0x2.\n';
    await begin(text);
    expect(changed(text, await enter(1))).toBe('G0 X1.\ng0x2.\n');
    expect(await enter(0)).toBeNull();
    expect(await enter(1, ';')).toBeNull();
  });

  test('the style comes from the settings', async () => {
    const { workspace, ...others } = PULL;
    client = await start();
    client.answers.set('workspace/configuration', ({ items }) =>
      (items as { section: string }[]).map(({ section }) =>
        section === 'blockwright.format' ? { letterCase: 'lower', leadingZero: 'write', trailingPoint: 'write' } : null,
      ),
    );
    await client.initialize({ ...others, workspace: { ...workspace, configuration: true } });
    open(client, 'G21 G90\nG0 X.5Y10\nM30\n');
    expect(changed('G21 G90\nG0 X.5Y10\nM30\n', await format())).toBe('g21 g90\ng0 x0.5 y10.\nm30\n');
  });

  test('a client that is not asked tells its style at the start', async () => {
    await begin('G21\nN5 GOTO 7\nN7 M30\n', DISABLED, { format: { sequenceNumbers: 'renumber' } });
    expect(changed('G21\nN5 GOTO 7\nN7 M30\n', await format())).toBe('G21\nN10 GOTO 20\nN20 M30\n');
  });

  test('what cannot be done is told', async () => {
    await begin('g21\nN5 GOTO #1\nM30\n', DISABLED, { format: { sequenceNumbers: 'renumber' } });
    expect(changed('g21\nN5 GOTO #1\nM30\n', await format())).toBe('G21\nN5 GOTO #1\nM30\n');
    const { params } = await client.notice('window/showMessage', () => true);
    expect(params.message).toBe(
      'Block numbers are left as they are. Line 2 works out the block number that it leads to, and would miss it under another number.',
    );
  });

  test('source actions number the blocks, only where source actions are wanted', async () => {
    const text = 'N1 G21 G90\nN7 GOTO 9\nG0 X1.\nN9 M30\n';
    await begin(text);
    expect((await actions(START)).map(({ kind }) => kind)).not.toContain('source.renumber');
    const all = await actions(START, ['source']);
    expect(all.map(({ title, kind }) => `${kind}: ${title}`)).toEqual([
      'source.renumber: Renumber N by 10',
      'source.addSequenceNumbers: Add sequence numbers by 10',
      'source.removeSequenceNumbers: Remove sequence numbers that nothing leads to',
    ]);
    const results = all.map(({ edit }) => applied(text, edit!));
    expect(results).toEqual([
      'N10 G21 G90\nN20 GOTO 30\nG0 X1.\nN30 M30\n',
      'N10 G21 G90\nN20 GOTO 40\nN30 G0 X1.\nN40 M30\n',
      'G21 G90\nGOTO 9\nG0 X1.\nN9 M30\n',
    ]);
    const one = await actions(START, ['source.addSequenceNumbers']);
    expect(one.map(({ kind }) => kind)).toEqual(['source.addSequenceNumbers']);
  });

  test('an action that cannot be done says why, to a client that shows it', async () => {
    const text = 'N1 #1=3\nN3 GOTO #1\nM30\n';
    await begin(text);
    const [first] = await actions(START, ['source']);
    expect(first.edit).toBeUndefined();
    expect(first.disabled?.reason).toContain('Line 2 works out');
    await client.transport.close();
    await begin(text, PULL);
    expect(await actions(START, ['source'])).toEqual([]);
  });

  test('selected lines are converted from inch to mm', async () => {
    const text = 'G21 G90 G17 G94\nG0 X0. Y0. Z5.\nG1 X1. F10.\nG2 X2. Y1. I0. J1.\nG0 Z5.\nM30\n';
    await begin(text);
    const range = { start: { line: 2, character: 0 }, end: { line: 4, character: 0 } };
    const action = (await actions(range)).find(({ title }) => title === 'Convert these lines from inch to mm');
    expect(action?.kind).toBe('refactor.rewrite');
    expect(applied(text, action!.edit!)).toBe(
      'G21 G90 G17 G94\nG0 X0. Y0. Z5.\nG1 X25.4 F254.\nG2 X50.8 Y25.4 I0. J25.4\nG0 Z5.\nM30\n',
    );
    const inOne = { start: { line: 2, character: 0 }, end: { line: 2, character: 5 } };
    expect((await actions(inOne)).some(({ title }) => title.startsWith('Convert'))).toBe(false);
  });

  test('lines that were just pasted need not be selected', async () => {
    const before = 'G21 G90 G17 G94\nG0 X0. Y0. Z5.\n';
    const behind = 'G0 Z5.\nM30\n';
    await begin(before + behind);
    const at = { line: 2, character: 0 };
    client.notify('textDocument/didChange', {
      textDocument: { uri: ADDRESS, version: 2 },
      contentChanges: [{ range: { start: at, end: at }, text: 'G1 X1. F10.\nG2 X2. Y1. I0. J1.\n' }],
    });
    const cursor = (line: number) => ({ start: { line, character: 0 }, end: { line, character: 0 } });
    const offeredAt = async (line: number) =>
      (await actions(cursor(line))).find(({ title }) => title === 'Convert the pasted lines from inch to mm');
    const action = await offeredAt(4);
    expect(applied(`${before}G1 X1. F10.\nG2 X2. Y1. I0. J1.\n${behind}`, action!.edit!)).toBe(
      `${before}G1 X25.4 F254.\nG2 X50.8 Y25.4 I0. J25.4\n${behind}`,
    );
    expect(await offeredAt(1)).toBeUndefined();
    client.notify('textDocument/didChange', {
      textDocument: { uri: ADDRESS, version: 3 },
      contentChanges: [
        { range: { start: { line: 3, character: 4 }, end: { line: 3, character: 5 } }, text: '3' },
        { range: { start: { line: 2, character: 4 }, end: { line: 2, character: 5 } }, text: '3' },
      ],
    });
    expect(await offeredAt(4)).toBeUndefined();
  });

  test('bad parameters are an error answer, and a shop’s file is not formatted', async () => {
    await begin('G21\n');
    const bad: [string, object][] = [
      ['textDocument/formatting', { options }],
      ['textDocument/formatting', { textDocument: { uri: 'file:///nowhere.nc' }, options }],
      ['textDocument/rangeFormatting', { textDocument, options }],
      [
        'textDocument/rangeFormatting',
        { textDocument, options, range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } } },
      ],
      ['textDocument/onTypeFormatting', { textDocument, options, ch: '\n' }],
      ['textDocument/onTypeFormatting', { textDocument, options, ch: '\n', position: { line: 9, character: 0 } }],
    ];
    for (const [method, params] of bad) expect((await client.ask(method, params)).error?.code, method).toBe(-32602);
    const shop = 'file:///shop/blockwright.json';
    client.notify('textDocument/didOpen', {
      textDocument: { uri: shop, languageId: 'json', version: 1, text: '{ "version":1 }' },
    });
    expect(await client.request('textDocument/formatting', { textDocument: { uri: shop }, options })).toBeNull();
  });
});
