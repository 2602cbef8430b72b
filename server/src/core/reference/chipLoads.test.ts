import { describe, expect, it } from 'vitest';
import { chipLoadRange } from './chipLoads.ts';

// Common practice, no source: what is held here is the table's shape, not its truth.
describe('chipLoadRange', () => {
  it('gives the rows, what lies between them, and the ends beyond', () => {
    expect(chipLoadRange('end-mill', 10)).toEqual([0.015, 0.25]);
    expect(chipLoadRange('end-mill', 8)).toEqual([expect.closeTo(0.0125), expect.closeTo(0.205)]);
    expect(chipLoadRange('end-mill', 0.2)).toEqual([0.0005, 0.015]);
    expect(chipLoadRange('end-mill', 40)).toEqual([0.03, 0.5]);
    expect(chipLoadRange('face-mill', 63)).toEqual([0.03, 0.6]);
  });

  it('grows with the diameter', () => {
    for (const kind of ['end-mill', 'drill'] as const) {
      for (let diameter = 1; diameter < 25; diameter++) {
        const [least, most] = chipLoadRange(kind, diameter) ?? [0, 0];
        const [nextLeast, nextMost] = chipLoadRange(kind, diameter + 1) ?? [0, 0];
        expect(nextLeast).toBeGreaterThan(least);
        expect(nextMost).toBeGreaterThan(most);
        expect(most).toBeGreaterThan(4 * least);
      }
    }
  });

  it('judges neither other kinds nor no diameter', () => {
    expect(chipLoadRange('tap', 6)).toBeUndefined();
    expect(chipLoadRange('drill', Number.NaN)).toBeUndefined();
  });
});
