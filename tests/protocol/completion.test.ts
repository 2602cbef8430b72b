/** Completions over the protocol: forms of blocks for a client that opens them, plain forms for all others. */
import { afterEach, describe, expect, test } from 'vitest';
import type { CompletionItem, CompletionList, TextEdit } from 'vscode-languageserver';
import { BLOCKS } from '../../server/src/core/blocks/registry.ts';
import { SNIPPETS } from '../../server/src/core/features/snippets.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, applied, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const STOPS = { textDocument: { ...PULL.textDocument, completion: { completionItem: { snippetSupport: true } } } };

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('completions by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, capabilities: object = STOPS, options?: object) => {
    client = await start();
    const offered = await client.initialize(capabilities, options);
    open(client, text);
    return offered;
  };
  const complete = (line: number, character: number) =>
    client.request<CompletionList | null>('textDocument/completion', { textDocument, position: { line, character } });
  const find = (list: CompletionList | null, label: string): CompletionItem =>
    list?.items.find((item) => item.label === label) ?? expect.fail(`${label} is not offered`);
  const taken = (text: string, { textEdit }: CompletionItem) =>
    applied(text, { changes: { [ADDRESS]: [textEdit as TextEdit] } });

  test('a client with the form gets a command for each block, and the typed word goes', async () => {
    const text = 'G21\nN20 helical\nM30\n';
    expect(await begin(text, STOPS, { blockForm: true })).toHaveProperty('completionProvider');
    const list = await complete(1, 11);
    const forms = list?.items.filter(({ command }) => command !== undefined);
    expect(forms?.map(({ label }) => label)).toEqual(BLOCKS.map(({ prefix }) => prefix));
    expect(find(list, 'helical (plain)').sortText! > find(list, 'helical').sortText!).toBe(true);
    const item = find(list, 'helical');
    expect(item).toMatchObject({
      detail: 'Helical bore…',
      filterText: 'N20 helical Helical bore',
      command: { command: 'blockwright.insertBlock', arguments: [{ name: 'helical-bore' }] },
    });
    expect(taken(text, item)).toBe('G21\n\nM30\n');
  });

  test('any other client gets the plain forms with tab stops, by the prefixes of the blocks', async () => {
    const text = 'G21\nN20 helical\nM30\n';
    await begin(text);
    const list = await complete(1, 11);
    expect(list?.items.length).toBe(SNIPPETS.length);
    const item = find(list, 'helical');
    expect(item).toMatchObject({ insertTextFormat: 2, filterText: 'helical Helical bore, three turns' });
    expect(item.command).toBeUndefined();
    expect(taken(text, item)).toMatch(/^G21\nN20 G0 X\$\{1:0\.\} Y\$\{2:0\.\}\nG0 Z/);
  });

  test('without tab stops the numbers are written out', async () => {
    await begin('drill', PULL);
    const item = find(await complete(0, 5), 'drill');
    expect(item.insertTextFormat).toBe(1);
    expect(taken('drill', item)).toBe('G98 G81 X0. Y0. Z-10. R2. F150.\nX20. Y0.\nX40. Y0.\nG80');
  });

  test('numbers are in the program’s units at that place', async () => {
    await begin('G21\ndrill\nG20\ndrill\n');
    expect((find(await complete(1, 5), 'drill').textEdit as TextEdit).newText).toMatch(/Z-\$\{3:10\.\}/);
    expect((find(await complete(3, 5), 'drill').textEdit as TextEdit).newText).toMatch(/Z-\$\{3:0\.3937\}/);
  });

  test('what needs loops is left out for a control without them', async () => {
    client = await start();
    await client.initialize(STOPS);
    client.notify('textDocument/didOpen', {
      textDocument: {
        uri: 'file:///shop/blockwright.json',
        languageId: 'json',
        version: 1,
        text: '{ "profile": "rs274ngc" }',
      },
    });
    client.notify('textDocument/didOpen', {
      textDocument: { uri: 'file:///shop/a.nc', languageId: 'cnc-program', version: 1, text: '' },
    });
    const list = await client.request<CompletionList>('textDocument/completion', {
      textDocument: { uri: 'file:///shop/a.nc' },
      position: { line: 0, character: 0 },
    });
    const labels = list.items.map(({ label }) => label);
    expect(labels).toContain('drill');
    expect(labels).not.toContain('loop');
  });

  test('only where a block begins: not behind words, not in front of them, not in remarks', async () => {
    await begin('G1 hel\nhel X1.\n( hel\n; hel\n\nM3\n  hel  \nhel-pl\n', STOPS, { blockForm: true });
    for (const [line, character] of [
      [0, 6],
      [1, 3],
      [2, 5],
      [3, 5],
      [5, 2],
    ])
      expect(await complete(line, character), `line ${line}`).toBeNull();
    for (const [line, character] of [
      [4, 0],
      [6, 5],
      [7, 6],
    ])
      expect((await complete(line, character))?.items.length, `line ${line}`).toBe(BLOCKS.length + SNIPPETS.length);
  });

  test('a single letter is a word of the program first; with the next one there is more', async () => {
    await begin('S', STOPS, { blockForm: true });
    expect(await complete(0, 1)).toEqual({ isIncomplete: true, items: [] });
  });

  test('words of the block: codes, the word that closes an arc, variables behind their sign', async () => {
    const text = 'G21 G90\nG0 X0. Y0. Z5.\nG8\nG2 X10. Y10. R10. \n#101=4.\n#\nX1\n';
    const offers = await begin(text);
    expect(offers).toMatchObject({ completionProvider: { triggerCharacters: ['#'] } });
    const codes = await complete(2, 2);
    expect(codes?.isIncomplete).toBe(true);
    expect(codes?.items[0]).toMatchObject({ label: 'G8', preselect: true });
    const drill = find(codes, 'G83');
    expect(drill).toMatchObject({ kind: 14, detail: 'drill in pecks, full lift out of the hole each time' });
    expect(taken(text, drill)).toContain('\nG83\n');
    const centre = find(await complete(3, 18), 'I10. J0.');
    const edits = [centre.textEdit as TextEdit, ...(centre.additionalTextEdits ?? [])];
    expect(applied(text, { changes: { [ADDRESS]: edits } })).toContain('\nG2 X10. Y10.  I10. J0.\n');
    expect((await complete(5, 1))?.items.map(({ label }) => label)).toEqual(['#101']);
    // A word that has its number is never replaced.
    expect(await complete(6, 2)).toBeNull();
  });

  test('a call is offered the programs of this file, then those of the files beside it', async () => {
    client = await start();
    await client.initialize(STOPS);
    const opened = (name: string, text: string): string => {
      const uri = `file:///shop/${name}`;
      client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'cnc-program', version: 1, text } });
      return uri;
    };
    const uri = opened('main.nc', 'G21\nM98 P\nM30\nO100 (SLOT)\nM99\n');
    opened('step.nc', 'O2000 (STEP)\nM99\n');
    opened('O0100.nc', 'O100\nM99\n');
    const list = await client.request<CompletionList | null>('textDocument/completion', {
      textDocument: { uri },
      position: { line: 1, character: 5 },
    });
    expect(list?.items.map(({ label, detail }) => [label, detail])).toEqual([
      ['P100', 'SLOT; line 4'],
      ['P2000', 'program O2000; step.nc'],
    ]);
  });

  test('bad parameters are an error answer, a column past the end is not', async () => {
    await begin('G21\n');
    const ask = (params: object) => client.ask('textDocument/completion', params);
    expect((await ask({ textDocument })).error?.code).toBe(-32602);
    expect((await ask({ textDocument, position: { line: 9, character: 0 } })).error?.code).toBe(-32602);
    expect((await ask({ textDocument, position: { line: 1, character: 99 } })).error).toBeUndefined();
  });
});
