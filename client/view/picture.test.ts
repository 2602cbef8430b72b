import { describe, expect, it } from 'vitest';
import { createPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import { createPackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import type { PathIndex } from '../../server/src/core/geometry/pathRequest.ts';
import { Picture } from './picture.ts';

const indexOf = (...ids: number[]): PathIndex => ({
  version: 1,
  inch: false,
  pieces: ids.map((id, i) => ({ id, firstLine: i * 10, vertices: 2, seconds: 5 })),
  findings: [],
  unplaced: 0,
});

function dataOf(greatest: number): ArrayBuffer {
  const path = createPackedPath(2, 0);
  path.bounds.set([0, 0, 0, greatest, 1, 1]);
  return path.buffer;
}

const timesOf = (vertices: number): ArrayBuffer => createPackedTimes(vertices, 0).buffer;

const shown = (picture: Picture): number[] => picture.pieces.map(({ id }) => id);

describe('Picture', () => {
  it('shows a first picture as it comes, in the order of the program', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1, 2));
    expect(picture.takePiece(2, dataOf(5))).toBe(true);
    expect(shown(picture)).toEqual([2]);
    expect(picture.complete).toBe(false);
    picture.takePiece(1, dataOf(9));
    expect(shown(picture)).toEqual([1, 2]);
    expect(picture.complete).toBe(true);
    expect(picture.bounds('bounds')[3]).toBe(9);
  });

  it('shows it as it comes too where the program had not been run yet when it was asked for first', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1));
    picture.takePiece(1, createPackedPath(1, 0).buffer);
    expect(picture.complete).toBe(true);
    picture.takeIndex(indexOf(2, 3));
    expect(picture.takePiece(2, dataOf(5))).toBe(true);
    expect(shown(picture)).toEqual([2]);
    expect(picture.complete).toBe(false);
  });

  it('keeps the last good picture until all of the new one is there', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1, 2));
    picture.takePiece(1, dataOf(1));
    picture.takePiece(2, dataOf(2));
    expect(picture.takeIndex(indexOf(1, 3, 4))).toBe(false);
    expect(shown(picture)).toEqual([1, 2]);
    picture.takePiece(3, dataOf(3));
    expect(shown(picture)).toEqual([1, 2]);
    picture.takePiece(4, dataOf(4));
    expect(shown(picture)).toEqual([1, 3, 4]);
    expect(picture.pieces[2].firstLine).toBe(20);
  });

  it('takes up a piece again that a newer list brings back, and waits for one that never came', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1));
    picture.takePiece(1, dataOf(1));
    picture.takeIndex(indexOf(2));
    expect(picture.takeIndex(indexOf(1))).toBe(true);
    expect(picture.complete).toBe(true);
    picture.takeIndex(indexOf(2));
    expect(picture.takePiece(1, dataOf(1))).toBe(false);
    picture.takePiece(2, dataOf(2));
    expect(shown(picture)).toEqual([2]);
  });

  it('becomes empty with the program', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1));
    picture.takePiece(1, dataOf(1));
    expect(picture.takeIndex(indexOf())).toBe(true);
    expect(shown(picture)).toEqual([]);
    expect(picture.complete).toBe(true);
    expect(picture.bounds('bounds')[0]).toBe(Infinity);
  });

  it('knows when each piece starts, and takes its times', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1, 2));
    picture.takePiece(1, dataOf(1));
    picture.takePiece(2, dataOf(2));
    expect(picture.takeTimes(2, timesOf(2))).toBe(true);
    expect(picture.pieces.map(({ startSeconds, seconds }) => [startSeconds, seconds])).toEqual([
      [0, 5],
      [5, 5],
    ]);
    expect(picture.pieces.map(({ times }) => times?.seconds.length)).toEqual([undefined, 2]);
    // Another piece before it: it starts later, its own times stay.
    picture.takeIndex(indexOf(1, 3, 2));
    picture.takePiece(3, dataOf(3));
    expect(picture.pieces[2].startSeconds).toBe(10);
    expect(picture.pieces[2].times?.seconds.length).toBe(2);
  });

  it('takes no times of a piece that it has not, or that has another number of vertices', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1));
    expect(picture.takeTimes(1, timesOf(2))).toBe(false);
    picture.takePiece(1, dataOf(1));
    expect(picture.takeTimes(1, timesOf(3))).toBe(false);
    expect(picture.takeTimes(1, new ArrayBuffer(40))).toBe(false);
    expect(picture.takeTimes(7, timesOf(2))).toBe(false);
  });

  it('takes no data that is not a piece', () => {
    const picture = new Picture();
    picture.takeIndex(indexOf(1));
    expect(picture.takePiece(1, new ArrayBuffer(200))).toBe(false);
    expect(picture.complete).toBe(false);
  });
});
