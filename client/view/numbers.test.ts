import { describe, expect, it } from 'vitest';
import { angleText, extentTexts, gridStep, gridText, lengthText } from './numbers.ts';

describe('lengths', () => {
  it('are written in the unit of the program', () => {
    expect(lengthText(12.34567, false)).toBe('12.346');
    expect(lengthText(-25.4, true)).toBe('−1.0000');
    expect(lengthText(-0.0001, false)).toBe('0.000');
  });

  it('have angles beside them in degrees', () => {
    expect([53.13010235, -0.0001, -45].map(angleText)).toEqual(['53.130°', '0.000°', '−45.000°']);
  });

  it('give from, to and how far', () => {
    expect(extentTexts([0, -5, -2, 60, 5, 0], false)).toEqual([
      'X 0.000 to 60.000 = 60.000',
      'Y −5.000 to 5.000 = 10.000',
      'Z −2.000 to 0.000 = 2.000',
    ]);
    expect(extentTexts([Infinity, 0, 0, -Infinity, 0, 0], false)).toEqual([]);
  });
});

describe('the grid', () => {
  it('goes by 1, 2 and 5 of the unit, never nearer than asked', () => {
    expect(gridStep(10, false, 24)).toBe(5);
    expect(gridStep(24, false, 24)).toBe(1);
    expect(gridStep(0.01, false, 24)).toBe(5000);
    expect(gridStep(10, true, 24)).toBeCloseTo(2.54, 9);
    for (let scale = 0.001; scale < 1e4; scale *= 1.7) {
      expect(gridStep(scale, false, 24) * scale).toBeGreaterThanOrEqual(24 * 0.999);
      expect(gridStep(scale, false, 24) * scale).toBeLessThanOrEqual(60.001);
    }
  });

  it('has numbers as short as the step allows', () => {
    expect(gridText(50, 10, false)).toBe('50');
    expect(gridText(-0.4, 0.2, false)).toBe('−0.4');
    expect(gridText(12.7, 2.54, true)).toBe('0.5');
  });
});
