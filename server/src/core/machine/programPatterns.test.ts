import { describe, expect, test } from 'vitest';
import { fitsPattern, patternProblem } from './programPatterns.ts';

describe('what fits', () => {
  test.each([
    ['*.nc', 'plate.nc'],
    ['*.nc', 'deep/down/PLATE.NC'],
    ['bracket-*.nc', 'parts/bracket-12.nc'],
    ['bracket-?.nc', 'bracket-1.nc'],
    ['{plate,cover}.nc', 'cover.nc'],
    ['part[0-9].nc', 'part7.nc'],
    ['parts/*.nc', 'parts/plate.nc'],
    ['parts/**', 'parts/left/plate.nc'],
    ['**/left/*.nc', 'parts/left/plate.nc'],
    ['**/*.nc', 'plate.nc'],
    ['plate (2).nc', 'plate (2).nc'],
    ['!a.nc', '!a.nc'],
    ['#a.nc', '#a.nc'],
    ['O1000', 'o1000'],
    ['.hidden*', '.hidden.nc'],
  ])('%s: %s', (pattern, path) => {
    expect(patternProblem(pattern)).toBeUndefined();
    expect(fitsPattern(pattern, path)).toBe(true);
  });
});

describe('what does not', () => {
  test.each([
    ['*.nc', 'plate.ncx'],
    ['bracket-*.nc', 'brackets/plate.nc'],
    ['parts/*.nc', 'parts/left/plate.nc'],
    ['parts/*.nc', 'more/parts/plate.nc'],
    ['parts/**', 'plate.nc'],
    ['**/*.nc', '../plate.nc'],
    ['part[0-9].nc', 'partx.nc'],
    ['!a.nc', 'b.nc'],
  ])('%s: %s', (pattern, path) => {
    expect(fitsPattern(pattern, path)).toBe(false);
  });
});

describe('patterns that no program can fit', () => {
  test.each([
    ['  ', 'empty'],
    ['a'.repeat(201), '200'],
    ['parts\\*.nc', '/'],
    ['/parts/*.nc', 'folder'],
    ['C:/parts/*.nc', 'folder'],
    ['./a.nc', 'Leave . and ..'],
    ['a/../b.nc', 'Leave . and ..'],
    ['parts/', '"parts/**"'],
    ['*a*b*c*d*e', '4 *'],
    ['**/a/**/b/**/c/**/d/**', '4 **'],
    ['part[0-9.nc', ']'],
    ['part0-9].nc', '['],
    ['{a,b.nc', '}'],
    ['a,b}.nc', '{'],
    ['part[9-0].nc', '9-0'],
    ['part[z-a].nc', 'z-a'],
  ])('%s', (pattern, words) => {
    expect(patternProblem(pattern)).toContain(words);
  });
});

test('a long name and a pattern with many * are judged at once', () => {
  expect(patternProblem('*a*a*a*b')).toBeUndefined();
  expect(fitsPattern('*a*a*a*b', `${'a'.repeat(80)}.nc`)).toBe(false);
});
