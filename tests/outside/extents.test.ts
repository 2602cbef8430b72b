// Extents and lengths of arcs against general geometry libraries: @flatten-js/core (circles, exact boxes) and three
// (curves, sampled densely). Spirals and helices of a blended radius are in neither; they are held against dense points
// of three's curve with the radius blended by hand.
import { Arc as FlattenArc, point } from '@flatten-js/core';
import fc from 'fast-check';
import { Curve, EllipseCurve, Vector3 } from 'three';
import { describe, expect, test } from 'vitest';
import { arcExtents, arcLength, type PlaneArc } from '../../server/src/core/geometry/arcMeasure.ts';

const anyArc = fc.record({
  centreFirst: fc.double({ min: -500, max: 500, noNaN: true }),
  centreSecond: fc.double({ min: -500, max: 500, noNaN: true }),
  radius: fc.double({ min: 0.1, max: 300, noNaN: true }),
  startAngle: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
  sweep: fc.oneof(fc.double({ min: -6.28, max: -0.01, noNaN: true }), fc.double({ min: 0.01, max: 6.28, noNaN: true })),
});

/** A helix whose radius is blended over the angle, as a curve of three. */
class BlendedHelix extends Curve<Vector3> {
  readonly arc: PlaneArc;
  readonly rise: number;

  constructor(arc: PlaneArc, rise: number) {
    super();
    this.arc = arc;
    this.rise = rise;
  }

  override getPoint(t: number, target = new Vector3()): Vector3 {
    const { centreFirst, centreSecond, radius, endRadius, startAngle, sweep } = this.arc;
    const r = radius * (1 - t) + endRadius * t;
    const angle = startAngle + sweep * t;
    return target.set(centreFirst + r * Math.cos(angle), centreSecond + r * Math.sin(angle), this.rise * t);
  }
}

/**
 * Arcs whose ends lie more than a degree beside the axes: flatten-js leaves out a turning point that lies close to an end
 * (its tolerance), so those arcs are left to three.
 */
const arcBesideAxes = fc
  .record({
    arc: anyArc,
    quarter: fc.integer({ min: -2, max: 1 }),
    offset: fc.double({ min: 0.02, max: 1.55, noNaN: true }),
    quarters: fc.integer({ min: -3, max: 3 }),
    endOffset: fc.double({ min: 0.02, max: 1.55, noNaN: true }),
  })
  .map(({ arc, quarter, offset, quarters, endOffset }) => {
    const startAngle = (quarter * Math.PI) / 2 + offset;
    return { ...arc, startAngle, sweep: (quarters * Math.PI) / 2 + endOffset - offset || 0.01 };
  });

describe('arcs of one radius', () => {
  test('extents are those of flatten-js', () => {
    fc.assert(
      fc.property(arcBesideAxes, (arc) => {
        const { centreFirst, centreSecond, radius, startAngle, sweep } = arc;
        const centre = point(centreFirst, centreSecond);
        const { box } = new FlattenArc(centre, radius, startAngle, startAngle + sweep, sweep > 0);
        const own = arcExtents({ ...arc, endRadius: radius });
        expect(own.minFirst).toBeCloseTo(box.xmin, 9);
        expect(own.maxFirst).toBeCloseTo(box.xmax, 9);
        expect(own.minSecond).toBeCloseTo(box.ymin, 9);
        expect(own.maxSecond).toBeCloseTo(box.ymax, 9);
      }),
      { numRuns: 500, seed: 20 },
    );
  });

  test('they hold every point of the curve of three, and touch it', () => {
    fc.assert(
      fc.property(anyArc, (arc) => {
        const end = arc.startAngle + arc.sweep;
        const curve = new EllipseCurve(
          arc.centreFirst,
          arc.centreSecond,
          arc.radius,
          arc.radius,
          arc.startAngle,
          end,
          arc.sweep < 0,
        );
        expectTight(arcExtents({ ...arc, endRadius: arc.radius }), curve.getPoints(4000), arc.radius * 1e-6);
      }),
      { numRuns: 50, seed: 21 },
    );
  });
});

describe('helices and blended radii', () => {
  const anyHelix = fc.record({
    arc: fc.record({
      centreFirst: fc.double({ min: -50, max: 50, noNaN: true }),
      centreSecond: fc.double({ min: -50, max: 50, noNaN: true }),
      radius: fc.double({ min: 0.1, max: 60, noNaN: true }),
      endRadius: fc.double({ min: 0.1, max: 60, noNaN: true }),
      startAngle: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
      sweep: fc.oneof(fc.double({ min: -40, max: -0.1, noNaN: true }), fc.double({ min: 0.1, max: 40, noNaN: true })),
    }),
    rise: fc.double({ min: -50, max: 50, noNaN: true }),
  });

  test('extents hold every point of the curve, and touch it', () => {
    fc.assert(
      fc.property(anyHelix, ({ arc, rise }) => {
        const points = new BlendedHelix(arc, rise).getPoints(20_000);
        expectTight(arcExtents(arc), points, Math.max(arc.radius, arc.endRadius) * 2e-5);
      }),
      { numRuns: 50, seed: 22 },
    );
  });

  test('lengths are those that three adds up', () => {
    fc.assert(
      fc.property(anyHelix, ({ arc, rise }) => {
        const curve = new BlendedHelix(arc, rise);
        curve.arcLengthDivisions = 20_000;
        const own = arcLength(arc.radius, arc.endRadius, arc.sweep, rise);
        expect(Math.abs(curve.getLength() / own - 1)).toBeLessThan(1e-5);
      }),
      { numRuns: 50, seed: 23 },
    );
  });

  test('a difference as small as a rounding is measured as finely', () => {
    const exact = arcLength(10, 10, Math.PI / 2, 0);
    expect(arcLength(10, 10.002, Math.PI / 2, 0)).toBeCloseTo((Math.PI / 2) * 10.001, 6);
    expect(arcLength(10, 10 + 1e-12, Math.PI / 2, 0)).toBeCloseTo(exact, 10);
  });

  test('many turns cost no more than two', () => {
    const arc = { centreFirst: 0, centreSecond: 0, radius: 5, endRadius: 6, startAngle: 0, sweep: 2e6 * Math.PI };
    const start = performance.now();
    const extents = arcExtents(arc);
    expect(performance.now() - start).toBeLessThan(100);
    expect(extents.maxFirst).toBeCloseTo(6, 5);
    expect(extents.minSecond).toBeCloseTo(-6, 5);
  });
});

function expectTight(own: ReturnType<typeof arcExtents>, points: { x: number; y: number }[], tolerance: number): void {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { x, y } of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    low = Math.min(low, y);
    high = Math.max(high, y);
  }
  const pairs = [
    [left, own.minFirst],
    [own.maxFirst, right],
    [low, own.minSecond],
    [own.maxSecond, high],
  ];
  for (const [outer, inner] of pairs) {
    expect(outer - inner).toBeGreaterThan(-1e-9);
    expect(outer - inner).toBeLessThan(tolerance + 1e-9);
  }
}
