/** Generated blocks over the protocol: lens and actions to revise them, to make them again, to drop their marker. */
import { afterEach, describe, expect, test } from 'vitest';
import type { CodeAction, CodeLens } from 'vscode-languageserver';
import { contextAt } from '../../server/src/core/blocks/context.ts';
import { generateBlock } from '../../server/src/core/blocks/generate.ts';
import { blockByName } from '../../server/src/core/blocks/registry.ts';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { startNodeServer, startWorkerServer, type TestClient } from './client.ts';
import { ADDRESS, applied, open, PULL } from './programs.ts';

const textDocument = { uri: ADDRESS };

const HEAD = [
  '%',
  'O1',
  'G17 G21 G40 G49 G80 G90 G94 G54',
  'T1 M6 (END MILL D10 4FL)',
  'S4000 M3',
  'G0 X0. Y0.',
  'G43 H1 Z50.',
];
const TAIL = ['M5', 'M30', '%', ''];
const VALUES = { bore: '25', tool: '10', depth: '6', lead: '1.5', at: '30,20', speed: '4000', feed: '600' };

const blockHere = (): readonly string[] => {
  const analysis = new Analysis([...HEAD, ...TAIL].join('\n'));
  analysis.run();
  const context = contextAt(analysis, HEAD.length, DEFAULT_CONFIGURATION);
  const { lines, problems } = generateBlock(blockByName('helical-bore')!, { ...VALUES, passes: '2' }, context);
  if (lines === undefined) throw new Error(problems.map(({ message }) => message).join());
  return lines;
};

const BLOCK = blockHere();
const PROGRAM = [...HEAD, ...BLOCK, ...TAIL].join('\n');
const FIRST = HEAD.length;
const LAST = FIRST + BLOCK.length - 1;

