import { describe, expect, it } from 'vitest';
import {
  createPackedPath,
  PathStyle,
  RowBit,
  RowField,
  STYLE_BITS,
} from '../../server/src/core/geometry/packedLayout.ts';
import { createPackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import type { ShownPiece } from './picture.ts';
import { endPlace, secondsOf, startPlace } from './playPosition.ts';
import { stepBack, stepOn } from './playSteps.ts';

/** A vertex: line, style, X and Z; each way takes a second. */
type Way = readonly [line: number, style: number, x: number, z: number];

const { none, rapid, cut, plunge } = PathStyle;

function run(ways: readonly Way[], bits: number): ShownPiece[] {
  const path = createPackedPath(ways.length, 0);
  const times = createPackedTimes(ways.length, 0);
  path.rows[RowField.bits] = bits;
  ways.forEach(([line, style, x, z], i) => {
    path.positions.set([x, 0, z], i * 3);
    path.codes[i] = (line << STYLE_BITS) | style;
    times.seconds[i] = i;
  });
  return [{ id: 1, firstLine: 0, path, startSeconds: 0, seconds: ways.length - 1, times }];
}

/** All stops by steps on, and all by steps back. */
function stepped(pieces: readonly ShownPiece[]): [number[], number[]] {
  const all = [stepOn, stepBack].map((step, i) => {
    const seconds: number[] = [];
    let at = i === 0 ? startPlace(pieces) : endPlace(pieces);
    while (at) {
      at = step(pieces, at);
      if (at) seconds.push(secondsOf(pieces, at));
    }
    return seconds;
  });
  return [all[0], all[1]];
}

const HOLES: readonly Way[] = [
  [0, none, 0, 30],
  [1, rapid, 10, 30],
  [1, rapid, 10, 2],
  [1, plunge, 10, -5],
  [1, rapid, 10, 2],
  [1, rapid, 10, -4],
  [1, plunge, 10, -10],
  [1, rapid, 10, 30],
  [2, rapid, 20, 30],
  [2, rapid, 20, 2],
  [2, plunge, 20, -10],
  [2, none, 20, -10],
  [2, plunge, 20, 2],
];

describe('single steps', () => {
  it('go to the bottom of each hole of a cycle, then to the end of its block, and the same back', () => {
    expect(stepped(run(HOLES, RowBit.cycle))).toEqual([
      [6, 7, 10, 12],
      [10, 7, 6, 0],
    ]);
  });

  it('go to the bottom of each of several holes of one block', () => {
    const ways = HOLES.slice(8);
    const twice = [HOLES[0], ...ways, ...ways.map(([line, style, x, z]): Way => [line, style, x + 10, z])];
    expect(stepped(run(twice, RowBit.cycle))[0]).toEqual([3, 8, 10]);
  });

  it('go from block to block elsewhere, however deep', () => {
    expect(stepped(run(HOLES, 0))).toEqual([
      [7, 12],
      [7, 0],
    ]);
    expect(stepped(run([HOLES[0], [1, cut, 5, 0], [1, cut, 6, 0]], RowBit.cycle))[0]).toEqual([2]);
  });
});
