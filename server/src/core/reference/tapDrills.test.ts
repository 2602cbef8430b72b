import { describe, expect, test } from 'vitest';
import { isoThreadSizes } from './isoThreads.ts';
import { tapDrillOf } from './tapDrills.ts';
import { cutEngagement, formedEngagement } from './threadMeasures.ts';
import { parseThread } from './threadName.ts';
import { unifiedThreadSizes } from './unifiedThreads.ts';

const threadOf = (name: string) => parseThread(name) ?? expect.fail(`${name} is no thread`);

describe('drills for tapped holes', () => {
  test('every metric size has one that leaves between half and nine tenths of a thread', () => {
    for (const { diameter, coarse, fine } of isoThreadSizes) {
      for (const pitch of [...(coarse === undefined ? [] : [coarse]), ...fine]) {
        const drill = tapDrillOf(threadOf(`M${diameter}X${pitch}`))?.diameter ?? Number.NaN;
        const share = cutEngagement(diameter, drill, pitch);
        expect(share, `M${diameter}X${pitch} in ${drill}`).toBeGreaterThan(60);
        expect(share, `M${diameter}X${pitch} in ${drill}`).toBeLessThan(90);
      }
    }
  });

  test('so has every unified size', () => {
    for (const { size, threadsPerInch, series, diameterInch } of unifiedThreadSizes) {
      const drill = tapDrillOf(threadOf(`${size}-${threadsPerInch} ${series}`))?.diameter ?? Number.NaN;
      const share = cutEngagement(diameterInch * 25.4, drill, 25.4 / threadsPerInch);
      expect(share, `${size}-${threadsPerInch} in ${drill}`).toBeGreaterThan(55);
      expect(share, `${size}-${threadsPerInch} in ${drill}`).toBeLessThan(90);
    }
  });

  test('a forming tap takes a wider one', () => {
    expect(tapDrillOf(threadOf('M6'), true)).toEqual({ diameter: 5.5, name: undefined });
    expect(formedEngagement(6, 5.5, 1)).toBeCloseTo(73.53, 2);
  });

  test('pipe threads have theirs by table', () => {
    expect(tapDrillOf(threadOf('G1/4'))?.diameter).toBe(11.8);
    expect(tapDrillOf(threadOf('1/8 NPT'))?.diameter).toBe(8.6);
  });
});
