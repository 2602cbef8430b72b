import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Latest } from './latest.ts';

describe('Latest', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('sends the first at once and the last of many, with few in between', async () => {
    const sent: number[] = [];
    const latest = new Latest<number>(async (said) => sent.push(said));
    for (let line = 0; line < 1000; line++) {
      latest.say(line);
      await vi.advanceTimersByTimeAsync(1);
    }
    await vi.advanceTimersByTimeAsync(100);
    expect(sent[0]).toBe(0);
    expect(sent.at(-1)).toBe(999);
    expect(sent.length).toBeLessThan(40);
  });

  it('waits for the one that is under way', async () => {
    const sent: string[] = [];
    let arrive = (): void => undefined;
    const latest = new Latest<string>((said) => {
      sent.push(said);
      return new Promise<void>((resolve) => {
        arrive = resolve;
      });
    });
    for (const said of ['a', 'b', 'c']) latest.say(said);
    await vi.advanceTimersByTimeAsync(1000);
    expect(sent).toEqual(['a']);
    arrive();
    await vi.advanceTimersByTimeAsync(100);
    expect(sent).toEqual(['a', 'c']);
  });

  it('goes on behind one that failed', async () => {
    const sent: number[] = [];
    const latest = new Latest<number>(async (said) => {
      sent.push(said);
      throw new Error('gone');
    });
    latest.say(1);
    await vi.advanceTimersByTimeAsync(100);
    latest.say(2);
    await vi.advanceTimersByTimeAsync(100);
    expect(sent).toEqual([1, 2]);
  });
});
