/**
 * Arcs and helices as executed, against general geometry libraries: curves and vectors of `three`, and the arc of
 * `@flatten-js/core` (versions in package-lock.json). The handedness of the planes is that of ISO 6983-1 (from memory).
 */
import { Arc as FlattenArc, point } from '@flatten-js/core';
import fc from 'fast-check';
import { EllipseCurve, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { type TracedMove, tracedMoves } from '../../server/src/core/features/trace.ts';
import { executed, findingCodes } from '../harness/path.ts';

interface TestPlane {
  readonly code: string;
  /** Letters of first and second axis, normal axis, and centre words. */
  readonly axes: readonly [string, string, string];
  readonly centre: readonly [string, string];
  /** Unit vectors of first and second axis and of the normal the arc is seen from. */
  readonly first: Vector3;
  readonly second: Vector3;
  readonly normal: Vector3;
}

const [X, Y, Z] = [new Vector3(1, 0, 0), new Vector3(0, 1, 0), new Vector3(0, 0, 1)];
const PLANES: readonly TestPlane[] = [
  { code: 'G17', axes: ['X', 'Y', 'Z'], centre: ['I', 'J'], first: X, second: Y, normal: Z },
  { code: 'G18', axes: ['Z', 'X', 'Y'], centre: ['K', 'I'], first: Z, second: X, normal: Y },
  { code: 'G19', axes: ['Y', 'Z', 'X'], centre: ['J', 'K'], first: Y, second: Z, normal: X },
];

const DEGREE = Math.PI / 180;
const DECIMALS = 5;

/** An arc by its geometry: all lengths in the program's units, angles in degrees. */
const anyArc = fc.record({
  plane: fc.constantFrom(...PLANES),
  units: fc.constantFrom({ code: 'G21', mm: 1 }, { code: 'G20', mm: 25.4 }),
  centre: fc.tuple(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: -5000, max: 5000 })),
  height: fc.integer({ min: -2000, max: 2000 }),
  rise: fc.oneof(fc.constant(0), fc.integer({ min: -2000, max: 2000 })),
  radius: fc.integer({ min: 100, max: 10_000 }),
  startAngle: fc.integer({ min: 0, max: 35_999 }),
  sweep: fc.integer({ min: 100, max: 35_900 }),
  clockwise: fc.boolean(),
  turns: fc.integer({ min: 1, max: 4 }),
});
type AnyArc = typeof anyArc extends fc.Arbitrary<infer T> ? T : never;

/** The arc in numbers with the units of the program: hundredths made whole. */
const geometry = (arc: AnyArc) => {
  const [first, second] = arc.centre.map((value) => value / 100);
  const radius = arc.radius / 100;
  const from = (arc.startAngle / 100) * DEGREE;
  const signed = (arc.clockwise ? -1 : 1) * (arc.sweep / 100) * DEGREE;
  const at = (angle: number) => [first + radius * Math.cos(angle), second + radius * Math.sin(angle)];
  return { first, second, radius, from, signed, start: at(from), end: at(from + signed) };
};

const text = (letter: string, value: number): string => `${letter}${value.toFixed(DECIMALS)}`;

const program = (arc: AnyArc, words: (shape: ReturnType<typeof geometry>) => string): string => {
  const shape = geometry(arc);
  const [a, b, c] = arc.plane.axes;
  const low = arc.height / 100;
  const start = `${text(a, shape.start[0])} ${text(b, shape.start[1])} ${text(c, low)}`;
  const end = `${text(a, shape.end[0])} ${text(b, shape.end[1])} ${text(c, low + arc.rise / 100)}`;
  return `${arc.units.code} ${arc.plane.code} G90 G0 ${start}\nF100\nG${arc.clockwise ? 2 : 3} ${end} ${words(shape)}`;
};

const lastArc = (source: string): TracedMove => {
  const move = [...tracedMoves(executed(source))].at(-1);
  if (move?.arc === undefined) throw new Error(`no arc: ${source}`);
  return move;
};

