/**
 * What the path view plots and what is drawn to scale, against independent drawings of the same arcs by general libraries:
 * curves of `three` and arcs of `@flatten-js/core` (versions in package-lock.json). What is drawn is made of the numbers in
 * the program's text alone.
 */
import { Arc as FlattenArc, point } from '@flatten-js/core';
import fc from 'fast-check';
import { EllipseCurve, Vector3 } from 'three';
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../server/src/core/checks/analysis.ts';
import { seenSvg } from '../../server/src/core/features/svgSeen.ts';
import { PathStyle, readPackedPath, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import { INDEX_CHUNK, type PathIndex } from '../../server/src/core/geometry/pathRequest.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { packChunkFor } from '../../server/src/lsp/pathHandover.ts';
import { executed } from '../harness/path.ts';

const [X, Y, Z] = [new Vector3(1, 0, 0), new Vector3(0, 1, 0), new Vector3(0, 0, 1)];
/** Right-handed planes after ISO 6983-1 (from memory): letters of the axes and of the centre, first axis before second. */
const PLANES = [
  { code: 'G17', name: 'XY', axes: 'XYZ', centre: 'IJ', first: X, second: Y, normal: Z },
  { code: 'G18', name: 'ZX', axes: 'ZXY', centre: 'KI', first: Z, second: X, normal: Y },
  { code: 'G19', name: 'YZ', axes: 'YZX', centre: 'JK', first: Y, second: Z, normal: X },
] as const;
const DEGREE = Math.PI / 180;

const anyArc = fc.record({
  plane: fc.constantFrom(...PLANES),
  centre: fc.tuple(fc.integer({ min: -8000, max: 8000 }), fc.integer({ min: -8000, max: 8000 })),
  level: fc.integer({ min: -2000, max: 2000 }),
  rise: fc.oneof(fc.constant(0), fc.integer({ min: -3000, max: 3000 })),
  radius: fc.integer({ min: 50, max: 20_000 }),
  start: fc.integer({ min: 0, max: 35_999 }),
  sweep: fc.integer({ min: 200, max: 35_800 }),
  isClockwise: fc.boolean(),
});
type AnyArc = typeof anyArc extends fc.Arbitrary<infer T> ? T : never;

/** The arc in mm and radians; its numbers come in hundredths. */
function shapeOf({ centre, radius, start, sweep, isClockwise, level, rise }: AnyArc) {
  const [first, second] = centre.map((value) => value / 100);
  const from = (start / 100) * DEGREE;
  const to = from + (isClockwise ? -1 : 1) * (sweep / 100) * DEGREE;
  const at = (angle: number) => [first + (radius / 100) * Math.cos(angle), second + (radius / 100) * Math.sin(angle)];
  return { first, second, radius: radius / 100, from, to, at, low: level / 100, high: (level + rise) / 100 };
}

/** The program that a person would write for it. */
function programOf(arc: AnyArc): string {
  const { first, second, from, to, at, low, high } = shapeOf(arc);
  const [a, b, c] = arc.plane.axes;
  const [i, j] = arc.plane.centre;
  const word = (letter: string, value: number): string => `${letter}${value.toFixed(5)}`;
  const [start, end] = [at(from), at(to)];
  return [
    `G21 ${arc.plane.code} G90 G94`,
    `G0 ${word(a, start[0])} ${word(b, start[1])} ${word(c, low)}`,
    `G${arc.isClockwise ? 2 : 3} ${word(a, end[0])} ${word(b, end[1])} ${word(c, high)} ${word(i, first - start[0])} ${word(j, second - start[1])} F100`,
    'M30',
  ].join('\n');
}

/** The vertices that the view plots of the last arc, its start first. */
function plotted(analysis: Analysis): Vector3[] {
  const request = { uri: 'u', version: 0, layer: 'program' as const, what: 'path' as const };
  const list = packChunkFor(analysis, { ...request, chunk: INDEX_CHUNK });
  const index: PathIndex = JSON.parse(new TextDecoder().decode(list));
  const found: Vector3[] = [];
  for (const { id } of index.pieces) {
    const path = readPackedPath(packChunkFor(analysis, { ...request, chunk: id }));
    if (path === undefined) throw new Error('a piece that cannot be read');
    const at = (vertex: number) => new Vector3().fromArray(path.positions, vertex * 3).add(new Vector3(...path.origin));
    for (let vertex = 1; vertex < path.vertexCount; vertex++) {
      const style = path.codes[vertex] & STYLE_MASK;
      if (style !== PathStyle.arc && style !== PathStyle.helix) continue;
      if (found.length === 0) found.push(at(vertex - 1));
      found.push(at(vertex));
    }
  }
  return found;
}

/** A point of the arc as `three` draws it, lifted into space. */
function threePoint(arc: AnyArc, share: number): Vector3 {
  const { first, second, radius, from, to, low, high } = shapeOf(arc);
  const flat = new EllipseCurve(first, second, radius, radius, from, to, arc.isClockwise).getPoint(share);
  return new Vector3()
    .addScaledVector(arc.plane.first, flat.x)
    .addScaledVector(arc.plane.second, flat.y)
    .addScaledVector(arc.plane.normal, low + (high - low) * share);
}

/** Whole turns from the arc's start back to it, as a person would write them. */
function turnsProgram(arc: AnyArc, turns: number): string {
  const { first, second, from, at, low, high } = shapeOf(arc);
  const [a, b, c] = arc.plane.axes;
  const [i, j] = arc.plane.centre;
  const start = at(from);
  const words = `${i}${(first - start[0]).toFixed(5)} ${j}${(second - start[1]).toFixed(5)}${turns > 1 ? ` P${turns}` : ''}`;
  return [
    `G21 ${arc.plane.code} G90 G94`,
    `G0 ${a}${start[0].toFixed(5)} ${b}${start[1].toFixed(5)} ${c}${low.toFixed(5)}`,
    `G${arc.isClockwise ? 2 : 3} ${c}${high.toFixed(5)} ${words} F100`,
    'M30',
  ].join('\n');
}

/** A point of these turns: the radius at the start, turned about the plane's normal by `three`. */
function turnedPoint(arc: AnyArc, turns: number, share: number): Vector3 {
  const { first, second, from, at, low, high } = shapeOf(arc);
  const { plane, isClockwise } = arc;
  const [a, b] = at(from);
  const turned = new Vector3()
    .addScaledVector(plane.first, a - first)
    .addScaledVector(plane.second, b - second)
    .applyAxisAngle(plane.normal, (isClockwise ? -1 : 1) * share * turns * 2 * Math.PI);
  return turned
    .addScaledVector(plane.first, first)
    .addScaledVector(plane.second, second)
    .addScaledVector(plane.normal, low + (high - low) * share);
}

/** Five places in the text, and short numbers relative to the piece's origin. */
const PLOTTED = 2e-4;

describe('the vertices of an arc in the view', () => {
  test('lie on the arc that three draws, at even steps, and end where it ends', () => {
    fc.assert(
      fc.property(anyArc, (arc) => {
        const vertices = plotted(executed(programOf(arc)));
        expect(vertices.length).toBeGreaterThan(1);
        vertices.forEach((vertex, i) => {
          expect(vertex.distanceTo(threePoint(arc, i / (vertices.length - 1)))).toBeLessThan(PLOTTED);
        });
      }),
      { numRuns: 400, seed: 61 },
    );
  });

  test('lie on the whole turns that three turns a radius through, one or several, level or as a helix', () => {
    fc.assert(
      fc.property(anyArc, fc.integer({ min: 1, max: 4 }), (arc, turns) => {
        const vertices = plotted(executed(turnsProgram(arc, turns)));
        expect(vertices.length).toBeGreaterThan(8 * turns);
        vertices.forEach((vertex, i) => {
          const at = turnedPoint(arc, turns, i / (vertices.length - 1));
          expect(vertex.distanceTo(at)).toBeLessThan(PLOTTED);
        });
      }),
      { numRuns: 200, seed: 64 },
    );
  });

  test('leave the arc of flatten-js by no more than a chord of so many parts must', () => {
    fc.assert(
      fc.property(anyArc, fc.nat({ max: 1000 }), (arc, choice) => {
        const { first, second, radius, from, to } = shapeOf(arc);
        const drawn = new FlattenArc(point(first, second), radius, from, to, !arc.isClockwise);
        const vertices = plotted(executed(programOf(arc)));
        const at = choice % (vertices.length - 1);
        const middle = vertices[at]
          .clone()
          .add(vertices[at + 1])
          .multiplyScalar(0.5);
        const flat = point(middle.dot(arc.plane.first), middle.dot(arc.plane.second));
        const half = Math.abs(to - from) / (vertices.length - 1) / 2;
        const [distance] = flat.distanceTo(drawn);
        expect(distance).toBeLessThan(radius * (1 - Math.cos(half)) + PLOTTED);
        // What the path promises: 0.008 mm, on large arcs what a chord of one degree leaves.
        expect(distance).toBeLessThan(Math.max(0.008, radius * (1 - Math.cos(0.5 * DEGREE))) + PLOTTED);
      }),
      { numRuns: 300, seed: 62 },
    );
  });
});

interface DrawnArc {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly radius: number;
  readonly isLarge: boolean;
  /** As the drawing has it, Y down: clockwise on the sheet. */
  readonly isSweep: boolean;
}

/** The arcs in a drawing's path data, as SVG 2 section 9.5 reads them; Y turned upward. */
function drawnArcs(svg: string): DrawnArc[] {
  const arcs: DrawnArc[] = [];
  for (const [, data] of svg.matchAll(/<path [^>]*stroke="#0b3c5d"[^>]* d="([^"]*)"/g)) {
    let pen: readonly [number, number] = [0, 0];
    for (const [, command, words] of data.matchAll(/([MLA])([^MLA]*)/g)) {
      const numbers = words.trim().split(/[ ,]+/).map(Number);
      const to = [numbers[numbers.length - 2], -numbers[numbers.length - 1]] as const;
      if (command === 'A')
        arcs.push({ from: pen, to, radius: numbers[0], isLarge: numbers[3] === 1, isSweep: numbers[4] === 1 });
      pen = to;
    }
  }
  return arcs;
}

