import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { isLarge, Pace } from './pace.ts';

const large = { ways: 100_000, isGrowing: false };

describe('the pace of the pictures', () => {
  const rested = vi.fn();
  const withCard = (): Pace => new Pace(false, rested);
  const withoutCard = (): Pace => new Pace(true, rested);

  beforeEach(() => {
    vi.useFakeTimers();
    rested.mockClear();
  });
  afterEach(() => vi.useRealTimers());

  it('never takes thin lines for a small path', () => {
    const pace = withoutCard();
    pace.moved();
    expect(isLarge(5_000)).toBe(false);
    expect(pace.thinness({ ways: 5_000, isGrowing: true })).toBeUndefined();
  });

  it('always takes them for a large path where there is no card, exact ones at rest', () => {
    const pace = withoutCard();
    expect(pace.thinness(large)).toBe(0.5);
    pace.moved();
    expect(pace.thinness(large)).toBe(2);
  });

  it('takes them with a card while the camera moves, until wide lines are known to be quick', () => {
    const pace = withCard();
    expect(pace.thinness(large)).toBeUndefined();
    pace.moved();
    expect(pace.thinness(large)).toBe(2);
    pace.took(10, 0, large.ways, true, false);
    expect(pace.thinness(large)).toBeUndefined();
    expect(pace.thinness({ ...large, ways: 600_000 })).toBe(2);
  });

  it('takes them also at rest where wide ones took too long', () => {
    const pace = withCard();
    pace.took(1_500, 0, large.ways, true, false);
    expect(pace.thinness(large)).toBe(0.5);
    expect(pace.restsThin(large)).toBe(true);
    expect(pace.thinness({ ...large, ways: 50_000 })).toBeUndefined();
    expect(pace.restsThin({ ...large, ways: 50_000 })).toBe(false);
  });

  it('learns nothing about wide lines from thin ones, nor from a first picture', () => {
    const pace = withCard();
    pace.moved();
    pace.took(10, 0, large.ways, false, false);
    pace.took(10, 0, large.ways, true, true);
    expect(pace.thinness(large)).toBe(2);
  });

  it('tells when the camera rests', () => {
    const pace = withCard();
    pace.moved();
    vi.advanceTimersByTime(150);
    pace.moved();
    vi.advanceTimersByTime(150);
    expect(rested).not.toHaveBeenCalled();
    vi.advanceTimersByTime(60);
    expect(rested).toHaveBeenCalledOnce();
    expect(pace.thinness(large)).toBeUndefined();
  });

  it('leaves time between slow pictures while pieces come', () => {
    const pace = withoutCard();
    const growing = { ...large, isGrowing: true };
    expect(pace.pause(1_000, growing)).toBeLessThanOrEqual(0);
    pace.took(300, 1_000, large.ways, false, false);
    expect(pace.pause(1_100, growing)).toBe(500);
    expect(pace.pause(1_600, growing)).toBeLessThanOrEqual(0);
    expect(pace.pause(1_100, large)).toBeLessThanOrEqual(0);
    pace.took(20, 1_000, large.ways, false, false);
    expect(pace.pause(1_001, growing)).toBeLessThanOrEqual(0);
  });
});
