import { describe, expect, it } from 'vitest';
import type { PathSummary } from '../../server/src/core/geometry/pathSummary.ts';
import { RunClock } from './clock.ts';
import { type RunStop, stopsOf } from './playbackStops.ts';

const stop = (seconds: number, kind: RunStop['kind'] = 'stop', line = 7): RunStop => ({ kind, line, seconds });

/** Pictures of the screen, 20 ms apart, until the clock stands; what it was held by. */
function play(clock: RunClock, total: number, stops: readonly RunStop[] = []): { held: RunStop[]; pictures: number } {
  clock.run();
  let pictures = 0;
  let held: RunStop[] = [];
  while (clock.isRunning && pictures < 10_000) {
    held = clock.tick(5000 + 20 * pictures++, total, stops);
  }
  return { held, pictures };
}

describe('RunClock', () => {
  it('reaches the end exactly, at its rate', () => {
    const clock = new RunClock();
    expect(Math.abs(play(clock, 1.23).pictures - 63)).toBeLessThanOrEqual(1);
    expect(clock.seconds).toBe(1.23);
    clock.set(0);
    clock.rate = 0.25;
    // The sum of many parts of a second may need one picture more.
    expect(Math.abs(play(clock, 1.23).pictures - 247)).toBeLessThanOrEqual(1);
    clock.set(0);
    clock.rate = 100;
    expect(Math.abs(play(clock, 1000).pictures - 501)).toBeLessThanOrEqual(1);
    expect(clock.seconds).toBe(1000);
  });

  it('is held by each stop once, by those of one second together', () => {
    const clock = new RunClock();
    const stops = [stop(0.5), stop(0.5 + 1e-9, 'toolChange', 8), stop(0.8)];
    expect(play(clock, 2, stops).held.map(({ line }) => line)).toEqual([7, 8]);
    expect(clock.seconds).toBe(0.5);
    expect(play(clock, 2, stops).held).toEqual([stops[2]]);
    expect(play(clock, 2, stops).held).toEqual([]);
    expect(clock.seconds).toBe(2);
  });

  it('goes on by a second at most where pictures have not come for long', () => {
    const clock = new RunClock();
    clock.run();
    clock.tick(0, 100, []);
    clock.tick(60_000, 100, []);
    expect(clock.seconds).toBe(1);
    clock.pause();
    clock.tick(61_000, 100, []);
    clock.run();
    clock.tick(90_000, 100, []);
    expect(clock.seconds).toBe(1);
  });
});

describe('stopsOf', () => {
  const section = (number: number, startSeconds: number): PathSummary['sections'][number] => ({
    tool: { number, description: '' },
    firstLine: number * 10,
    start: { piece: 1, vertex: 0 },
    startSeconds,
    seconds: 1,
    cutLength: 0,
    rapidLength: 0,
  });
  const at = { piece: 1, vertex: 0 };
  const summary: PathSummary = {
    ...{ seconds: 9, cutSeconds: 9, rapidSeconds: 0, waitSeconds: 0, cutLength: 0, rapidLength: 0 },
    ...{ moreSections: 0, offsets: [], untimed: 0 },
    sections: [section(1, 0), section(2, 4)],
    stops: [
      { kind: 'optional', line: 19, at, seconds: 4 },
      { kind: 'stop', line: 25, at, seconds: 6 },
    ],
  };

  it('has M0 always, M1 and tool changes where they are wanted, in their order', () => {
    const kinds = (atToolChanges: boolean, atOptional: boolean): string[] =>
      stopsOf(summary, { atToolChanges, atOptional }).map(({ kind }) => kind);
    expect(kinds(false, false)).toEqual(['stop']);
    expect(kinds(false, true)).toEqual(['optional', 'stop']);
    expect(kinds(true, true)).toEqual(['optional', 'toolChange', 'stop']);
    expect(stopsOf(undefined, { atToolChanges: true, atOptional: true })).toEqual([]);
  });
});
