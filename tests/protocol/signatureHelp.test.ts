/** The words of a code that is being typed, over the protocol. */
import { afterEach, describe, expect, test } from 'vitest';
import type { SignatureHelp } from 'vscode-languageserver';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };
const OFFSETS = {
  textDocument: {
    ...PULL.textDocument,
    signatureHelp: { signatureInformation: { parameterInformation: { labelOffsetSupport: true } } },
  },
};

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('signature help by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, capabilities: object = OFFSETS) => {
    client = await start();
    const offered = await client.initialize(capabilities);
    open(client, text);
    return offered;
  };
  const ask = (line: number, character: number, context?: object) =>
    client.request<SignatureHelp | null>('textDocument/signatureHelp', {
      textDocument,
      position: { line, character },
      context,
    });

  test('words with their meaning, one marked', async () => {
    const offers = await begin('G21 G90\nG0 Z5.\nG81 X1. \n');
    const provider = (offers as { signatureHelpProvider?: { triggerCharacters: string[] } }).signatureHelpProvider;
    expect(provider?.triggerCharacters).toContain(' ');
    // A number never opens it.
    expect(provider?.triggerCharacters.some((character) => /[\d.GMN]/.test(character))).toBe(false);
    const help = await ask(2, 8, { triggerKind: 2, triggerCharacter: ' ', isRetrigger: false });
    expect(help).toMatchObject({ activeSignature: 0, activeParameter: 1 });
    expect(help?.signatures).toHaveLength(1);
    expect(help?.signatures[0]).toMatchObject({ label: 'G81 X Y Z R F L' });
    expect(help?.signatures[0].parameters?.[2]).toEqual({
      label: [8, 9],
      documentation: 'bottom of the hole; in G91 from R',
    });
  });

  test('a client that takes no columns gets the letters', async () => {
    await begin('G2 X1. \n', PULL);
    expect((await ask(0, 7))?.signatures[0].parameters?.[0].label).toBe('X');
  });

  test('nothing on other lines while they are typed, the code in force where it is asked for', async () => {
    await begin('G21 G90\nG0 X0. Y0. Z5.\nG81 X1. Z-1. R2. F50\nX5. \nG80\nX9. \n');
    const typing = { triggerKind: 2, triggerCharacter: ' ', isRetrigger: false };
    expect(await ask(3, 4, typing)).toBeNull();
    expect((await ask(3, 4, { triggerKind: 1, isRetrigger: false }))?.signatures[0].label).toBe('G81 X Y Z R F L');
    expect(await ask(5, 4, { triggerKind: 1, isRetrigger: false })).toBeNull();
  });

  test('bad parameters are an error answer', async () => {
    await begin('G21\n');
    const bad = (params: object) => client.ask('textDocument/signatureHelp', params);
    expect((await bad({ textDocument })).error?.code).toBe(-32602);
    expect((await bad({ textDocument, position: { line: 9, character: 0 } })).error?.code).toBe(-32602);
    expect((await bad({ textDocument, position: { line: 1, character: 99 } })).error).toBeUndefined();
  });
});