describe.each([
  ['process', startNodeServer],
  ['worker', startWorkerServer],
] as const)('generated blocks by a server as %s', (_name, start) => {
  let client: TestClient;

  afterEach(async () => {
    await client.transport.close();
  });

  const begin = async (text: string, options?: Record<string, unknown>): Promise<Record<string, unknown>> => {
    client = await start();
    const capabilities = await client.initialize(PULL, options);
    open(client, text);
    return capabilities as Record<string, unknown>;
  };
  const actionsAt = async (line: number, only?: string[], triggerKind?: 1 | 2): Promise<CodeAction[]> =>
    (await client.request<CodeAction[] | null>('textDocument/codeAction', {
      textDocument,
      range: { start: { line, character: 0 }, end: { line, character: 0 } },
      context: { diagnostics: [], ...(only && { only }), ...(triggerKind && { triggerKind }) },
    })) ?? [];

  test('a client with the form gets a lens and an action that open it with the values in mm', async () => {
    const capabilities = await begin(PROGRAM, { blockForm: true });
    expect(capabilities.codeLensProvider).toEqual({ resolveProvider: false });
    const call = {
      uri: ADDRESS,
      name: 'helical-bore',
      values: expect.objectContaining({ bore: '25', tool: '10', at: '30,20', passes: '2' }),
      replaces: { firstLine: FIRST, lastLine: LAST },
      edited: false,
    };
    const all = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument });
    const lenses = all.filter(({ command }) => command?.command !== '');
    expect(lenses).toHaveLength(1);
    expect(lenses[0].range.start).toEqual({ line: FIRST, character: 0 });
    expect(lenses[0].command).toEqual({
      title: 'Revise helical bore',
      command: 'blockwright.insertBlock',
      arguments: [call],
    });
    for (const line of [FIRST, FIRST + 5, LAST]) {
      const actions = await actionsAt(line);
      expect(actions.map(({ title }) => title)).toEqual(['Revise this helical bore…']);
      expect(actions[0].kind).toBe('refactor.rewrite');
      expect(actions[0].command?.arguments).toEqual([call]);
    }
    expect((await actionsAt(LAST + 1)).map(({ title }) => title)).not.toContain('Revise this helical bore…');
    expect(await actionsAt(FIRST, ['quickfix'])).toEqual([]);
    expect(await actionsAt(FIRST, ['refactor'])).toHaveLength(1);
  });

  test('a client without the form gets no lens that opens it, and the block made again where it is another one now', async () => {
    // The same block with another diameter typed into its remark.
    const retyped = PROGRAM.replace('BORE=25', 'BORE=26');
    const capabilities = await begin(retyped);
    expect(capabilities.codeLensProvider).toBeDefined();
    const lenses = await client.request<CodeLens[] | null>('textDocument/codeLens', { textDocument });
    expect(lenses?.map(({ command }) => command?.command)).not.toContain('blockwright.insertBlock');
    const actions = await actionsAt(FIRST);
    expect(actions.map(({ title }) => title)).toEqual([
      'Drop the marker',
      'Regenerate this helical bore from its values',
      'Ignore generated-block-edited in this block',
    ]);
    expect(actions[1].diagnostics?.[0].code).toBe('generated-block-edited');
    const again = applied(retyped, actions[1].edit!);
    expect(again).toContain('BORE=26');
    const lines = again.split('\n');
    expect(lines.slice(0, FIRST)).toEqual(HEAD);
    expect(lines.slice(-TAIL.length)).toEqual(TAIL);
    const analysis = new Analysis(again);
    analysis.run();
    expect(analysis.findings().findings.map(({ rule }) => rule)).toEqual([]);
    // The wall at the new diameter: the centre 8 mm off.
    expect(lines.some((line) => /^G3 X38\. Y20\./.test(line))).toBe(true);
  });

  test('what was changed by hand is not replaced unsaid', async () => {
    const byHand = PROGRAM.replace(/\nG3 (.*Z-1\.5)/, '\nM8 G3 $1');
    expect(byHand).not.toBe(PROGRAM);
    await begin(byHand, { blockForm: true });
    const actions = await actionsAt(FIRST);
    const revise = actions.find(({ title }) => title.startsWith('Revise'))!;
    expect(revise.command?.arguments?.[0].edited).toBe(true);
    const again = actions.find(({ title }) => title.startsWith('Regenerate'))!;
    expect(again.title).toBe('Regenerate this helical bore from its values (replaces what was changed by hand)');
    expect(applied(byHand, again.edit!)).toBe(PROGRAM);
    const drop = actions.find(({ title }) => title === 'Drop the marker')!;
    expect(applied(byHand, drop.edit!)).toBe(
      byHand
        .split('\n')
        .filter((line) => !line.includes('BLOCKWRIGHT-'))
        .join('\n'),
    );
  });

  test('a block without its check values counts as changed', async () => {
    await begin(PROGRAM.replace(/ BODY=\w+ FOR=\w+/, ''), { blockForm: true });
    const actions = await actionsAt(FIRST + 3);
    expect(actions.map(({ title }) => title)).toEqual([
      'Revise this helical bore…',
      'Regenerate this helical bore from its values (replaces what was changed by hand)',
    ]);
    expect(actions[0].command?.arguments?.[0].edited).toBe(true);
  });

  test('a tap in a drilling cycle is repaired by a block, which the light bulb alone does not look for', async () => {
    const wrong = [
      ...HEAD.map((line) => line.replace('END MILL D10 4FL', 'TAP M6').replace('S4000', 'S500')),
      'G81 X10. Y5. Z-15. R5. F500',
      'X30.',
      'G80',
      'G0 Z50.',
      ...TAIL,
    ].join('\n');
    await begin(wrong, { blockForm: true });
    const [first, ...rest] = await actionsAt(FIRST, undefined, 1);
    expect(first.title).toBe('Write a tapping block instead: M6X1…');
    expect(first.kind).toBe('quickfix');
    expect(first.diagnostics?.map(({ code }) => code)).toEqual(['tap-in-drilling-cycle']);
    expect(first.command?.arguments?.[0]).toMatchObject({
      uri: ADDRESS,
      name: 'tapping',
      values: { thread: 'M6X1', at: '10,5;30,5' },
      replaces: { firstLine: FIRST, lastLine: FIRST + 2 },
    });
    expect(rest.map(({ title }) => title)).toContain('Ignore tap-in-drilling-cycle in this block');
    const automatic = await actionsAt(FIRST, undefined, 2);
    expect(automatic.map(({ title }) => title)).toEqual(rest.map(({ title }) => title));
  });
});
