import { expect, test } from 'vitest';
import { gCodeName, mCodeName } from './codes.ts';
import { drillDiameterByName } from './drillSizes.ts';
import { isoThreadSizes } from './isoThreads.ts';
import { nearestPitches } from './nearestPitches.ts';
import { unifiedThread, unifiedThreadSizes } from './unifiedThreads.ts';

test('metric sizes rise, and every fine pitch is below the coarse one', () => {
  const diameters = isoThreadSizes.map((size) => size.diameter);
  expect(diameters).toEqual([...new Set(diameters)].sort((a, b) => a - b));
  for (const { coarse, fine } of isoThreadSizes) {
    expect([...fine]).toEqual([...fine].sort((a, b) => b - a));
    if (coarse !== undefined && fine[0] !== undefined) expect(fine[0]).toBeLessThan(coarse);
  }
});

test('numbered unified sizes follow 0.060 + 0.013 n inch', () => {
  const numbered = unifiedThreadSizes.filter((entry) => entry.size.startsWith('#'));
  expect(numbered.length).toBeGreaterThan(15);
  for (const { size, diameterInch } of numbered)
    expect(diameterInch).toBeCloseTo(0.06 + 0.013 * Number(size.slice(1)), 9);
});

test('a unified size without a match is undefined', () => {
  expect(unifiedThread('1/4', { threadsPerInch: 21 })).toBeUndefined();
  expect(unifiedThread('#10', { series: 'UNF' })?.threadsPerInch).toBe(32);
});

test('number drills shrink and letter drills grow', () => {
  const numbers = Array.from({ length: 60 }, (_, index) => drillDiameterByName(String(index + 1)) ?? Number.NaN);
  for (let index = 1; index < 60; index++) expect(numbers[index]).toBeLessThan(numbers[index - 1] as number);
  expect(drillDiameterByName('7')).toBeCloseTo(5.1054, 9);
  expect(drillDiameterByName('Z')).toBeCloseTo(10.4902, 9);
  expect(drillDiameterByName('61')).toBeUndefined();
});

test('standard pitches near a measured one', () => {
  expect(nearestPitches(1.25, 2)).toEqual([
    { name: 'P1.25 (M8, M10 fine)', pitch: 1.25 },
    { name: '20 TPI (1/4-20 UNC)', pitch: 1.27 },
  ]);
  expect(nearestPitches(0.98, 1)[0]?.name).toBe('P1 (M6, M8 fine)');
  // 25.4 / 19 = 1.3368; 25.4 / 11.5 = 2.2087.
  expect(nearestPitches(1.337, 1)[0]?.name).toBe('19 TPI (G1/4)');
  expect(nearestPitches(2.209, 1)[0]?.name).toBe('11.5 TPI (1 NPT)');
});

test('every code of the modal groups has a name', () => {
  const codes = [
    0, 1, 2, 3, 4, 9, 10, 15, 16, 17, 18, 19, 20, 21, 28, 30, 33, 38.2, 40, 41, 42, 43, 44, 49, 50, 50.1, 51, 51.1, 52,
    53,
  ];
  codes.push(54, 54.1, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3, 61, 61.1, 63, 64, 65, 66, 67, 68, 69, 70, 71, 73, 74, 76);
  codes.push(80, 81, 82, 83, 84, 85, 86, 87, 88, 89, 90, 90.1, 91, 91.1, 92, 92.1, 93, 94, 95, 96, 97, 98, 99);
  for (const code of codes) expect(gCodeName(Math.round(code * 10)), `G${code}`).toBeTruthy();
  for (const code of [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 17, 19, 30, 48, 49, 98, 99])
    expect(mCodeName(code), `M${code}`).toBeTruthy();
  expect(gCodeName(1234)).toBeUndefined();
  expect(mCodeName(77)).toBeUndefined();
});
