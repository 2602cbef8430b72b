/** Generated blocks over the protocol: kinds, the form at a place, the block that values make, its path before it is there. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };

/** A program with an empty line 6, the tool's diameter in its remark. */
const PLATE = `%
O1
G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S4000 M3
G0 G43 H1 X5. Y5. Z30.

M30
%
`;
const EMPTY_LINE = 6;

interface Result {
  readonly lines?: string[];
  readonly problems: { parameter?: string; message: string }[];
  readonly words: { parameter?: string; message: string }[];
  readonly facts: { name: string; label: string; text: string }[];
  readonly given: Record<string, { value: string; from: string }>;
  readonly kept: Record<string, string>;
  readonly raw: Record<string, string>;
  readonly version: number;
}

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('generated blocks by a server as %s', (_name, start) => {
  let client: TestClient;

  beforeEach(async () => {
    client = await start();
    await client.initialize(PULL, { blockForm: true });
  });
  afterEach(() => client.transport.close());

  const place = (more: object = {}) => ({
    textDocument,
    line: EMPTY_LINE,
    replaced: 1,
    name: 'helical-bore',
    ...more,
  });
  const block = (values: Record<string, string>, more: object = {}) =>
    client.request<Result>('blockwright/block', place({ values, ...more }));
  const codeOf = async (method: string, params: object): Promise<number | undefined> =>
    (await client.ask(`blockwright/${method}`, params)).error?.code;

  test('lists the kinds, and knows the block that a line stands in', async () => {
    open(client, PLATE);
    const { kinds, here, isFree } = await client.request<{ kinds: { name: string }[]; here?: object; isFree: boolean }>(
      'blockwright/blocks',
      { textDocument, line: EMPTY_LINE },
    );
    expect(isFree).toBe(true);
    expect(kinds.map(({ name }) => name)).toContain('helical-bore');
    expect(here).toBeUndefined();
    const { lines } = await block({ bore: '18', depth: '6', at: '40,20' });
    const text = PLATE.replace('\n\n', `\n${lines!.join('\n')}\n`);
    open(client, text, 'untitled:with.nc');
    const asked = (line: number) =>
      client.request<{
        isFree: boolean;
        here?: { edited: boolean; values: object; firstLine: number; lastLine: number };
      }>('blockwright/blocks', { textDocument: { uri: 'untitled:with.nc' }, line });
    expect((await asked(EMPTY_LINE + 2)).here).toMatchObject({
      edited: false,
      values: { bore: '18', tool: '10', depth: '6', at: '40,20' },
      firstLine: EMPTY_LINE,
      lastLine: EMPTY_LINE + lines!.length - 1,
    });
    open(
      client,
      text.replace(/^G3 .*$/m, (line) => `${line} (BY HAND)`),
      'untitled:with.nc',
    );
    expect((await asked(EMPTY_LINE)).here?.edited).toBe(true);
    expect((await asked(EMPTY_LINE - 1)).here).toBeUndefined();
    const isFreeIn = async (numbered: string) => {
      open(client, PLATE.replace('\n\n', `\n${numbered}\n`), 'untitled:with.nc');
      return (await asked(EMPTY_LINE)).isFree;
    };
    expect([await isFreeIn('N70 '), await isFreeIn('N70 X1.'), await isFreeIn('(WORDS)')]).toEqual([
      true,
      false,
      false,
    ]);
  });

  test('gives the parameters in the units of the program at that place', async () => {
    open(client, PLATE);
    const field = async (line: number) => {
      const { inch, fields } = await client.request<{
        inch: boolean;
        fields: { name: string; unit: string; fallback?: string; group: string }[];
      }>('blockwright/blockForm', place({ line, replaced: 0 }));
      expect(fields.filter(({ group }) => group === '')).toEqual([]);
      return [inch, fields.find(({ name }) => name === 'retract')];
    };
    expect(await field(EMPTY_LINE)).toMatchObject([false, { unit: 'mm', fallback: '10' }]);
    open(client, PLATE.replace('G21', 'G20'));
    expect(await field(EMPTY_LINE)).toMatchObject([true, { unit: 'in', fallback: '0.3937' }]);
  });

  test('makes the block with what the program gives, and tells what keeps it from being written', async () => {
    open(client, PLATE);
    const made = await block({ bore: '18', depth: '6', at: '40,20' });
    expect(made.problems).toEqual([]);
    expect(made.lines![0]).toContain('BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=18 DEPTH=6 TOOL=10');
    expect(made.given).toMatchObject({
      tool: { value: '10', from: 'tool’s remark' },
      speed: { value: '4000', from: 'program' },
    });
    expect(made.raw).toMatchObject({ bore: '18', tool: '10' });
    expect(made.version).toBe(1);
    const wrong = await block({ bore: '8', depth: '6' });
    expect(wrong.lines).toBeUndefined();
    expect(wrong.problems).toHaveLength(1);
    expect(wrong.problems[0].parameter).toBe('tool');
  });

  test('reads values in the program’s units, and those of last time in mm', async () => {
    open(client, PLATE.replace('G21', 'G20').replace('D10', 'D.55'));
    const made = await block({ bore: '1', depth: '.25' }, { kept: { tool: '8', retract: '25.4' } });
    expect(made.raw).toMatchObject({ bore: '25.4', depth: '6.35', tool: '13.97', retract: '25.4' });
    expect(made.given.tool.value).toBe('0.55');
    // The program gives the cutter: that of last time gives way.
    expect(made.kept).toEqual({ retract: '1' });
    const revised = await block({ bore: '1' }, { kept: { tool: '8', depth: '5' }, isRevised: true });
    expect(revised.raw).toMatchObject({ bore: '25.4', depth: '5', tool: '8' });
    expect(revised.given).toEqual({});
  });

  test('lets a speed of last time give way to a cutting speed', async () => {
    open(client, PLATE.replace('S4000 M3\n', ''));
    const made = await block(
      { bore: '18', depth: '6', tool: '10', 'cutting-speed': '100' },
      { kept: { speed: '500' } },
    );
    expect(made.raw.speed).toBeUndefined();
    expect(made.lines!.some((line) => line.includes('S3183'))).toBe(true);
  });

  test('gives the path of the block before it is there, from where the tool stands', async () => {
    open(client, PLATE);
    const { lines } = await block({ bore: '18', depth: '6', at: '40,20' });
    const inserted = { line: EMPTY_LINE, replaced: 1, lines };
    const path = (chunk: number, more: object = { inserted }) =>
      client.request<{ data: string }>('blockwright/path', { uri: ADDRESS, chunk, layer: 'ghost', ...more });
    const index = JSON.parse(Buffer.from((await path(-1)).data, 'base64').toString());
    expect(index.pieces).toHaveLength(1);
    expect(index.pieces[0].firstLine).toBe(EMPTY_LINE);
    const bytes = Buffer.from((await path(index.pieces[0].id)).data, 'base64');
    const piece = readPackedPath(new Uint8Array(bytes).buffer)!;
    // From X5 Y5 Z30 to the bore about X40 Y20: its centre path has the radius (18 - 10) / 2.
    const cut = [...piece.cutBounds].map((value) => Math.round(value * 100) / 100);
    expect(cut.slice(0, 3)).toEqual([36, 16, -6]);
    expect(cut.slice(3, 5)).toEqual([44, 24]);
    expect(Math.round(piece.bounds[0] * 100) / 100).toBe(5);
    const nothing = await path(-1, { inserted: { ...inserted, lines: ['(NOTHING)'] } });
    expect(JSON.parse(Buffer.from(nothing.data, 'base64').toString()).pieces).toEqual([]);
    for (const wrong of [
      { line: 1 },
      { line: -1, replaced: 0, lines: [] },
      { line: 1, replaced: 0, lines: ['a\nb'] },
    ]) {
      expect(await codeOf('path', { uri: ADDRESS, chunk: -1, layer: 'ghost', inserted: wrong })).toBe(-32602);
    }
  });

  test('answers an error to what cannot be asked', async () => {
    open(client, PLATE);
    const { lineCount } = { lineCount: PLATE.split('\n').length };
    expect(await codeOf('block', place())).toBe(-32602);
    expect(await codeOf('block', place({ values: { bore: 5 } }))).toBe(-32602);
    expect(await codeOf('block', place({ values: {}, kept: [3] }))).toBe(-32602);
    expect(await codeOf('blockForm', place({ name: 'no-such-block' }))).toBe(-32602);
    expect(await codeOf('blockForm', place({ line: lineCount + 1 }))).toBe(-32602);
    expect(await codeOf('blockForm', place({ line: lineCount, replaced: 0 }))).toBeUndefined();
    expect(await codeOf('blockForm', place({ line: lineCount, replaced: 1 }))).toBe(-32602);
    expect(await codeOf('blockForm', place({ line: 1.5 }))).toBe(-32602);
    expect(await codeOf('blockForm', { ...place(), textDocument: { uri: 'untitled:other.nc' } })).toBe(-32602);
    expect(await codeOf('blocks', { textDocument })).toBe(-32602);
  });
});
