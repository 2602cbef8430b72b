// Outside checks: chords against the curves of `three` (EllipseCurve, Vector3), a general 3-D library.
import { EllipseCurve, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../tests/bench/program.ts';
import { MoveFlag, MoveKind, MoveTable } from '../machine/moves.ts';
import {
  MAX_VERTICES,
  PathStyle,
  pieceWeight,
  RowField,
  readPackedPath,
  rowValue,
  STYLE_BITS,
} from './packedLayout.ts';
import { type PathMeaning, packPath } from './packedPath.ts';
import { RowInterner } from './packedPathRows.ts';
import { axesNeverKnown, chordCount, countVertices, splitMoves, Treatment } from './pathMoves.ts';

const treatments = new Uint8Array(256);
treatments[MoveKind.rapid] = Treatment.rapid;
treatments[MoveKind.line] = Treatment.line;
treatments[MoveKind.arc] = Treatment.arc;
treatments[MoveKind.renamed] = Treatment.renamed;

/** Modes under which the test's moves have the feed of their way along X. */
const OWN_FEED = 93;

const meaningOf = (plane = 17, assumedAxes = 0): PathMeaning => ({
  treatments,
  plane: () => plane,
  assumedAxes,
  rowKinds: MoveFlag.cycle,
  fillRow: (row, modes, kind, pass) => row.set([modes, modes * 100, Number.NaN, 540, pass, kind]),
  hasOwnFeed: (modes) => modes === OWN_FEED,
  ownFeed: (moves, move, _extra, entry) =>
    Math.abs(moves.ends[move * 3] - (move === 0 ? entry[0] : moves.ends[move * 3 - 3])),
});

const pack = (moves: MoveTable, entry: number[], meaning = meaningOf(), lineOffset = 0) =>
  packPath(
    [{ moves, entry: Float64Array.from(entry), from: 0, to: moves.count, lineOffset, pass: 1 }],
    countVertices(moves, treatments),
    meaning,
  );

const point = (path: ReturnType<typeof pack>, index: number): Vector3 =>
  new Vector3().fromArray(path.positions, index * 3).add(new Vector3().fromArray(path.origin));

const styles = (path: ReturnType<typeof pack>): number[] => [...path.codes].map((code) => code & 15);

/** One arc from `entry`; extras are centre, radii, sweep. */
const arcOf = (entry: number[], end: number[], extras: [number, number, number, number, number], plane = 17) => {
  const moves = new MoveTable();
  moves.add(end[0], end[1], end[2], 0, MoveKind.arc, 1);
  moves.addExtra(...extras);
  return pack(moves, entry, meaningOf(plane));
};

describe('straight moves', () => {
  it('keeps points, lines, styles and tools', () => {
    const moves = new MoveTable();
    moves.add(10, 0, 5, 0, MoveKind.rapid, 3);
    moves.add(10, 0, -2, 1, MoveKind.line, 3);
    moves.add(10, 20, -2, 4, MoveKind.line, 300);
    const path = pack(moves, [0, 0, 5], meaningOf(), 100);
    expect(styles(path)).toEqual([PathStyle.none, PathStyle.rapid, PathStyle.plunge, PathStyle.cut]);
    expect([...path.codes].slice(1).map((code) => code >>> STYLE_BITS)).toEqual([100, 101, 104]);
    expect([0, 1, 2, 3].map((vertex) => rowValue(path, vertex, RowField.tool))).toEqual([3, 3, 3, 300]);
    expect(point(path, 3)).toEqual(new Vector3(10, 20, -2));
    expect([...path.bounds]).toEqual([0, 0, -2, 10, 20, 5]);
    expect([...path.cutBounds]).toEqual([10, 0, -2, 10, 20, 5]);
  });

  it('stays exact far from zero, since positions count from an origin', () => {
    const moves = new MoveTable();
    moves.add(100_000.123, 0, 0, 0, MoveKind.line, 1);
    const path = pack(moves, [100_000, 0, 0]);
    expect(point(path, 1).x).toBeCloseTo(100_000.123, 6);
  });

  it('breaks the line where a coordinate is not known', () => {
    const moves = new MoveTable();
    moves.add(10, 10, Number.NaN, 0, MoveKind.rapid, 1);
    moves.add(10, 10, 5, 1, MoveKind.rapid, 1);
    moves.add(20, 10, 5, 2, MoveKind.line, 1);
    const path = pack(moves, [Number.NaN, Number.NaN, Number.NaN]);
    expect(styles(path)).toEqual([0, 0, 0, PathStyle.cut]);
    expect([...path.bounds]).toEqual([10, 10, 5, 20, 10, 5]);
    expect([...path.positions].every(Number.isFinite)).toBe(true);
  });

  it('draws an axis that the program never gives at zero', () => {
    const moves = new MoveTable();
    moves.add(10, 10, Number.NaN, 0, MoveKind.rapid, 1);
    moves.add(20, 10, Number.NaN, 1, MoveKind.line, 1);
    const assumed = axesNeverKnown([moves]);
    expect(assumed).toBe(4);
    const path = pack(moves, [Number.NaN, Number.NaN, Number.NaN], meaningOf(17, assumed));
    expect(styles(path)).toEqual([0, 0, PathStyle.cut]);
    expect(point(path, 2)).toEqual(new Vector3(20, 10, 0));
    expect(path.assumedAxes).toBe(4);
  });

  it('draws no link where the position gets other numbers', () => {
    const moves = new MoveTable();
    moves.add(0, 0, 0, 0, MoveKind.renamed, 1);
    moves.add(1, 0, 0, 1, MoveKind.line, 1);
    expect(styles(pack(moves, [50, 50, 50]))).toEqual([0, 0, PathStyle.cut]);
  });

  it('has empty bounds where nothing is drawn', () => {
    const { bounds } = pack(new MoveTable(), [1, 2, 3]);
    expect(bounds[0]).toBeGreaterThan(bounds[3]);
  });
});

describe('rows', () => {
  it('holds what is the same once, and follows modes, kind and pass', () => {
    const moves = new MoveTable();
    moves.add(1, 0, 0, 0, MoveKind.line, 3);
    moves.add(2, 0, 0, 1, MoveKind.line, 4);
    moves.add(3, 0, 0, 2, MoveKind.rapid, 3);
    moves.add(4, 0, 0, 3, MoveKind.line | MoveFlag.cycle, 3);
    const path = pack(moves, [0, 0, 0]);
    expect([...path.rowOf]).toEqual([0, 0, 1, 0, 2]);
    expect([...path.rows]).toEqual(
      [
        [3, 300, Number.NaN, 540, 1, 0],
        [4, 400, Number.NaN, 540, 1, 0],
        [3, 300, Number.NaN, 540, 1, MoveFlag.cycle],
      ].flat(),
    );
    const spans = [1, 2].map((pass) => ({ moves, entry: new Float64Array(3), from: 0, to: 1, lineOffset: 0, pass }));
    expect([...packPath(spans, 4, meaningOf()).rowOf]).toEqual([0, 0, 1, 1]);
  });

  it('gives every chord of an arc the row of the arc', () => {
    const moves = new MoveTable();
    moves.add(1, 0, 0, 0, MoveKind.line, 7);
    moves.add(21, 0, 0, 1, MoveKind.arc, 8);
    moves.addExtra(11, 0, 10, 10, Math.PI);
    moves.add(22, 0, 0, 2, MoveKind.line, 7);
    const path = pack(moves, [0, 0, 0]);
    const rows = [...path.rowOf];
    expect(rows.slice(0, 2)).toEqual([0, 0]);
    expect(new Set(rows.slice(2, -1))).toEqual(new Set([1]));
    expect(rows.at(-1)).toBe(0);
  });

  it('gives moves whose feed follows from the move itself a row each', () => {
    const moves = new MoveTable();
    moves.add(2, 0, 0, 0, MoveKind.line, OWN_FEED);
    moves.add(5, 0, 0, 1, MoveKind.line, OWN_FEED);
    moves.add(7, 0, 0, 2, MoveKind.line, OWN_FEED);
    const path = pack(moves, [0, 0, 0]);
    expect([1, 2, 3].map((vertex) => rowValue(path, vertex, RowField.feed))).toEqual([2, 3, 2]);
  });

  it('has the same rows whether they were looked for before or not, and none twice', () => {
    const random = seeded(7);
    const interner = new RowInterner(meaningOf());
    for (let round = 0; round < 2000; round++) {
      const moves = new MoveTable();
      const count = Math.floor(random() * 12);
      for (let i = 0; i < count; i++) {
        const kind = random() < 0.3 ? MoveKind.line | MoveFlag.cycle : MoveKind.line;
        moves.add(random() * 9, 0, 0, i, kind, random() < 0.2 ? OWN_FEED : Math.floor(random() * 4));
      }
      const entry = new Float64Array(3);
      const span = { moves, entry, from: 0, to: count, lineOffset: 0, pass: 1 };
      const runs = interner.runsOf(moves, entry, 0, count, 1);
      const path = packPath([{ ...span, runs }], count + 1, meaningOf(), interner);
      expect(path.buffer).toEqual(pack(moves, [0, 0, 0]).buffer);
      const rows = Array.from({ length: path.rows.length / 6 }, (_, i) => path.rows.subarray(i * 6, i * 6 + 6).join());
      expect(new Set(rows).size).toBe(rows.length);
      expect([...path.rowOf].every((row) => row < rows.length)).toBe(true);
    }
  });
});

describe('arcs', () => {
  it('lies on the curve of a general library, in each plane', () => {
    const [radius, start, sweep] = [12, 0.3, 2.1];
    const curve = new EllipseCurve(5, -7, radius, radius, start, start + sweep);
    const place = (first: number, second: number, plane: number): number[] =>
      plane === 17 ? [first, second, 4] : plane === 18 ? [second, 4, first] : [4, first, second];
    for (const plane of [17, 18, 19]) {
      const from = curve.getPoint(0);
      const to = curve.getPoint(1);
      const [entry, end] = [place(from.x, from.y, plane), place(to.x, to.y, plane)];
      const path = arcOf(entry, end, [5, -7, radius, radius, sweep], plane);
      const chords = path.vertexCount - 1;
      expect(chords).toBe(chordCount(radius, sweep));
      for (let i = 0; i <= chords; i++) {
        const onCurve = curve.getPoint(i / chords);
        const expected = new Vector3().fromArray(place(onCurve.x, onCurve.y, plane));
        expect(point(path, i).distanceTo(expected)).toBeLessThan(1e-5);
      }
      expect(
        styles(path)
          .slice(1)
          .every((style) => style === PathStyle.arc),
      ).toBe(true);
    }
  });

  it('ends a helix of several turns exactly at the programmed end and climbs evenly', () => {
    const path = arcOf([20, 0, 0], [20, 0, -9], [0, 0, 20, 20, -3 * 2 * Math.PI]);
    const last = path.vertexCount - 1;
    expect(point(path, last).toArray()).toEqual([20, 0, -9]);
    for (let i = 0; i <= last; i++) {
      expect(point(path, i).z).toBeCloseTo((-9 * i) / last, 5);
      expect(Math.hypot(point(path, i).x, point(path, i).y)).toBeCloseTo(20, 5);
    }
    expect(styles(path)[1]).toBe(PathStyle.helix);
    // Clockwise from (20, 0): first to negative Y.
    expect(point(path, 1).y).toBeLessThan(0);
    expect([...path.cutBounds]).toEqual([-20, -20, -9, 20, 20, 0]);
  });

  it('blends the radius over the angle where start and end radius differ', () => {
    const path = arcOf([10, 0, 0], [0, 12, 0], [0, 0, 10, 12, Math.PI / 2]);
    const last = path.vertexCount - 1;
    for (let i = 0; i <= last; i++) {
      expect(point(path, i).length()).toBeCloseTo(10 + (2 * i) / last, 5);
    }
    expect(point(path, last).toArray()).toEqual([0, 12, 0]);
  });

  it('is as fine as 0.008 mm or 1 degree ask, whichever needs fewer chords, and never coarser than 45 degrees', () => {
    const turn = 2 * Math.PI;
    expect(chordCount(1000, turn)).toBe(360);
    expect(chordCount(0.001, turn)).toBe(8);
    const chords = chordCount(10, turn);
    // Height of the segment over a chord: r (1 − cos(step / 2)), any table of circle segments.
    const height = (count: number): number => 10 * (1 - Math.cos(Math.PI / count));
    expect(height(chords)).toBeLessThanOrEqual(0.008);
    expect(height(chords - 1)).toBeGreaterThan(0.008);
    expect(chordCount(10, Number.NaN)).toBe(1);
    expect(chordCount(Number.NaN, 1)).toBe(1);
  });

  it('leaves out an arc whose centre is not known, and goes on behind it', () => {
    const moves = new MoveTable();
    moves.add(10, 0, 0, 0, MoveKind.arc, 1);
    moves.addExtra(Number.NaN, Number.NaN, Number.NaN, Number.NaN, Number.NaN);
    moves.add(20, 0, 0, 1, MoveKind.arc, 1);
    moves.add(30, 0, 0, 2, MoveKind.line, 1);
    expect(styles(pack(moves, [0, 0, 0]))).toEqual([0, 0, 0, PathStyle.cut]);
  });

  it('puts the outermost point of an arc into the bounds', () => {
    const path = arcOf([3, 4, 0], [-3, 4, 0], [0, 0, 5, 5, Math.PI - 2 * Math.atan2(4, 3)]);
    expect([...path.bounds]).toEqual([-3, 4, 0, 3, 5, 0]);
  });

  it('puts the outermost points of a spiral into the bounds, which lie beside the axes', () => {
    const [radius, growth, sweep] = [10, 12, (-11 * Math.PI) / 6];
    const path = arcOf([0, 10, 0], [-11, 11 * Math.sqrt(3), 0], [0, 0, radius, radius + growth, sweep]);
    // The curve itself, looked at in a hundred thousand places.
    const places = Array.from({ length: 100_001 }, (_, i) => i / 100_000);
    const first = places.map((t) => (radius + growth * t) * Math.cos(Math.PI / 2 + sweep * t));
    const second = places.map((t) => (radius + growth * t) * Math.sin(Math.PI / 2 + sweep * t));
    const expected = [first, second].map((values) => [Math.min(...values), Math.max(...values)]);
    expect(path.bounds[0]).toBeCloseTo(expected[0][0], 6);
    expect(path.bounds[3]).toBeCloseTo(expected[0][1], 6);
    expect(path.bounds[1]).toBeCloseTo(expected[1][0], 6);
    expect(path.bounds[4]).toBeCloseTo(expected[1][1], 6);
  });
});

describe('pieces', () => {
  it('splits moves so that each part fits, and the parts join', () => {
    const moves = new MoveTable();
    for (let i = 0; i < 100; i++) {
      moves.add(i + 1, 0, 0, i, i % 10 === 0 ? MoveKind.arc : MoveKind.line, 1);
      if (i % 10 === 0) moves.addExtra(i + 0.5, 0, 0.5, 0.5, Math.PI);
    }
    const parts = splitMoves(moves, treatments, 40);
    expect(parts.length).toBeGreaterThan(3);
    expect(parts[0][0]).toBe(0);
    expect(parts[parts.length - 1][1]).toBe(100);
    let end = new Vector3(0, 0, 0);
    for (const [from, to, vertices] of parts) {
      expect(vertices).toBeLessThanOrEqual(40);
      const path = packPath(
        [{ moves, entry: new Float64Array(3), from, to, lineOffset: 0, pass: 1 }],
        vertices,
        meaningOf(),
      );
      expect(point(path, 0)).toEqual(end);
      end = point(path, vertices - 1);
    }
    expect(end.x).toBe(100);
  });

  it('refuses a wrong count instead of sending a torn piece', () => {
    const moves = new MoveTable();
    moves.add(1, 1, 1, 0, MoveKind.line, 1);
    const span = { moves, entry: new Float64Array(3), from: 0, to: 1, lineOffset: 0, pass: 1 };
    expect(() => packPath([span], 5, meaningOf())).toThrow(RangeError);
  });

  it('takes 18 bytes a vertex, below one megabyte', () => {
    const moves = new MoveTable();
    moves.add(1, 1, 1, 0, MoveKind.line, 1);
    const one = pack(moves, [0, 0, 0]).buffer.byteLength;
    moves.add(2, 1, 1, 0, MoveKind.line, 1);
    const two = pack(moves, [0, 0, 0]).buffer.byteLength;
    expect(two - one).toBe(18);
    const header = one - 2 * 18 - 24;
    expect(header + MAX_VERTICES * 18).toBeLessThanOrEqual(1024 * 1024);
    // So many vertices with a thousand rows weigh no more than the most vertices without any.
    const vertices = MAX_VERTICES - pieceWeight(0, 1000);
    expect(header + vertices * 18 + 1000 * 24).toBeLessThanOrEqual(1024 * 1024);
  });

  it('reads back what was packed and nothing else', () => {
    const moves = new MoveTable();
    moves.add(1, 2, 3, 0, MoveKind.line, 1);
    const { buffer } = pack(moves, [0, 0, 0]);
    expect(readPackedPath(buffer)?.vertexCount).toBe(2);
    expect(readPackedPath(buffer.slice(0, -1))).toBeUndefined();
    expect(readPackedPath(new ArrayBuffer(4))).toBeUndefined();
    expect(readPackedPath(new ArrayBuffer(buffer.byteLength))).toBeUndefined();
  });
});
