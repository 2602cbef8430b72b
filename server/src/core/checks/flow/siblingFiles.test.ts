import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  calledNumbers,
  chooseFile,
  headOfText,
  isProgramName,
  MOST_FILES,
  numberOfName,
  PROGRAM_ENDINGS,
} from './siblingFiles.ts';

/** Chooses among files by their texts; also which of them were looked into. */
const choose = (files: Readonly<Record<string, string>>, number: number, colonCounts = true) => {
  const search = chooseFile(Object.keys(files), number, colonCounts);
  const looked: string[] = [];
  let step = search.next();
  while (!step.done) {
    looked.push(...step.value);
    step = search.next(step.value.map((name) => headOfText(files[name])));
  }
  return { ...step.value, looked };
};

test('the endings are those of the language', () => {
  const { contributes } = JSON.parse(readFileSync(new URL('../../../../../package.json', import.meta.url), 'utf8'));
  expect(contributes.languages[0].extensions).toEqual(PROGRAM_ENDINGS);
});

test('names that say a number', () => {
  const names = ['O1234.nc', '1234.NC', '1234', 'o01234.tap', 'O1234', '00001234.ngc'];
  expect(names.map(numberOfName)).toEqual([1234, 1234, 1234, 1234, 1234, 1234]);
  const others = ['1234.txt', 'O1234.nc.bak', 'PART1234.nc', '1234-2.nc', 'O.nc', '.nc', '', '12 34.nc', 'O1234.'];
  expect(others.map(numberOfName)).toEqual(others.map(() => -1));
  expect(['part.cnc', 'PART', 'a.b.tap'].every(isProgramName)).toBe(true);
  expect(['.gitignore', 'part.pdf', 'blockwright.json'].some(isProgramName)).toBe(false);
});

describe('the number at the start of a text', () => {
  test.each([
    ['O1234 (POCKET)\n', 'O', 1234],
    ['%\n(A REMARK)\n\n; ANOTHER\no 0012\n', 'O', 12],
    ['\ufeff%\r\n:77\r\n', ':', 77],
    ['(REMARK) O5', 'O', 5],
    ['/O6', 'O', 6],
    ['G0 X1.\nO1234\n', '', -1],
    ['N10 O1234\n', '', -1],
    ['(OPEN REMARK\nO8', 'O', 8],
    ['O1234\0\0', '', -1],
    ['', '', -1],
    ['O<name>', '', -1],
    ['O1234567890', '', -1],
  ])('%j', (text, mark, number) => {
    expect(headOfText(text)).toEqual({ mark, number });
  });
});

describe('choosing', () => {
  test('the number in a text goes before the number in a name', () => {
    expect(choose({ 'holes.nc': 'O1000', '1000.nc': 'G0 X1.' }, 1000).name).toBe('holes.nc');
    expect(choose({ 'holes.nc': 'O1000', '1000.nc': 'O2000' }, 1000).name).toBe('holes.nc');
    expect(choose({ 'holes.nc': 'O1000', '1000.nc': 'O2000' }, 2000).name).toBe('1000.nc');
  });

  test('of two texts with the same number the one counts that has it in its name too', () => {
    const found = choose({ 'a.nc': 'O1000', 'O1000.tap': 'O1000', 'b.nc': 'O1000' }, 1000);
    expect(found).toMatchObject({ name: 'O1000.tap', looked: ['O1000.tap'] });
    expect(choose({ 'b.nc': 'O1000', 'a.nc': 'O1000' }, 1000).name).toBe('a.nc');
  });

  test('by name where no text has it', () => {
    expect(choose({ 'a.nc': 'O1', '1000.nc': 'G0', 'O1000.nc': 'G1' }, 1000).name).toBe('1000.nc');
    expect(choose({ 'a.nc': 'O1', 'notes.txt': 'O1000' }, 1000).name).toBeUndefined();
  });

  test('a colon counts by profile', () => {
    expect(choose({ 'a.nc': ':1000' }, 1000, true).name).toBe('a.nc');
    expect(choose({ 'a.nc': ':1000' }, 1000, false).name).toBeUndefined();
  });

  test('in a folder of too many files only names are looked at, and it is said', () => {
    const many = Object.fromEntries(Array.from({ length: MOST_FILES }, (_, i) => [`part-${i}.nc`, 'G0']));
    expect(choose({ ...many }, 1000)).toMatchObject({ name: undefined, isCutShort: false });
    const more = { ...many, 'holes.nc': 'O1000', 'O2000.nc': '' };
    expect(choose(more, 1000)).toEqual({ name: undefined, isCutShort: true, looked: [] });
    expect(choose(more, 2000)).toMatchObject({ name: 'O2000.nc', isCutShort: true });
  });
});

test('called numbers, for reading ahead', () => {
  const text = 'M98 P1000 L3\nP2000 M98\nG65 P 30 A1. (M98 P7)\nG1 X1. P5\nM198 P6\nM98 P#1\nM98 P0031000\nG066 P9\n';
  expect(calledNumbers(text)).toEqual([1000, 2000, 30, 7, 31000, 9]);
});
