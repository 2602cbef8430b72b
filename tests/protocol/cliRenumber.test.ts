/** `blockwright renumber` as a process. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { buildCommandLine } from '../harness/commandLine.ts';

const line = buildCommandLine();
const LOOP = '%\nO1\nN5 #1=0\nN6 #1=#1+1\nG0 X#1\nIF [#1 LT 3] GOTO 6\nN9 M30\n%\n';
const run = (args: readonly string[], input?: string) =>
  line.run(['renumber', ...args], input === undefined ? {} : { input });

describe('renumber', () => {
  test('writes the program with new numbers on standard output', () => {
    expect(run(['-'], LOOP)).toEqual({
      code: 0,
      out: '%\nO1\nN10 #1=0\nN20 #1=#1+1\nG0 X#1\nIF [#1 LT 3] GOTO 20\nN30 M30\n%\n',
      err: '',
    });
    expect(run(['--start=100', '--step', '5', '--add', '-'], LOOP).out).toBe(
      '%\nO1\nN100 #1=0\nN105 #1=#1+1\nN110 G0 X#1\nN115 IF [#1 LT 3] GOTO 105\nN120 M30\n%\n',
    );
    expect(run(['--remove', '-'], LOOP).out).toBe('%\nO1\n#1=0\nN6 #1=#1+1\nG0 X#1\nIF [#1 LT 3] GOTO 6\nM30\n%\n');
  });

  test('takes start and step from the shop’s file, and writes the file where it is told to', () => {
    const folder = line.folder();
    const file = join(folder, 'a.nc');
    writeFileSync(join(folder, 'blockwright.json'), '{ "version": 1, "blockNumbers": { "start": 2, "step": 2 } }');
    writeFileSync(file, '\ufeffN1 G21\r\nN1 G90\r\nN1 M30\r\n');
    expect(run(['--write', file])).toEqual({ code: 0, out: '', err: '' });
    expect(readFileSync(file, 'utf8')).toBe('\ufeffN2 G21\r\nN4 G90\r\nN6 M30\r\n');
  });

  test('leaves a program that would not do the same, and says why', () => {
    const { code, out, err } = run(['-'], 'N1 #1=2\nGOTO #1\nN2 M30\n');
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('-: left as it is. Line 2 works out the block number that it leads to');
  });

  test.each([
    [['--step', '0', '-']],
    [['--step', 'ten', '-']],
    [['--add', '--remove', '-']],
    [['--write', '-']],
    [['nowhere.nc']],
    [[]],
  ])('%j cannot be used', (args) => {
    const { code, out, err } = run(args, LOOP);
    expect([code, out]).toEqual([2, '']);
    expect(err.trim().split('\n').length).toBe(1);
  });
});
