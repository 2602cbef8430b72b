// Subprograms in the files beside a program, and the limits of a run, on the command line.
import { mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { buildCommandLine } from '../harness/commandLine.ts';

const line = buildCommandLine();
let folder = '';

beforeEach(() => {
  folder = join(line.folder(), 'parts');
  mkdirSync(folder);
});

const write = (name: string, content: string | Uint8Array): string => {
  mkdirSync(dirname(join(folder, name)), { recursive: true });
  writeFileSync(join(folder, name), content);
  return name;
};

const runWith = (input: string, ...args: string[]) => line.run(args, { cwd: folder, input });
const run = (...args: string[]) => runWith('', ...args);

interface Traced {
  readonly moves: readonly { readonly line: number; readonly to: readonly number[] }[];
  readonly complete: boolean;
  readonly stopped?: { readonly line: number; readonly why: string };
}

const trace = (name: string, input = ''): Traced => JSON.parse(runWith(input, 'trace', name).out);
const xs = (traced: Traced): number[] => traced.moves.map(({ to }) => to[0]);
const rules = (name: string): string[] =>
  JSON.parse(run('check', '--format', 'json', name).out).files[0].findings.map((one: { rule: string }) => one.rule);

const MAIN = 'O1 (MAIN)\nG17 G21 G40 G49 G80 G90 G54\nG0 X0. Y0. Z5.\nM98 P1000\nG0 X50.\nM30\n';
const STEP = 'O1000 (TWO STEPS)\nG0 X11.\nX12.\nM99\n';

describe('a subprogram beside the program', () => {
  test.each([
    ['holes.nc', STEP],
    ['holes', STEP],
    ['HOLES.TAP', STEP.replace('O1000', ':1000')],
    ['O1000.nc', STEP.replace('O1000 ', '')],
    ['1000', STEP.replace('O1000 ', '')],
    ['o01000.cnc', `\ufeff%\r\n${STEP.replaceAll('\n', '\r\n')}`],
  ])('in %s', (name, text) => {
    write('main.nc', MAIN);
    write(name, text);
    expect(trace('main.nc')).toMatchObject({ complete: true });
    expect(xs(trace('main.nc'))).toEqual([0, 11, 12, 50]);
    expect(trace('main.nc').moves.map(({ line }) => line)).toEqual([3, 4, 4, 5]);
    expect(rules('main.nc')).not.toContain('subprogram-missing');
  });

  test('calls another one, and is found from standard input in the working folder', () => {
    write('a.nc', 'O1000\nM98 P2000 L2\nM99\n');
    write('b.nc', 'O2000\nG91\nG0 X1.\nG90\nM99\n');
    expect(xs(trace('-', MAIN))).toEqual([0, 1, 2, 50]);
  });

  test('is the one in the program’s own folder, wherever the command is given', () => {
    write('left/main.nc', MAIN);
    write('left/1000.nc', STEP);
    write('1000.nc', STEP.replace('X11.', 'X99.'));
    expect(xs(trace('left/main.nc'))).toEqual([0, 11, 12, 50]);
    expect(xs(trace('-', MAIN))).toEqual([0, 99, 12, 50]);
  });

  test('one that is not there is passed over', () => {
    write('main.nc', MAIN);
    expect(xs(trace('main.nc'))).toEqual([0, 50]);
  });

  test('never comes from outside the folder', () => {
    write('main.nc', MAIN);
    write('../1000.nc', STEP);
    write('deeper/1000.nc', STEP);
    symlinkSync(join(folder, '../1000.nc'), join(folder, 'O1000.nc'));
    expect(xs(trace('main.nc'))).toEqual([0, 50]);
    write('own.nc', STEP.replace('X11.', 'X13.'));
    rmSync(join(folder, 'O1000.nc'));
    symlinkSync('own.nc', join(folder, 'O1000.nc'));
    expect(xs(trace('main.nc'))).toEqual([0, 13, 12, 50]);
  });

  test('one that is too large, or no text, is not read, and that is said', () => {
    write('main.nc', MAIN);
    write('O1000.nc', `${STEP}${'(A LONG REMARK)\n'.repeat(300_000)}`);
    const large = run('check', 'main.nc');
    expect(large.err).toContain('O1000.nc is not read as the subprogram O1000: it has more than 4 MB');
    write('O1000.nc', new Uint8Array([79, 49, 0, 0, 1, 2]));
    const traced = run('trace', 'main.nc');
    expect(traced.err).toContain('O1000.nc is not read as the subprogram O1000: it is no text');
    expect(xs(JSON.parse(traced.out))).toEqual([0, 50]);
  });

  test('in a folder of very many files only names are looked at, and that is said', () => {
    write('main.nc', MAIN);
    for (let i = 0; i < 500; i++) write(`part-${i}.nc`, 'G0 X1.\n');
    write('holes.nc', STEP);
    const { out, err } = run('trace', 'main.nc');
    expect(xs(JSON.parse(out))).toEqual([0, 50]);
    expect(err).toContain('O1000 was looked for by the names of files only');
    write('O1000.nc', STEP);
    expect(xs(trace('main.nc'))).toEqual([0, 11, 12, 50]);
  });
});

describe('the limits of blockwright.json are in force', () => {
  const limits = (value: object) => write('blockwright.json', JSON.stringify({ limits: value }));
  const COUNTING = 'O1\nG17 G21 G40 G49 G80 G90 G54\nG0 X0. Y0. Z5.\n#1=0\nWHILE [#1 GE 0] DO1\n#1=#1+1\nEND1\nM30\n';

  test('steps', () => {
    limits({ steps: 2000 });
    write('main.nc', COUNTING);
    const { complete, stopped } = trace('main.nc');
    expect({ complete, why: stopped?.why }).toEqual({ complete: false, why: 'more than 2000 blocks' });
    expect(stopped?.line).toBeGreaterThanOrEqual(5);
    expect(stopped?.line).toBeLessThanOrEqual(7);
  });

  test('depth', () => {
    limits({ depth: 3 });
    write('main.nc', MAIN);
    write('1000.nc', 'O1000\nG91 G0 X1.\nG90\nM98 P1000\nM99\n');
    const traced = trace('main.nc');
    expect(traced).toMatchObject({ complete: false, stopped: { line: 4, why: 'calls more than 3 deep' } });
    expect(xs(traced)).toEqual([0, 1, 2, 3]);
  });

  test('seconds', () => {
    limits({ seconds: 1, steps: 1_000_000_000 });
    write('main.nc', COUNTING);
    const start = Date.now();
    expect(trace('main.nc')).toMatchObject({ complete: false, stopped: { why: 'longer than 1 seconds' } });
    expect(Date.now() - start).toBeLessThan(20_000);
  });

  test('moves', () => {
    limits({ moves: 100 });
    write('main.nc', COUNTING.replace('#1=#1+1\n', '#1=#1+1\nG0 X[#1]\n'));
    const traced = trace('main.nc');
    expect(traced).toMatchObject({ complete: false, stopped: { why: 'more than 100 moves' } });
    expect(traced.moves.length).toBeLessThan(1000);
  });

  test('a program within them is complete', () => {
    limits({ steps: 2000, depth: 3, seconds: 30, moves: 1000 });
    write('main.nc', MAIN);
    write('1000.nc', STEP);
    expect(trace('main.nc')).toMatchObject({ complete: true });
    expect(trace('main.nc').stopped).toBeUndefined();
  });
});
