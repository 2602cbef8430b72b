import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Pace } from './pace.ts';

describe('the pace of the pictures', () => {
  const rested = vi.fn();
  let pace: Pace;

  beforeEach(() => {
    vi.useFakeTimers();
    rested.mockClear();
    pace = new Pace(rested);
  });
  afterEach(() => vi.useRealTimers());

  it('takes thin lines once a picture came late while the camera moves, until it rests', () => {
    pace.moved();
    pace.waited(16);
    expect(pace.isThin).toBe(false);
    pace.waited(120);
    expect(pace.isThin).toBe(true);
    vi.advanceTimersByTime(150);
    pace.moved();
    pace.waited(16);
    vi.advanceTimersByTime(150);
    expect(pace.isThin).toBe(true);
    expect(rested).not.toHaveBeenCalled();
    vi.advanceTimersByTime(60);
    expect(pace.isThin).toBe(false);
    expect(rested).toHaveBeenCalledOnce();
  });

  it('never takes them while the camera rests, and says nothing where none were drawn', () => {
    pace.waited(500);
    expect(pace.isThin).toBe(false);
    pace.moved();
    vi.advanceTimersByTime(1_000);
    pace.waited(500);
    expect(pace.isThin).toBe(false);
    expect(rested).not.toHaveBeenCalled();
  });
});
