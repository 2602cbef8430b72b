/** Definitions, references, renaming, call hierarchy, links and symbols over the protocol, across the files of a folder. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
  DocumentHighlight,
  DocumentLink,
  Location,
  LocationLink,
  SymbolInformation,
  WorkspaceEdit,
} from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { open, PULL } from './programs.ts';

const MAIN = `O1 (MAIN)
G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S3000 M3
G0 X0. Y0. Z5.
#100=5.
G1 X#100 F200.
X20.
M98 P20
N10 M98 P30
M30
O30
G0 Z9.
M99
`;
const HOLES = 'O20 (HOLES)\nT2\nG91 X1. F50.\nG90\nM99\n';
const OTHER = 'O2 (OTHER)\nT7 M6 (DRILL D5)\nM98 P20\nM98 P30\nM30\n';

const PREPARES = {
  ...PULL,
  textDocument: { ...PULL.textDocument, rename: { prepareSupport: true }, definition: { linkSupport: true } },
};

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('navigation, server as %s', (entry, start) => {
  let client: TestClient;
  let folder: string;
  const files = new Map<string, string>();

  beforeEach(async () => {
    client = await start();
    folder = join(mkdtempSync(join(tmpdir(), 'blockwright-nav-')), 'parts');
    mkdirSync(folder);
    files.clear();
    client.answers.set('blockwright/readFile', ({ uri, most }) => {
      const text = files.get(String(uri));
      if (text === undefined) return null;
      return typeof most === 'number' ? { text: text.slice(0, most), size: text.length } : { text };
    });
    client.answers.set('blockwright/listFolder', ({ uri }) => {
      const inside = [...files.keys()].filter((file) => file.slice(0, file.lastIndexOf('/')) === uri);
      return { files: inside.map((file) => decodeURIComponent(file.slice(file.lastIndexOf('/') + 1))) };
    });
  });

  afterEach(async () => {
    await client.transport.close();
    rmSync(dirname(folder), { recursive: true });
  });

  const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;
  const write = (name: string, text: string): string => {
    writeFileSync(join(folder, name), text);
    files.set(uriOf(name), text);
    return uriOf(name);
  };
  const begin = async (capabilities: object = PULL): Promise<Record<string, unknown>> => {
    const { capabilities: offered } = await client.request<{ capabilities: Record<string, unknown> }>('initialize', {
      processId: null,
      rootUri: pathToFileURL(folder).href,
      capabilities,
      initializationOptions: entry === 'worker' ? { readFile: true, listFolder: true } : {},
    });
    client.notify('initialized', {});
    return offered;
  };
  /** A folder with a main program that is open, a subprogram's file and another caller. */
  const shop = async (capabilities?: object): Promise<string> => {
    write('holes.nc', HOLES);
    write('other.nc', OTHER);
    await begin(capabilities);
    const uri = write('main.nc', MAIN);
    open(client, MAIN, uri);
    return uri;
  };
  const at = (uri: string, line: number, character: number, more: object = {}) => ({
    textDocument: { uri },
    position: { line, character },
    ...more,
  });
  const short = (locations: readonly Location[] | null): string[] =>
    (locations ?? []).map(
      ({ uri, range }) =>
        `${uri.slice(uri.lastIndexOf('/') + 1)} ${range.start.line}:${range.start.character}-${range.end.character}`,
    );
  const definition = (uri: string, line: number, character: number) =>
    client.request<Location[] | null>('textDocument/definition', at(uri, line, character));

  test('what is offered', async () => {
    expect(await begin()).toMatchObject({
      definitionProvider: true,
      referencesProvider: true,
      documentHighlightProvider: true,
      renameProvider: true,
      callHierarchyProvider: true,
      documentLinkProvider: { resolveProvider: false },
      workspaceSymbolProvider: true,
    });
  });

  test('definitions: modes, variables, programs here and in other files', async () => {
    const uri = await shop();
    expect(short(await definition(uri, 7, 0))).toEqual([
      'main.nc 6:9-14',
      'main.nc 3:0-5',
      'main.nc 1:0-3',
      'main.nc 1:24-27',
      'main.nc 2:0-2',
      'main.nc 1:20-23',
      'main.nc 1:4-7',
      'main.nc 6:0-2',
    ]);
    expect(short(await definition(uri, 6, 6))).toEqual(['main.nc 5:0-4']);
    expect(short(await definition(uri, 8, 5))).toEqual(['holes.nc 0:0-3']);
    expect(short(await definition(uri, 9, 9))).toEqual(['main.nc 11:0-3']);
    expect(short(await definition(uri, 12, 0))).toContain('main.nc 3:0-5');
    expect(await definition(uri, 5, 7)).toBeNull();
    expect(short(await definition(uri, 13, 1))).toEqual(['main.nc 9:4-11']);
  });

  test('M99 of a file leads to its callers in other files, open and on disk', async () => {
    await shop();
    open(client, HOLES, uriOf('holes.nc'));
    expect(short(await definition(uriOf('holes.nc'), 4, 0))).toEqual(['main.nc 8:0-7', 'other.nc 2:0-7']);
  });

  test('definitions as links say what they are of', async () => {
    const uri = await shop(PREPARES);
    const links = await client.request<LocationLink[]>('textDocument/definition', at(uri, 8, 5));
    expect(links).toEqual([
      {
        targetUri: uriOf('holes.nc'),
        targetRange: { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } },
        targetSelectionRange: { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } },
        originSelectionRange: { start: { line: 8, character: 5 }, end: { line: 8, character: 7 } },
      },
    ]);
  });

  test('references, with and without what sets them, across files', async () => {
    const uri = await shop();
    const references = (line: number, character: number, includeDeclaration = true) =>
      client.request<Location[] | null>(
        'textDocument/references',
        at(uri, line, character, { context: { includeDeclaration } }),
      );
    expect(short(await references(6, 10))).toEqual(['main.nc 6:9-14', 'main.nc 7:0-4']);
    expect(short(await references(6, 10, false))).toEqual(['main.nc 7:0-4']);
    expect(short(await references(5, 1))).toEqual(['main.nc 5:0-4', 'main.nc 6:4-8']);
    expect(short(await references(8, 5))).toEqual(['main.nc 8:5-7', 'holes.nc 0:1-3', 'other.nc 2:5-7']);
    expect(short(await references(9, 9))).toEqual(['main.nc 9:9-11', 'main.nc 11:1-3']);
    expect(await references(0, 6)).toBeNull();
  });

  test('more uses than are listed are told of', async () => {
    await begin();
    open(client, `G1 X0. F100.\n${Array.from({ length: 6000 }, (_, i) => `X${i + 1}.`).join('\n')}\n`, 'untitled:long');
    const params = at('untitled:long', 0, 8, { context: { includeDeclaration: true } });
    expect((await client.request<Location[]>('textDocument/references', params)).length).toBe(5000);
    const { params: told } = await client.notice('window/showMessage', () => true);
    expect(told.message).toBe('The first 5,000 uses are listed, and there are more.');
  });

  test('highlights say what is set and what is read', async () => {
    const uri = await shop();
    const found = await client.request<DocumentHighlight[]>('textDocument/documentHighlight', at(uri, 6, 6));
    expect(found.map(({ range, kind }) => [range.start.line, kind])).toEqual([
      [5, 3],
      [6, 2],
    ]);
    expect(await client.request('textDocument/documentHighlight', at(uri, 7, 1))).toBeNull();
  });

  test('a program number changes in all files, versions only where they are open', async () => {
    const uri = await shop(PREPARES);
    expect(await client.request('textDocument/prepareRename', at(uri, 8, 6))).toEqual({
      range: { start: { line: 8, character: 5 }, end: { line: 8, character: 7 } },
      placeholder: '20',
    });
    const edit = await client.request<WorkspaceEdit>('textDocument/rename', at(uri, 8, 6, { newName: 'O1234' }));
    const changes = edit.documentChanges?.map((change) => {
      if (!('edits' in change)) return change;
      const { uri: file, version } = change.textDocument;
      const [first] = change.edits as { newText: string; range: Location['range'] }[];
      return [
        file.slice(file.lastIndexOf('/') + 1),
        version,
        change.edits.length,
        first.range.start.line,
        first.newText,
      ];
    });
    expect(changes).toEqual([
      ['main.nc', 1, 1, 8, '1234'],
      ['holes.nc', null, 1, 0, '1234'],
      ['other.nc', null, 1, 2, '1234'],
    ]);
  });

  test('what would change the program is refused in words', async () => {
    const uri = await shop(PREPARES);
    const refused = async (method: string, params: object) => (await client.ask(method, params)).error;
    const taken = await refused('textDocument/rename', at(uri, 8, 6, { newName: '2' }));
    expect(taken).toMatchObject({
      code: -32803,
      message: 'O2 is in use already, in line 1 of other.nc. Take one that is free.',
    });
    open(client, 'X#5221\n', uriOf('system.nc'));
    expect(await refused('textDocument/prepareRename', at(uriOf('system.nc'), 0, 3))).toMatchObject({
      message: expect.stringMatching(/control’s own/),
    });
    expect((await refused('textDocument/rename', at(uri, 8, 6)))?.code).toBe(-32602);
  });

  test('the call hierarchy goes both ways across files', async () => {
    const uri = await shop();
    const prepare = async (line: number, character: number) =>
      (await client.request<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', at(uri, line, character)))[0];
    const main = await prepare(4, 0);
    expect(main).toMatchObject({ name: 'O1', detail: 'MAIN', uri });
    const out = await client.request<CallHierarchyOutgoingCall[]>('callHierarchy/outgoingCalls', { item: main });
    expect(out.map(({ to, fromRanges }) => [to.name, to.uri, fromRanges[0].start.line])).toEqual([
      ['O20', uriOf('holes.nc'), 8],
      ['O30', uri, 9],
    ]);
    const into = await client.request<CallHierarchyIncomingCall[]>('callHierarchy/incomingCalls', { item: out[0].to });
    expect(into.map(({ from, fromRanges }) => [from.name, from.uri, fromRanges[0].start.line])).toEqual([
      ['O1', uri, 8],
      ['O2', uriOf('other.nc'), 2],
    ]);
    const own = await client.request<CallHierarchyIncomingCall[]>('callHierarchy/incomingCalls', {
      item: await prepare(12, 0),
    });
    expect(own.map(({ from }) => from.uri)).toEqual([uri]);
    expect(await prepare(8, 5)).toMatchObject({ name: 'O20', detail: 'HOLES' });
  });

  test('links stand on calls of other files only', async () => {
    const uri = await shop();
    expect(await client.request<DocumentLink[]>('textDocument/documentLink', { textDocument: { uri } })).toEqual([
      { range: { start: { line: 8, character: 0 }, end: { line: 8, character: 7 } }, target: uriOf('holes.nc') },
    ]);
    open(client, 'G21\nM98 P30\nM30\n', uriOf('none.nc'));
    const none = { textDocument: { uri: uriOf('none.nc') } };
    expect(await client.request('textDocument/documentLink', none)).toBeNull();
  });

  test('symbols of the open programs and of the files beside them', async () => {
    await shop();
    const find = async (query: string) =>
      (await client.request<SymbolInformation[]>('workspace/symbol', { query })).map(
        ({ name, containerName }) => `${containerName} ${name}`,
      );
    expect(await find('')).toEqual([
      'holes.nc O20 HOLES',
      'main.nc O1 MAIN',
      'main.nc T1 END MILL D10',
      'main.nc O30',
      'other.nc O2 OTHER',
      'other.nc T7 DRILL D5',
    ]);
    expect(await find('drill')).toEqual(['other.nc T7 DRILL D5']);
    expect((await client.ask('workspace/symbol', {})).error?.code).toBe(-32602);
  });

  test('a shop’s file and bad parameters', async () => {
    await begin();
    const uri = 'file:///shop/blockwright.json';
    client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'json', version: 1, text: '{}' } });
    open(client, 'G21\n');
    const methods = ['definition', 'references', 'documentHighlight', 'prepareRename', 'prepareCallHierarchy'];
    for (const method of methods) {
      const name = `textDocument/${method}`;
      expect(await client.request(name, at(uri, 0, 0, { context: {} })), name).toBeNull();
      for (const params of [
        {},
        at('untitled:plate.nc', 99, 0),
        at('untitled:none', 0, 0),
        { textDocument: { uri: 'untitled:plate.nc' } },
      ])
        expect((await client.ask(name, params)).error?.code, name).toBe(-32602);
    }
    expect(await client.request('textDocument/documentLink', { textDocument: { uri } })).toBeNull();
    expect((await client.ask('textDocument/documentLink', {})).error?.code).toBe(-32602);
    for (const method of ['callHierarchy/incomingCalls', 'callHierarchy/outgoingCalls'])
      expect((await client.ask(method, { item: { uri } })).error?.code).toBe(-32602);
  });
});
