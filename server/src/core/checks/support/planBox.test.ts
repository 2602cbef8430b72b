/** Shares of ways against their definition: the way is walked in small steps. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { type Share, shareInBox } from './planBox.ts';
import { stockShape } from './stockShape.ts';

const STEPS = 4000;

/** The part of a way on which `holds` is true, found step by step. */
const walked = (x: number, y: number, dx: number, dy: number, holds: (x: number, y: number) => boolean): Share => {
  let from = 1;
  let to = -1;
  for (let i = 0; i <= STEPS; i++) {
    const t = i / STEPS;
    if (!holds(x + t * dx, y + t * dy)) continue;
    from = Math.min(from, t);
    to = t;
  }
  return { from, to };
};

const expectSame = (found: Share, truth: Share): void => {
  if (truth.to < 0) expect(Math.max(0, found.to - found.from)).toBeLessThan(2 / STEPS);
  else {
    expect(Math.abs(found.from - truth.from)).toBeLessThan(2 / STEPS);
    expect(Math.abs(found.to - truth.to)).toBeLessThan(2 / STEPS);
  }
};

describe('the share of a way', () => {
  it('in a box is what walking it finds', () => {
    const random = seeded(3);
    const near = () => random() * 40 - 20;
    for (let i = 0; i < 200; i++) {
      const box = { minX: -8, minY: -5, maxX: 9, maxY: 6 };
      const [x, y, dx, dy] = [near(), near(), near() * 2, random() < 0.2 ? 0 : near() * 2];
      const holds = (px: number, py: number) => px >= -8 && px <= 9 && py >= -5 && py <= 6;
      expectSame(shareInBox(box, x, y, dx, dy), walked(x, y, dx, dy, holds));
    }
  });

  it('over a round blank is what walking it finds', () => {
    const shape = stockShape({
      ...DEFAULT_CONFIGURATION,
      stock: { offset: 'G54', shape: 'cylinder', diameter: 20, centre: [3, -2], top: 0, bottom: -9 },
    });
    if (shape === undefined) throw new Error('No shape.');
    const random = seeded(4);
    const near = () => random() * 40 - 20;
    for (let i = 0; i < 200; i++) {
      const [x, y, dx, dy, margin] = [near(), near(), near() * 2, near() * 2, random() * 4 - 2];
      const holds = (px: number, py: number) => Math.hypot(px - 3, py + 2) <= 10 + margin;
      expectSame(shape.share(x, y, dx, dy, margin), walked(x, y, dx, dy, holds));
      expect(shape.holds(x, y, margin)).toBe(holds(x, y));
    }
  });

  it('of a place is all or nothing', () => {
    const box = { minX: 0, minY: 0, maxX: 1, maxY: 1 };
    expect(shareInBox(box, 0.5, 0.5, 0, 0)).toEqual({ from: 0, to: 1 });
    const outside = shareInBox(box, 2, 0.5, 0, 0);
    expect(outside.from).toBeGreaterThan(outside.to);
  });
});
