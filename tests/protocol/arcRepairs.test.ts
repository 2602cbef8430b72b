/** The repairs of a wrong arc over the protocol: the list, the light bulb, the path before a repair is taken. */
import { afterEach, describe, expect, test } from 'vitest';
import type { CodeAction, TextEdit } from 'vscode-languageserver';
import { readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, applied, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };

/** Two corners with K for J, and nothing else. */
const TWO_WRONG = `%
G17 G21 G40 G49 G80 G90
T1 M6 (END MILL D10 3FL)
G0 G54 X-10. Y0. S6000 M3
G43 H1 Z30.
G0 Z2.
G1 Z-2. F300.
Y30.
G2 X0. Y40. I10. K0. F800.
G1 X40.
G2 X50. Y30. I0. K-10.
G1 Y0.
G2 X40. Y-10. I-10. K0.
G1 X0.
G2 X-10. Y0. I0. K10.
G0 Z30.
M5
G91 G28 Z0.
G90
M30
%
`;

interface Item {
  readonly title: string;
  readonly edits: TextEdit[];
  readonly preview?: { line: number; column: number; endColumn: number; text: string }[];
}

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('repairs of arcs by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, options: object = {}): Promise<void> => {
    client = await start();
    await client.initialize(PULL, options);
    open(client, text);
  };
  const repairs = (line: number) =>
    client.request<Item[]>('blockwright/arcRepairs', { textDocument, position: { line, character: 0 } });

  test('lists what may be meant, best first, with the repair of all alike', async () => {
    await begin(TWO_WRONG);
    const items = await repairs(10);
    expect(items[0].title).toBe('Write J-10. (centre X40. Y30., radius 10., 90° clockwise)');
    expect(applied(TWO_WRONG, { changes: { [ADDRESS]: items[0].edits } })).toBe(TWO_WRONG.replace('K-10.', 'J-10.'));
    const all = items.find(({ title }) => title.startsWith('Repair all'))!;
    expect(all.title).toBe('Repair all 2 alike: write J for K');
    expect(applied(TWO_WRONG, { changes: { [ADDRESS]: all.edits } })).toBe(
      TWO_WRONG.replace('K-10.', 'J-10.').replace('K10.', 'J10.'),
    );
    expect(items.length).toBeLessThanOrEqual(7);
  });

  test('offers them under the light bulb too, the first one preferred', async () => {
    await begin(TWO_WRONG);
    const items = await repairs(10);
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
      textDocument,
      range: { start: { line: 10, character: 0 }, end: { line: 10, character: 30 } },
      context: { diagnostics: [] },
    });
    const titles = actions.map(({ title }) => title);
    expect(titles.filter((title) => !title.startsWith('Ignore'))).toEqual(items.map(({ title }) => title));
    expect(actions.filter(({ isPreferred }) => isPreferred).map(({ title }) => title)).toEqual([items[0].title]);
  });

  test('leads from the light bulb to the list, for a client that has it and where there is something in it', async () => {
    await begin(TWO_WRONG, { arcRepairs: true });
    const listAt = async (line: number) => {
      const range = { start: { line, character: 0 }, end: { line, character: 30 } };
      const context = { diagnostics: [] };
      const actions = await client.request<CodeAction[] | null>('textDocument/codeAction', {
        textDocument,
        range,
        context,
      });
      return (actions ?? []).filter(({ title }) => title.startsWith('Repair arc…'));
    };
    const [action, ...others] = await listAt(10);
    expect(others).toEqual([]);
    expect(action.command).toMatchObject({
      command: 'blockwright.repairArc',
      arguments: [{ uri: ADDRESS, line: 10 }],
    });
    expect(action.edit).toBeUndefined();
    expect(action.diagnostics).toHaveLength(1);
    expect(await listAt(9)).toEqual([]);
  });

  test('answers nothing for a line without a wrong arc, and an error for a line that is none', async () => {
    await begin(TWO_WRONG);
    expect(await repairs(9)).toEqual([]);
    expect(
      (await client.ask('blockwright/arcRepairs', { textDocument, position: { line: 99, character: 0 } })).error?.code,
    ).toBe(-32602);
    expect((await client.ask('blockwright/arcRepairs', { textDocument })).error?.code).toBe(-32602);
  });

  test('gives the path that a repair leads to, only the part that is another one', async () => {
    await begin(TWO_WRONG);
    const [best] = await repairs(10);
    const path = (chunk: number, edits: unknown) =>
      client.request<{ data: string }>('blockwright/path', { uri: ADDRESS, chunk, layer: 'ghost', edits });
    const index = JSON.parse(Buffer.from((await path(-1, best.preview)).data, 'base64').toString());
    expect(index.pieces).toHaveLength(1);
    expect(index.pieces[0].firstLine).toBe(10);
    const bytes = Buffer.from((await path(index.pieces[0].id, best.preview)).data, 'base64');
    const piece = readPackedPath(new Uint8Array(bytes).buffer)!;
    // The arc about X40 Y30 from X40 Y40 to X50 Y30, and nothing behind it.
    expect([...piece.bounds].map((value) => Math.round(value * 1000) / 1000)).toEqual([40, 30, -2, 50, 40, -2]);
    const nothing = JSON.parse(Buffer.from((await path(-1, [])).data, 'base64').toString());
    expect(nothing.pieces).toEqual([]);
    expect(
      (await client.ask('blockwright/path', { uri: ADDRESS, chunk: -1, layer: 'ghost', edits: 5 })).error,
    ).toBeDefined();
  });
});