/** The angle that an SVG arc of at most half a turn goes through, radians, counter-clockwise with Y up. */
function sweepOf({ from, to, radius, isSweep }: DrawnArc): number {
  const chord = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return (isSweep ? -1 : 1) * 2 * Math.asin(Math.min(1, chord / 2 / radius));
}

describe('the arcs of a drawing to scale', () => {
  test('are those that flatten-js draws: radius, length, ends and every middle', () => {
    fc.assert(
      fc.property(anyArc, (arc) => {
        const { first, second, radius, from, to } = shapeOf(arc);
        const isMirrored = arc.plane.name === 'ZX';
        // On the sheet X lies to the right in the ZX plane, whose first axis is Z.
        const onSheet = ([a, b]: readonly number[]): readonly [number, number] => (isMirrored ? [b, a] : [a, b]);
        const drawn = new FlattenArc(point(first, second), radius, from, to, !arc.isClockwise);
        const drawing = { name: 'arc.nc', plane: arc.plane.name, units: 'mm' } as const;
        const svg = [...seenSvg(executed(programOf(arc)), DEFAULT_CONFIGURATION, drawing)].join('');
        const arcs = drawnArcs(svg);
        const sheetCentre = onSheet([first, second]);
        let turned = 0;
        for (const part of arcs) {
          expect(part.isLarge).toBe(false);
          expect(part.radius).toBeCloseTo(radius, 3);
          for (const end of [part.from, part.to]) {
            expect(point(...onSheet(end)).distanceTo(drawn)[0]).toBeLessThan(PLOTTED);
            expect(Math.hypot(end[0] - sheetCentre[0], end[1] - sheetCentre[1])).toBeCloseTo(radius, 3);
          }
          turned += sweepOf(part);
        }
        const wanted = (to - from) * (isMirrored ? -1 : 1);
        expect(turned).toBeCloseTo(wanted, 1);
        expect(arcs.map(sweepOf).every((angle) => Math.sign(angle) === Math.sign(wanted))).toBe(true);
        expect(Math.abs(turned) * radius).toBeGreaterThan(drawn.length * 0.99 - 0.1);
        const [start, end] = [onSheet([drawn.start.x, drawn.start.y]), onSheet([drawn.end.x, drawn.end.y])];
        expect(Math.hypot(arcs[0].from[0] - start[0], arcs[0].from[1] - start[1])).toBeLessThan(PLOTTED);
        const last = arcs[arcs.length - 1].to;
        expect(Math.hypot(last[0] - end[0], last[1] - end[1])).toBeLessThan(PLOTTED);
      }),
      { numRuns: 400, seed: 63 },
    );
  });
});