/** The point of the executed arc at a share of its way, by vectors of three: turned about the plane's normal. */
const pointAt = (move: TracedMove, plane: TestPlane, share: number): Vector3 => {
  const { arc, from, to } = move;
  if (arc === undefined) throw new Error('no arc');
  const centre = new Vector3(...arc.centre);
  const rise = new Vector3(...to).sub(new Vector3(...from)).dot(plane.normal);
  const spoke = new Vector3(...from).sub(centre);
  return spoke
    .applyAxisAngle(plane.normal, arc.sweep * share * DEGREE)
    .multiplyScalar(1 + (arc.endRadius / arc.radius - 1) * share)
    .add(centre)
    .addScaledVector(plane.normal, rise * share);
};

const expectNear = (actual: Vector3, expected: Vector3, tolerance: number): void => {
  expect(actual.distanceTo(expected)).toBeLessThan(tolerance);
};

/** The points of the arc as three draws it in its own plane, lifted into space. */
const threePoint = (arc: AnyArc, share: number, turns = 1): Vector3 => {
  const { first, second, radius, from, signed } = geometry(arc);
  const whole = signed + Math.sign(signed) * (turns - 1) * 2 * Math.PI;
  // three takes no more than one turn in a curve: of several turns each point is the start of a curve of its own.
  const curve =
    turns === 1
      ? new EllipseCurve(first, second, radius, radius, from, from + signed, arc.clockwise)
      : new EllipseCurve(first, second, radius, radius, from + whole * share, from + whole, arc.clockwise);
  const flat = curve.getPoint(turns === 1 ? share : 0);
  const { mm } = arc.units;
  return new Vector3()
    .addScaledVector(arc.plane.first, flat.x * mm)
    .addScaledVector(arc.plane.second, flat.y * mm)
    .addScaledVector(arc.plane.normal, ((arc.height + arc.rise * share) / 100) * mm);
};

const SHARES = [0, 0.13, 0.5, 0.77, 1];
// What the written decimals (5 places) can do to a point, in program units.
const WRITTEN = 5e-5;

const expectSamePath = (arc: AnyArc, move: TracedMove, turns = 1, tolerance = WRITTEN): void => {
  for (const share of SHARES) {
    expectNear(pointAt(move, arc.plane, share), threePoint(arc, share, turns), tolerance * arc.units.mm);
  }
};

const settings = (seed: number) => ({ numRuns: 150, seed });

describe('centre form against three', () => {
  const centreWords = (arc: AnyArc, absolute: boolean) => (shape: ReturnType<typeof geometry>) => {
    const [i, j] = arc.plane.centre;
    const [first, second] = absolute
      ? [shape.first, shape.second]
      : [shape.first - shape.start[0], shape.second - shape.start[1]];
    return `${text(i, first)} ${text(j, second)}`;
  };

  it('centre from the start point', () => {
    fc.assert(
      fc.property(anyArc, (arc) => expectSamePath(arc, lastArc(program(arc, centreWords(arc, false))))),
      settings(40),
    );
  });

  it('centre absolute', () => {
    fc.assert(
      fc.property(anyArc, (arc) =>
        expectSamePath(arc, lastArc(program(arc, centreWords(arc, true)).replace('G90 ', 'G90 G90.1 '))),
      ),
      settings(41),
    );
  });

  it('several turns', () => {
    fc.assert(
      fc.property(anyArc, (arc) => {
        const move = lastArc(program(arc, (shape) => `${centreWords(arc, false)(shape)} P${arc.turns}`));
        expectSamePath(arc, move, arc.turns);
        // Length of a helix of constant radius: sqrt((r·θ)² + h²), elementary geometry.
        const { radius, signed } = geometry(arc);
        const angle = Math.abs(signed) + (arc.turns - 1) * 2 * Math.PI;
        const length = Math.hypot(radius * angle, arc.rise / 100) * arc.units.mm;
        expect(Math.abs(move.length - length)).toBeLessThan(1e-3 * arc.units.mm * arc.turns);
      }),
      settings(42),
    );
  });

  it('nothing is complained of', () => {
    fc.assert(
      fc.property(anyArc, (arc) => {
        const codes = findingCodes(program(arc, centreWords(arc, false)), 'iso', 'arc-');
        expect(codes.filter((code) => code !== 'arc-closes-unmeant')).toEqual([]);
      }),
      settings(43),
    );
  });

  it('a spiral starts and ends where the program says, its radius blended over the angle', () => {
    fc.assert(
      fc.property(anyArc, fc.integer({ min: -15, max: 15 }), (arc, thousandths) => {
        const shape = geometry(arc);
        const grown = (shape.radius + thousandths / 1000) / shape.radius;
        const end = [0, 1].map((k) => {
          const centre = k === 0 ? shape.first : shape.second;
          return centre + (shape.end[k] - centre) * grown;
        });
        const [a, b] = arc.plane.axes;
        const source = program(arc, centreWords(arc, false)).replace(
          `${text(a, shape.end[0])} ${text(b, shape.end[1])}`,
          `${text(a, end[0])} ${text(b, end[1])}`,
        );
        const move = lastArc(source);
        const [centreAt, mm] = [new Vector3(...move.arc!.centre), arc.units.mm];
        for (const share of SHARES) {
          const reached = pointAt(move, arc.plane, share);
          const flat = reached.clone().sub(centreAt).projectOnPlane(arc.plane.normal);
          expect(Math.abs(flat.length() / mm - shape.radius * (1 + (grown - 1) * share))).toBeLessThan(2 * WRITTEN);
        }
        expectNear(pointAt(move, arc.plane, 1), new Vector3(...move.to), 1e-6);
      }),
      settings(44),
    );
  });
});

