/** A wrong blockwright.json never takes anything down: random changes of a whole right file, as text and as values. */
import { describe, expect, test } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { tracedMoves } from '../../server/src/core/features/trace.ts';
import {
  configurationFor,
  profileFilesOf,
  readConfigurationFile,
} from '../../server/src/core/machine/configurationFile.ts';
import { WHOLE_SHOP_FILE } from '../harness/shopFile.ts';
import { startNodeServer } from '../protocol/client.ts';
import { open, PLATE, PULL, pull, seeded } from '../protocol/programs.ts';

type Random = () => number;
type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)];

const SIGNS = [
  '{',
  '}',
  '[',
  ']',
  ',',
  ':',
  '"',
  '\\',
  '\n',
  '\r',
  '1',
  '-',
  '.',
  'e',
  'null',
  '/*',
  '\u0000',
  'é',
  '😀',
  '"a"',
];

/** The text with a few signs taken out, put in or doubled. */
function mutatedText(random: Random): string {
  let text = WHOLE_SHOP_FILE;
  for (let times = 1 + Math.floor(random() * 4); times > 0; times--) {
    const from = Math.floor(random() * text.length);
    const to = Math.min(text.length, from + Math.floor(random() * random() * 40));
    const put = pick(random, ['', '', text.slice(from, to).repeat(2), pick(random, SIGNS)]);
    text = text.slice(0, from) + put + text.slice(to);
  }
  return text;
}

const VALUES: readonly Json[] = [
  null,
  true,
  0,
  -1,
  0.5,
  1e300,
  -1e-300,
  7,
  99_999,
  '',
  'iso',
  'G54',
  'M6',
  '__proto__',
  'drill',
  [],
  [0, 0, 0],
  [1, 2],
  {},
  { number: 1, kind: 'drill' },
  { shape: 'box' },
];
const KEYS = ['__proto__', 'constructor', 'toString', '', 'number', 'tools', 'G55', 'W', '*.nc', 'x'.repeat(300)];

/** Changes one value somewhere in a group or list, in place. */
function mutateValue(random: Random, value: Json): void {
  if (typeof value !== 'object' || value === null) return;
  const group = value as Record<string, Json>;
  const keys = Object.keys(group);
  const key = pick(random, keys);
  const below = key === undefined ? undefined : group[key];
  if (typeof below === 'object' && below !== null && random() < 0.75) {
    mutateValue(random, below);
    return;
  }
  const what = random();
  if (what < 0.2 && key !== undefined) {
    if (Array.isArray(value)) value.splice(Number(key), 1);
    else delete group[key];
  } else if (what < 0.35) {
    const added = pick(random, VALUES);
    if (Array.isArray(value)) value.push(added);
    else
      Object.defineProperty(group, pick(random, KEYS), {
        value: added,
        enumerable: true,
        writable: true,
        configurable: true,
      });
  } else if (key !== undefined) {
    const near = typeof below === 'number' ? [below * 2, -below, below + 1, Math.floor(below / 2)] : VALUES;
    group[key] = pick(random, random() < 0.6 ? near : VALUES);
  }
}

function mutatedValues(random: Random): string {
  const value = JSON.parse(WHOLE_SHOP_FILE) as Json;
  for (let times = 1 + Math.floor(random() * 3); times > 0; times--) mutateValue(random, value);
  return JSON.stringify(value, null, pick(random, [0, 2]));
}

/** Lines and columns as an editor counts them. */
const lengthsOf = (text: string): number[] => text.split(/\r\n|\r|\n/).map((line) => line.length);

/** Reads it; true where the file is right. */
function readAndCheck(text: string): boolean {
  profileFilesOf(text);
  const { shop, problems } = readConfigurationFile(text, () => undefined);
  expect(shop === undefined, text).toBe(problems.length > 0);
  const lengths = lengthsOf(text);
  for (const { message, line, column, endLine, endColumn } of problems) {
    expect(message, text).toMatch(/^.{8,400}[.?]$/s);
    expect(line, text).toBeLessThanOrEqual(endLine);
    expect(column, text).toBeLessThanOrEqual(line === endLine ? endColumn : lengths[line]);
    expect(endLine, text).toBeLessThan(lengths.length);
    expect(endColumn, text).toBeLessThanOrEqual(lengths[endLine]);
  }
  if (!shop) return false;
  for (const path of ['bracket-1.nc', 'fixtures/a/b.nc', undefined]) {
    const configuration = configurationFor(shop, path);
    const analysis = new Analysis(PLATE, configuration);
    analysis.run();
    analysis.findings();
    for (const move of tracedMoves(analysis, { machine: configuration.machine, withMachine: true })) {
      expect(Number.isFinite(move.length), text).toBe(true);
    }
  }
  return true;
}

describe('a changed file', () => {
  test('of signs: read or told of, at a place inside the text', () => {
    let right = 0;
    for (let seed = 1; seed <= 2000; seed++) if (readAndCheck(mutatedText(seeded(seed)))) right++;
    expect(right).toBeLessThan(2000);
  });

  test('of values: read or told of, and what is read runs', () => {
    let right = 0;
    for (let seed = 1; seed <= 2000; seed++) if (readAndCheck(mutatedValues(seeded(seed * 7)))) right++;
    // Both kinds must come, else the test shows nothing.
    expect(right).toBeGreaterThan(50);
    expect(right).toBeLessThan(1950);
  });

  test('typed into an editor: the server answers on, and ends with what the right file says', async () => {
    const client = await startNodeServer();
    try {
      await client.initialize(PULL);
      const shop = 'file:///nowhere/blockwright.json';
      const program = 'file:///nowhere/plate.nc';
      client.notify('textDocument/didOpen', {
        textDocument: { uri: shop, languageId: 'json', version: 1, text: WHOLE_SHOP_FILE },
      });
      open(client, PLATE, program);
      const before = await pull(client, program);
      const change = (version: number, text: string) =>
        client.notify('textDocument/didChange', { textDocument: { uri: shop, version }, contentChanges: [{ text }] });
      for (let seed = 1; seed <= 60; seed++) {
        const random = seeded(seed * 13);
        const text = random() < 0.5 ? mutatedText(random) : mutatedValues(random);
        change(seed + 1, text);
        const lengths = lengthsOf(text);
        for (const { range } of await pull(client, shop)) expect(range.end.line).toBeLessThan(lengths.length);
        await pull(client, program);
      }
      change(100, WHOLE_SHOP_FILE);
      expect(await pull(client, shop)).toEqual([]);
      expect(await pull(client, program)).toEqual(before);
    } finally {
      await client.transport.close();
    }
  });
});
