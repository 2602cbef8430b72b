import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BEGINS_AGAIN, createPackedPath, PathStyle, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import { createPackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import type { ShownPiece } from './picture.ts';
import {
  blockEnd,
  blockStart,
  endPlace,
  isOver,
  lineOf,
  placeAt,
  pointOf,
  secondsOf,
  startPlace,
  totalSeconds,
  waits,
} from './playPosition.ts';

/** A vertex: line, style, seconds of the way to it, X. */
type Way = readonly [line: number, style: number, seconds: number, x: number];

const { none, rapid, cut } = PathStyle;

/** Pieces that begin at X0 each, with origins of their own. */
function run(...pieces: readonly (readonly Way[])[]): ShownPiece[] {
  let startSeconds = 0;
  return pieces.map((ways, id) => {
    const path = createPackedPath(ways.length, 0);
    const times = createPackedTimes(ways.length, startSeconds);
    path.origin[0] = 1000;
    let seconds = 0;
    ways.forEach(([line, style, taken, x], i) => {
      path.positions[i * 3] = x - 1000;
      path.codes[i] = (line << STYLE_BITS) | style;
      seconds += taken;
      times.seconds[i] = seconds;
    });
    const piece: ShownPiece = { id, firstLine: 100, path, startSeconds, seconds, times };
    startSeconds += seconds;
    return piece;
  });
}

// Two chords of one block, a wait, and in the second piece a cut without a time and a rapid.
const example = run(
  [
    [0, none, 0, 0],
    [1, rapid, 2, 20],
    [2, cut, 1, 30],
    [2, cut, 1, 40],
    [3, none, 4, 40],
  ],
  [
    [0, none, 0, 40],
    [5, cut, 0, 50],
    [6, rapid, 2, 70],
  ],
);

describe('a block that is run again right behind itself', () => {
  const again = run([
    [0, none, 0, 0],
    [2, cut, 1, 10],
    [2, cut, 1, 20],
    [2, cut | BEGINS_AGAIN, 1, 30],
    [2, cut, 1, 40],
    [2, cut | BEGINS_AGAIN, 1, 50],
  ]);

  it('is stepped pass by pass, forwards and back', () => {
    const at = (seconds: number) => placeAt(again, seconds)!;
    const ends = [0, 1.5, 2, 3, 4].map((seconds) => secondsOf(again, blockEnd(again, at(seconds))!));
    expect(ends).toEqual([2, 2, 4, 4, 5]);
    const starts = [5, 4.5, 4, 3, 2, 1].map((seconds) => secondsOf(again, blockStart(again, at(seconds))!));
    expect(starts).toEqual([4, 4, 2, 2, 0, 0]);
  });
});

describe('a place on the run', () => {
  it('is found by its second, with point, line and second again', () => {
    expect(totalSeconds(example)).toBe(10);
    expect([10, 10 - 1e-9, 9.999].map((seconds) => isOver(example, seconds))).toEqual([true, true, false]);
    for (const [seconds, x, line] of [
      [0, 0, undefined],
      [1, 10, 101],
      [2.5, 25, 102],
      [4, 40, 102],
      [6, 40, 103],
      [9, 60, 106],
      [10, 70, 106],
    ] as const) {
      const place = placeAt(example, seconds);
      expect(place && pointOf(example, place)?.[0]).toBeCloseTo(x, 9);
      expect(place && secondsOf(example, place)).toBeCloseTo(seconds, 9);
      expect(place && lineOf(example, place)).toBe(line);
      expect(place && waits(example, place)).toBe(seconds === 6);
    }
  });

  it('is not found where times are missing', () => {
    const [first, second] = example;
    const partly = [first, { ...second, times: undefined }];
    expect(placeAt(partly, 9)).toBeUndefined();
    expect(endPlace(partly)).toBeUndefined();
    expect(placeAt([], 0)).toBeUndefined();
    expect(placeAt(partly, 3)).toEqual({ piece: 0, vertex: 2, part: 1 });
  });

  it('has no point where no line leads to it or away from it', () => {
    const unknown = run([
      [0, none, 0, 1000],
      [1, none, 2, 3],
      [2, none, 4, 3],
      [3, rapid, 1, 5],
      [4, none, 1, 1000],
      [5, none, 1, 1000],
      [6, none, 1, 8],
      [7, cut, 1, 9],
    ]);
    expect(pointOf(unknown, { piece: 0, vertex: 0, part: 1 })).toBeUndefined();
    expect(pointOf(unknown, { piece: 0, vertex: 1, part: 0.5 })).toBeUndefined();
    const xs = [1, 2, 3, 4, 5, 6, 7].map((vertex) => pointOf(unknown, { piece: 0, vertex, part: 1 })?.[0]);
    expect(xs).toEqual([3, 3, 5, undefined, undefined, 8, 9]);
    const waiting = [1, 2, 3, 4, 5, 6, 7].filter((vertex) => waits(unknown, { piece: 0, vertex, part: 1 }));
    expect(waiting).toEqual([2]);
  });

  it('goes on block by block, over waits, pieces and blocks that take no time, and back the same way', () => {
    const ends: (readonly [number | undefined, number])[] = [];
    let place = startPlace(example);
    const forward = [];
    while (place) {
      forward.push(place);
      place = blockEnd(example, place);
      if (place) ends.push([lineOf(example, place), secondsOf(example, place)]);
    }
    expect(ends).toEqual([
      [101, 2],
      [102, 4],
      [103, 8],
      [105, 8],
      [106, 10],
    ]);
    const back = [];
    for (let at = endPlace(example); at; at = blockStart(example, at)) back.push(secondsOf(example, at));
    expect(back.reverse()).toEqual(forward.map((at) => secondsOf(example, at)));
  });

  it('inside a block goes to its end and its start', () => {
    const inside = placeAt(example, 3.25);
    expect(inside && secondsOf(example, blockEnd(example, inside) ?? inside)).toBe(4);
    expect(inside && secondsOf(example, blockStart(example, inside) ?? inside)).toBe(2);
  });

  it('is at its second on any run, and nothing earlier is', () => {
    const taken = fc.constantFrom(0, 0, 0.125, 1, 3);
    const way = fc.tuple(fc.nat(9), fc.constantFrom(cut, rapid), taken, fc.nat(50));
    const ways = fc.array(way, { minLength: 1, maxLength: 9 }).map((all): Way[] => [[0, none, 0, 0], ...all]);
    const pieces = fc.array(ways, { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(pieces, fc.double({ min: 0, max: 1, noNaN: true }), (given, part) => {
        const all = run(...given);
        const seconds = part * totalSeconds(all);
        const place = placeAt(all, seconds);
        expect(place).toBeDefined();
        if (!place) return;
        expect(secondsOf(all, place)).toBeCloseTo(seconds, 9);
        if (place.vertex > 0) {
          expect(secondsOf(all, { ...place, vertex: place.vertex - 1, part: 1 })).toBeLessThan(seconds + 1e-9);
        }
      }),
      { numRuns: 3000, seed: 4 },
    );
  });
});