describe('radius form against three', () => {
  // Near a half turn the centre hangs on the last place of R; near a full turn on that of the end point.
  const wellConditioned = anyArc.filter(
    ({ sweep }) => Math.abs(sweep - 18_000) > 1500 && sweep > 1500 && sweep < 34_500,
  );

  it('R positive up to half a turn, negative beyond', () => {
    fc.assert(
      fc.property(wellConditioned, (arc) => {
        const sign = arc.sweep > 18_000 ? -1 : 1;
        const move = lastArc(program(arc, ({ radius }) => `${text('R', sign * radius)}`));
        expectSamePath(arc, move, 1, 1e-3);
        expect(Math.abs(move.arc!.sweep)).toBeCloseTo(arc.sweep / 100, 1);
      }),
      settings(45),
    );
  });

  it('the sign of R changes the arc to its complement about the other centre', () => {
    fc.assert(
      fc.property(wellConditioned, (arc) => {
        const short = lastArc(program(arc, ({ radius }) => text('R', radius)));
        const long = lastArc(program(arc, ({ radius }) => text('R', -radius)));
        expect(Math.abs(short.arc!.sweep)).toBeLessThanOrEqual(180);
        expect(Math.abs(long.arc!.sweep)).toBeGreaterThanOrEqual(180);
        expect(Math.abs(short.arc!.sweep) + Math.abs(long.arc!.sweep)).toBeCloseTo(360, 6);
        const middle = new Vector3(...short.from).add(new Vector3(...short.to)).multiplyScalar(0.5);
        const both = new Vector3(...short.arc!.centre).add(new Vector3(...long.arc!.centre)).multiplyScalar(0.5);
        expectNear(both.projectOnPlane(arc.plane.normal), middle.projectOnPlane(arc.plane.normal), 1e-5);
      }),
      settings(46),
    );
  });
});

describe('against flatten-js', () => {
  it('ends, middle and length of arcs in the XY plane', () => {
    fc.assert(
      fc.property(anyArc, (drawn) => {
        const arc = { ...drawn, plane: PLANES[0], rise: 0 };
        const { first, second, radius, from, signed } = geometry(arc);
        const { mm } = arc.units;
        const flat = new FlattenArc(point(first * mm, second * mm), radius * mm, from, from + signed, signed > 0);
        const source = program(arc, ({ start }) => `${text('I', first - start[0])} ${text('J', second - start[1])}`);
        const move = lastArc(source);
        const near = (place: readonly number[], expected: { x: number; y: number }) =>
          expect(Math.hypot(place[0] - expected.x, place[1] - expected.y)).toBeLessThan(WRITTEN * mm);
        near(move.from, flat.start);
        near(move.to, flat.end);
        near(pointAt(move, arc.plane, 0.5).toArray(), flat.middle());
        expect(Math.abs(move.length - flat.length)).toBeLessThan(2e-3 * mm);
      }),
      settings(47),
    );
  });
});
