/** Documents of random characters and random edits, through the protocol: the server answers, whatever comes. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Range } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from '../protocol/client.ts';
import { ADDRESS, open, PLATE, PULL, pull } from '../protocol/programs.ts';

const textDocument = { uri: ADDRESS };
/** Any bytes, read as an editor reads them; and pieces that nearly are a program. */
const noise = fc.uint8Array({ maxLength: 400 }).map((bytes) => new TextDecoder().decode(bytes));
const nearly = fc
  .array(
    fc.constantFrom(
      'G1',
      'G2',
      'G83',
      'X1.',
      'Z-3.',
      'R2.',
      'I',
      'K-',
      '[',
      ']',
      '#1',
      '=',
      '(',
      ')',
      ';',
      '%',
      'O1',
      'N5',
      '/',
      '\n',
      '\r',
      '\r\n',
      'M98 P1',
      'M30',
      'WHILE[1 EQ 1]DO1',
      'END1',
      'GOTO5',
      'T1 M6',
      '\u{1F600}',
      '\uD800',
      '1E9',
      '99999999999999999999',
      'SQRT[-1]',
      '[[[[[[[[',
    ),
    { maxLength: 60 },
  )
  .map((pieces) => pieces.join(' '));
const text = fc.oneof(noise, nearly);
const place = fc.record({ line: fc.nat(40), character: fc.nat(60) });
const edits = fc.array(fc.record({ start: place, end: place, text: fc.oneof(noise, nearly) }), { maxLength: 8 });

/** The text with a range replaced, told as plainly as can be; places past an end go to that end. */
function replaced(whole: string, { start, end }: Range, inserted: string): string {
  const lines: string[] = whole.match(/[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$/g) ?? [];
  if (lines.length === 0 || /[\r\n]$/.test(whole)) lines.push('');
  const offsetOf = ({ line, character }: Range['start']): number => {
    if (line >= lines.length) return whole.length;
    const before = lines.slice(0, line).reduce((sum, one) => sum + one.length, 0);
    return before + Math.min(character, lines[line].replace(/[\r\n]+$/, '').length);
  };
  const [from, to] = [offsetOf(start), offsetOf(end)].sort((a, b) => a - b);
  return whole.slice(0, from) + inserted + whole.slice(to);
}

const runs = { numRuns: 250, seed: 20260 };

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('random text, server as %s', (_name, start) => {
  let client: TestClient;

  beforeAll(async () => {
    client = await start();
    await client.initialize(PULL);
  });

  afterAll(async () => {
    await client.transport.close();
  });

  test('every question about it is answered', async () => {
    const property = fc.asyncProperty(text, place, async (content, position) => {
      open(client, content);
      expect(Array.isArray(await pull(client))).toBe(true);
      const answers = await Promise.all([
        client.ask('textDocument/hover', { textDocument, position }),
        client.ask('textDocument/documentSymbol', { textDocument }),
        client.ask('textDocument/foldingRange', { textDocument }),
        client.ask('textDocument/codeLens', { textDocument }),
        client.ask('textDocument/selectionRange', { textDocument, positions: [position] }),
        client.ask('textDocument/inlayHint', {
          textDocument,
          range: { start: { line: 0, character: 0 }, end: position },
        }),
        client.ask('textDocument/codeAction', { textDocument, range: { start: position, end: position }, context: {} }),
        client.ask('blockwright/path', { uri: ADDRESS }),
      ]);
      // A line past the end is an error for the parameters; anything else has an answer.
      for (const { error } of answers) expect([undefined, -32602]).toContain(error?.code);
    });
    await fc.assert(property, runs);
    expect(client.transport.isAlive()).toBe(true);
  });

  test('after random edits the findings are those of the text freshly opened', async () => {
    const property = fc.asyncProperty(text, edits, async (content, changes) => {
      open(client, content);
      let mirror = content;
      let version = 1;
      for (const { start, end, text: inserted } of changes) {
        const change = { range: { start, end }, text: inserted };
        mirror = replaced(mirror, change.range, inserted);
        client.notify('textDocument/didChange', {
          textDocument: { uri: ADDRESS, version: ++version },
          contentChanges: [change],
        });
        await pull(client);
      }
      open(client, mirror, 'untitled:fresh.nc');
      expect(await pull(client)).toEqual(await pull(client, 'untitled:fresh.nc'));
    });
    await fc.assert(property, runs);
    expect(client.transport.isAlive()).toBe(true);
  });

  test('random messages end nothing', async () => {
    const method = fc.constantFrom(
      'textDocument/hover',
      'textDocument/didChange',
      'textDocument/didOpen',
      'textDocument/didClose',
      'textDocument/codeAction',
      'textDocument/diagnostic',
      'workspace/didChangeConfiguration',
      'workspace/didChangeWatchedFiles',
      'blockwright/path',
      'textDocument/foldingRange',
      'textDocument/codeLens',
      'textDocument/selectionRange',
      'textDocument/inlayHint',
    );
    const property = fc.asyncProperty(method, fc.jsonValue(), fc.boolean(), async (name, params, asks) => {
      if (asks) await client.ask(name, params);
      else client.notify(name, params);
    });
    await fc.assert(property, { ...runs, numRuns: 200 });
    open(client, PLATE);
    expect((await pull(client)).length).toBeGreaterThan(0);
  });
});
