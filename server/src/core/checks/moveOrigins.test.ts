import { describe, expect, it } from 'vitest';
import { MoveOrigins, originOfMove } from './moveOrigins.ts';

describe('origins of moves', () => {
  const gathered = new MoveOrigins();
  const places = Array.from({ length: 1000 }, (_, i) => ({ program: 12_345_678, file: i % 3, line: i }));
  // Two moves each, and one of the program's own between them.
  for (const [i, place] of places.entries()) gathered.add(i * 3 + 1, i * 3 + 3, place);
  const packed = gathered.packed();

  it('are found for each move, and none for the program’s own', () => {
    places.forEach((place, i) => {
      expect(originOfMove(packed, i * 3)).toBeUndefined();
      expect(originOfMove(packed, i * 3 + 1)).toEqual(place);
      expect(originOfMove(packed, i * 3 + 2)).toEqual(place);
    });
    expect(originOfMove(packed, 3000)).toBeUndefined();
  });

  it('are not there where no other file ran', () => {
    expect(new MoveOrigins().packed()).toBeUndefined();
    expect(originOfMove(undefined, 0)).toBeUndefined();
  });
});
