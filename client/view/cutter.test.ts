import { describe, expect, it } from 'vitest';
import { hullOf, outlineOf } from './cutter.ts';

describe('the outline of a cutter', () => {
  it('has the true diameter and the length of the flutes', () => {
    expect(outlineOf({ number: 1, description: '', kind: 'end-mill', diameter: 10, fluteLength: 22 })).toEqual([
      { radius: 5, height: 0 },
      { radius: 5, height: 0 },
      { radius: 5, height: 22 },
    ]);
  });

  it('is a half ball for a ball mill, and rounded at the corner by its radius', () => {
    for (const { kind, diameter, cornerRadius, corner } of [
      { kind: 'ball-mill', diameter: 8, cornerRadius: undefined, corner: 4 },
      { kind: 'end-mill', diameter: 8, cornerRadius: 1, corner: 1 },
    ]) {
      const rings =
        outlineOf({ number: 1, description: '', kind, diameter, ...(cornerRadius && { cornerRadius }) }) ?? [];
      expect(rings[0]).toEqual({ radius: diameter / 2 - corner, height: 0 });
      for (const { radius, height } of rings.slice(0, -1)) {
        // On a circle about the middle of the corner.
        expect(Math.hypot(radius - (diameter / 2 - corner), height - corner)).toBeCloseTo(corner, 9);
      }
      expect(rings.at(-1)?.radius).toBe(diameter / 2);
    }
  });

  it('ends in a point as high as angle and diameter say', () => {
    const [tip, shoulder] =
      outlineOf({ number: 1, description: '', kind: 'drill', diameter: 10, pointAngle: 118 }) ?? [];
    expect(tip).toEqual({ radius: 0, height: 0 });
    // 0.3 times the diameter for a drill of 118 degrees, handbook rule of thumb.
    expect(shoulder.height).toBeCloseTo(3, 1);
    expect(outlineOf({ number: 1, description: '', kind: 'spot-drill', diameter: 6 })?.[1].height).toBeCloseTo(3, 9);
  });

  it('is not known without a diameter', () => {
    expect(outlineOf({ number: 1, description: 'DRILL' })).toBeUndefined();
    expect(outlineOf({ number: 1, description: '', diameter: 0 })).toBeUndefined();
  });

  it('never narrows upward and never goes down, whatever the tool table says', () => {
    let seed = 7;
    const random = (): number => {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      return seed / 2147483648;
    };
    const kinds = ['end-mill', 'ball-mill', 'drill', 'tap', 'countersink', 'probe', 'other', ''];
    const wrong: unknown[] = [];
    for (let round = 0; round < 4000; round++) {
      const tool = {
        number: 1,
        description: '',
        kind: kinds[Math.floor(random() * kinds.length)],
        diameter: random() * 60 + 0.05,
        ...(random() < 0.5 && { cornerRadius: random() * 40 - 1 }),
        ...(random() < 0.5 && { pointAngle: random() * 200 - 10 }),
        ...(random() < 0.5 && { fluteLength: random() * 100 }),
      };
      const rings = outlineOf(tool) ?? [];
      const ascends = rings.slice(1).every(({ radius, height }, i) => {
        return radius >= rings[i].radius && height >= rings[i].height;
      });
      const isWide = Math.abs((rings.at(-1)?.radius ?? 0) - tool.diameter / 2) < 1e-9;
      if (!ascends || !isWide || rings[0].height !== 0) {
        wrong.push({ tool, rings });
      }
    }
    expect(wrong).toEqual([]);
  });
});

describe('the shape about places', () => {
  it('is the square about its inside', () => {
    const corners = [
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 4, y: 4 },
      { x: 0, y: 4 },
    ];
    expect(hullOf([{ x: 2, y: 2 }, ...corners, { x: 1, y: 3 }, { x: 2, y: 0 }])).toEqual(corners);
  });
});
