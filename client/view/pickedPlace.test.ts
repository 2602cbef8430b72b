import { describe, expect, it } from 'vitest';
import { createPackedPath, ROW_WIDTH, RowField } from '../../server/src/core/geometry/packedLayout.ts';
import { placeOf } from './pickedPlace.ts';

describe('placeOf', () => {
  const path = createPackedPath(3, 0, 2);
  path.origin.set([100, 0, -5]);
  path.positions.set([0, 0, 0, 10, 0, 0, 10, 4, -2]);
  path.rows[RowField.pass] = 1;
  path.rows[ROW_WIDTH + RowField.pass] = 2;
  path.rowOf.set([0, 0, 1]);
  const pieces = [{ id: 7, firstLine: 0, path, startSeconds: 0, seconds: 0 }];

  it('is half-way along the move, in work coordinates', () => {
    expect(placeOf(pieces, { piece: 7, vertex: 1 })).toEqual({ pass: 1, at: [105, 0, -5] });
    expect(placeOf(pieces, { piece: 7, vertex: 2 })).toEqual({ pass: 2, at: [110, 2, -6] });
  });

  it('is nowhere once the piece has gone', () => {
    expect(placeOf(pieces, { piece: 8, vertex: 1 })).toBeUndefined();
    expect(placeOf(pieces, { piece: 7, vertex: 3 })).toBeUndefined();
    expect(placeOf(pieces, { piece: 7, vertex: 0 })).toBeUndefined();
  });
});
