import { describe, expect, it } from 'vitest';
import { putAside } from './marks.ts';

describe('marks on findings', () => {
  it('stay where they are while each has a place of its own', () => {
    const places = [
      { x: 10, y: 10 },
      { x: 60, y: 10 },
    ];
    expect(putAside(places)).toEqual([
      { x: 0, y: 0 },
      { x: 0, y: 0 },
    ]);
  });

  it('stand side by side, then in further rows, where they lie on one place', () => {
    const aside = putAside(Array.from({ length: 8 }, () => ({ x: 100, y: 50 })));
    expect(aside[1]).toEqual({ x: 18, y: 0 });
    expect(aside[7]).toEqual({ x: 18, y: 18 });
    expect(new Set(aside.map(({ x, y }) => `${x} ${y}`)).size).toBe(8);
  });
});
