/** Outline and folding over the protocol: nested and within each other, in short programs and long ones. */
import { afterEach, describe, expect, test } from 'vitest';
import type { DocumentSymbol, FoldingRange } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const PROGRAM = `%
O7 (HOUSING)
G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S3000 M3
G0 X0. Y0. Z5.
(SIDE)
G1 Z-5. F300.
G41 D1 X20.
Y40.
G40 X40.
G0 Z5.
T2 M6 (TAP M8)
S400 M3
G0 X0. Y0. Z5.
G84 X10. Z-12. R2. F500.
X20.
G80
M98 P8 L2
M30
O8 (CHAMFERS)
G0 Z5.
M99
%
`;

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('outline by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string) => {
    client = await start();
    await client.initialize(PULL);
    open(client, text);
  };
  const symbols = () => client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument });
  const told = ({ name, detail, range, children = [] }: DocumentSymbol): unknown[] => [
    `${range.start.line}-${range.end.line} ${name}${detail ? ` | ${detail}` : ''}`,
    ...(children.length > 0 ? [children.map(told)] : []),
  ];

  test('programs, tools, operations and calls by the trade’s names', async () => {
    await begin(PROGRAM);
    expect((await symbols()).map(told)).toEqual([
      [
        '1-19 O7 | HOUSING',
        [
          ['3-11 T1 END MILL D10', [['7-10 contour, cutter left of it (G41), to Z-5 | SIDE']]],
          ['12-19 T2 TAP M8', [['15-16 tapping M8X1.25, 2 holes | tap'], ['18-18 Call of O8 | CHAMFERS']]],
        ],
      ],
      ['20-24 O8 | CHAMFERS, called 2 times'],
    ]);
  });

  test('what an item is called by lies in it', async () => {
    await begin(PROGRAM);
    const check = ({ range, selectionRange, children = [] }: DocumentSymbol): void => {
      const isBefore = (a: { line: number; character: number }, b: { line: number; character: number }) =>
        a.line < b.line || (a.line === b.line && a.character <= b.character);
      expect(isBefore(range.start, selectionRange.start) && isBefore(selectionRange.end, range.end)).toBe(true);
      for (const child of children) {
        expect(isBefore(range.start, child.range.start) && isBefore(child.range.end, range.end)).toBe(true);
        check(child);
      }
    };
    for (const symbol of await symbols()) check(symbol);
  });

  test('a long program is answered while messages come in, and a change makes the answer void', async () => {
    const body = 'G0 Z5.\nG1 Z-1. F100.\nX10.\nX0.\n'.repeat(20_000);
    await begin(`O1\nT1 M6\nG0 X0. Y0. Z5.\n${body}M30\n`);
    const [program] = await symbols();
    expect(program.children?.[0].children?.map(({ name }) => name)).toEqual(['cut to Z-1, 520 m']);
    const outline = client.ask('textDocument/documentSymbol', { textDocument });
    client.notify('textDocument/didChange', {
      textDocument: { uri: ADDRESS, version: 2 },
      contentChanges: [{ range: { start: { line: 4, character: 5 }, end: { line: 4, character: 6 } }, text: '2' }],
    });
    const { result, error } = await outline;
    expect(error?.code === -32801 || (result as DocumentSymbol[]).length === 1).toBe(true);
    expect((await symbols())[0].children?.[0].children?.[0].name).toMatch(/^cut to Z-2, /);
  });

  test('tools, subprograms, loops and runs of remarks fold', async () => {
    await begin(`${PROGRAM}`);
    const ranges = await client.request<FoldingRange[]>('textDocument/foldingRange', { textDocument });
    const spans = ranges.map(({ startLine, endLine }) => `${startLine}-${endLine}`);
    expect(spans).toEqual(['0-23', '1-19', '3-11', '12-19', '20-24']);
  });
});
