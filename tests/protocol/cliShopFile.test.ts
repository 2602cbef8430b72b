// The shop's file on the command line: patterns, the machine's positions, units, and the server with options.
import { spawn } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeEach, describe, expect, test } from 'vitest';
import { type Message, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';
import { buildCommandLine } from '../harness/commandLine.ts';
import { TestClient } from './client.ts';
import { open, PULL, pull } from './programs.ts';

const line = buildCommandLine();
let folder = '';

beforeEach(() => {
  folder = line.folder();
});

const write = (name: string, content: string): string => {
  mkdirSync(dirname(join(folder, name)), { recursive: true });
  writeFileSync(join(folder, name), content);
  return name;
};

const run = (...args: string[]) => line.run(args, { cwd: folder, input: '' });

/** Two codes of one group: an error under rs274ngc, a warning elsewhere. */
const TWO_MOTIONS = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS1000 M3\nG0 G1 X1. F100\nM30\n';
const severity = (out: string, file = 0): string =>
  JSON.parse(out).files[file].findings.find((one: { rule: string }) => one.rule === 'modal-conflict')?.severity;
const check = (...args: string[]) => run('check', '--format', 'json', ...args).out;

describe('patterns', () => {
  test('hold for the programs that fit, by name and by path', () => {
    write(
      'blockwright.json',
      '{ "programs": { "strict-*": { "profile": "rs274ngc" }, "left/*.nc": { "profile": "rs274ngc" } } }',
    );
    const out = check(
      write('STRICT-1.nc', TWO_MOTIONS),
      write('free.nc', TWO_MOTIONS),
      write('left/free.nc', TWO_MOTIONS),
      write('right/left/free.nc', TWO_MOTIONS),
    );
    expect([0, 1, 2, 3].map((file) => severity(out, file))).toEqual(['error', 'warning', 'error', 'warning']);
  });

  test('--profile goes before them; --config counts from its own folder', () => {
    write('shop/own.json', '{ "programs": { "*.nc": { "profile": "rs274ngc" } } }');
    write('free.nc', TWO_MOTIONS);
    expect(severity(check('free.nc', '--config', 'shop/own.json'))).toBe('error');
    expect(severity(check('free.nc', '--config', 'shop/own.json', '--profile', 'iso'))).toBe('warning');
  });

  test('a wrong one is said with its place', () => {
    write('blockwright.json', '{\n "programs": { "../*.nc": {} } }');
    const { code, out, err } = run('check', write('free.nc', TWO_MOTIONS));
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('blockwright.json:2:16 A pattern goes down from this file');
  });
});

describe('trace', () => {
  const SHOP = `{ "machine": { "axes": { "X": { "rapid": 20000 }, "Z": { "reference": 0 } },
    "workOffsets": { "G54": { "X": -200, "Y": -100, "Z": -300 } } },
    "tools": [{ "number": 1, "kind": "end-mill", "length": 100 }] }`;
  const PROGRAM =
    'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS1000 M3\nG0 X0. Y0.\nG43 H1 Z25.4\nG1 Z-1. F254\nX50.8\nG0 X0. Y1.\nG91 G28 Z0.\nM30\n';
  const moves = (...args: string[]) => JSON.parse(run('trace', 'part.nc', ...args).out).moves;

  test('--machine adds machine positions, null where they are not known', () => {
    write('blockwright.json', SHOP);
    write('part.nc', PROGRAM);
    expect(moves().some((move: object) => 'toMachine' in move)).toBe(false);
    const traced = moves('--machine');
    expect(traced[0]).toMatchObject({ fromMachine: [null, null, null], toMachine: [-200, -100, null] });
    expect(traced[1]).toMatchObject({ fromMachine: [-200, -100, null], toMachine: [-200, -100, -174.6] });
    expect(traced.at(-1)).toMatchObject({ to: [0, 1, 200], fromMachine: [-200, -99, -201], toMachine: [-200, -99, 0] });
    write('blockwright.json', '{}');
    expect(moves('--machine')[1]).toMatchObject({ to: [0, 0, 25.4], toMachine: [null, null, null] });
  });

  test('rapids take the time of the machine’s rate', () => {
    write('blockwright.json', SHOP);
    write('part.nc', PROGRAM.replace('Y1.\n', '\n'));
    expect(moves().at(-2)).toMatchObject({ kind: 'rapid', length: 50.8, seconds: 0.1524 });
  });

  test('--units inch changes the CSV and the drawing’s dimensions, not the JSON', () => {
    write('part.nc', PROGRAM);
    write('blockwright.json', SHOP);
    expect(moves('--units', 'inch')).toEqual(moves());
    const rows = run('trace', 'part.nc', '--format', 'csv', '--units', 'inch', '--machine').out.trimEnd().split('\n');
    const [head, ...lines] = rows.map((row) => row.split(','));
    expect(head.slice(-6)).toEqual([
      'fromMachine.x',
      'fromMachine.y',
      'fromMachine.z',
      'toMachine.x',
      'toMachine.y',
      'toMachine.z',
    ]);
    const cut = Object.fromEntries(lines[3].map((cell, i) => [head[i], cell]));
    expect(cut).toMatchObject({ kind: 'line', 'to.x': '2', feed: '10', length: '2', speed: '1000', seconds: '12' });
    expect(Number(cut['toMachine.x'])).toBeCloseTo((-200 + 50.8) / 25.4, 6);
    const svg = run('trace', 'part.nc', '--format', 'svg', '--units', 'inch').out;
    expect(svg).toContain('X 2.0000 (0.0000 to 2.0000)');
    expect(svg).toContain('Dimensions in inch');
    expect(run('trace', 'part.nc', '--units', 'feet').code).toBe(2);
  });

  test('the help says what the options are', () => {
    const { out } = run('trace', '--help');
    for (const option of ['--machine', '--units', '--profile', '--config']) expect(out).toContain(option);
  });
});

describe('serve', () => {
  const started = async (args: string[]): Promise<TestClient> => {
    const child = spawn(process.execPath, [line.cli, 'serve', '--stdio', ...args], { cwd: folder });
    const writer = new StreamMessageWriter(child.stdin);
    const reader = new StreamMessageReader(child.stdout);
    const ended = new Promise<void>((resolve) => child.on('exit', () => resolve()));
    const client = new TestClient({
      send: (message) => void writer.write(message as unknown as Message).catch(() => undefined),
      onMessage: (listener) => {
        reader.listen((message) => listener(message as unknown as Record<string, unknown>));
      },
      isAlive: () => child.exitCode === null,
      process: child,
      close: async () => {
        child.kill();
        await ended;
      },
    });
    await client.initialize(PULL);
    return client;
  };
  const severityServed = async (...args: string[]) => {
    write('blockwright.json', '{}');
    write('part.nc', TWO_MOTIONS);
    const client = await started(args);
    const uri = pathToFileURL(join(folder, 'part.nc')).href;
    open(client, TWO_MOTIONS, uri);
    const found = (await pull(client, uri)).find((one) => one.code === 'modal-conflict')?.severity;
    await client.transport.close();
    return found;
  };

  test('--profile and --config go before what lies beside the program', async () => {
    write('shop/own.json', '{ "programs": { "part.*": { "profile": "rs274ngc" } } }');
    expect(await severityServed()).toBe(2);
    expect(await severityServed('--profile', 'rs274ngc')).toBe(1);
    expect(await severityServed('--config', 'shop/own.json')).toBe(1);
    expect(await severityServed('--config', 'shop/own.json', '--profile', 'iso')).toBe(2);
  });

  test('a profile or a file that is not there cannot be used', () => {
    for (const args of [
      ['--profile', 'nowhere'],
      ['--config', 'nowhere.json'],
    ]) {
      const { code, out, err } = run('serve', '--stdio', ...args);
      expect({ code, out }).toEqual({ code: 2, out: '' });
      expect(err).toContain(args[0]);
    }
  });
});
