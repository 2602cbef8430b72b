// The PNG reader, against pictures whose every filter is used. Format: ISO/IEC 15948.
import { deflateSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { readPng } from './picture.ts';

/** A picture written by hand: each row with its filter number, bytes already filtered. */
function png(width: number, kind: 2 | 6, rows: readonly (readonly number[])[]): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(rows.length, 4);
  header.set([8, kind, 0, 0, 0], 8);
  const chunk = (name: string, data: Buffer): Buffer => {
    const length = Buffer.alloc(4);
    length.writeUInt32BE(data.length);
    return Buffer.concat([length, Buffer.from(name, 'latin1'), data, Buffer.alloc(4)]);
  };
  const data = deflateSync(Buffer.from(rows.flat()));
  return Buffer.concat([Buffer.alloc(8), chunk('IHDR', header), chunk('IDAT', data), chunk('IEND', Buffer.alloc(0))]);
}

it('undoes every filter', () => {
  const picture = readPng(
    png(2, 2, [
      [0, 10, 20, 30, 40, 50, 60],
      [1, 10, 20, 30, 30, 30, 30],
      [2, 1, 1, 1, 1, 1, 1],
      [3, 6, 11, 16, 21, 21, 21],
      [4, 1, 1, 1, 1, 1, 1],
    ]),
  );
  expect([picture.width, picture.height]).toEqual([2, 5]);
  expect([picture.colour(0, 0), picture.colour(1, 0)]).toEqual([
    [10, 20, 30],
    [40, 50, 60],
  ]);
  expect(picture.colour(1, 1)).toEqual([40, 50, 60]);
  expect(picture.colour(1, 2)).toEqual([41, 51, 61]);
  // Mean of left and up: (0 + 11) >> 1 = 5, 5 + 6 = 11; then (11 + 41) >> 1 = 26, 26 + 21 = 47.
  expect([picture.colour(0, 3)[0], picture.colour(1, 3)[0]]).toEqual([11, 47]);
  // Nearest: up (11) at the left edge; then left 12, up 47, corner 11: 12 + 47 − 11 = 48, nearest is up.
  expect([picture.colour(0, 4)[0], picture.colour(1, 4)[0]]).toEqual([12, 48]);
});

it('reads pictures with transparency, and refuses places outside', () => {
  const picture = readPng(png(1, 6, [[0, 1, 2, 3, 255]]));
  expect(picture.colour(0, 0)).toEqual([1, 2, 3]);
  expect(() => picture.colour(1, 0)).toThrow('outside');
});
