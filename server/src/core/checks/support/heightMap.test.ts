/** The map of heights against distances measured by a general geometry library (@flatten-js/core), and by hand. */
import { Point, Segment } from '@flatten-js/core';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { HeightMap } from './heightMap.ts';

const OUTLINE = { minX: -10, minY: 5, maxX: 50, maxY: 45 };
const mapOf = (cells: number): HeightMap => new HeightMap(OUTLINE, 0, cells, () => true);

/** Middles of all cells. */
const middles = (map: HeightMap): [number, number][] =>
  Array.from({ length: map.rows * map.columns }, (_, i) => [
    OUTLINE.minX + ((i % map.columns) + 0.5) * map.cell,
    OUTLINE.minY + (Math.floor(i / map.columns) + 0.5) * map.cell,
  ]);

const distance = (x: number, y: number, ax: number, ay: number, bx: number, by: number): number => {
  const point = new Point(x, y);
  if (ax === bx && ay === by) return point.distanceTo(new Point(ax, ay))[0];
  return point.distanceTo(new Segment(new Point(ax, ay), new Point(bx, by)))[0];
};

/** A random way: slanting, along an axis, or a point; now and then far outside. */
const randomWay = (random: () => number): [number, number, number, number] => {
  const [ax, ay] = [random() * 80 - 20, random() * 60 - 5];
  const kind = random();
  if (kind < 0.15) return [ax, ay, ax, ay];
  if (kind < 0.3) return [ax, ay, random() * 80 - 20, ay];
  if (kind < 0.45) return [ax, ay, ax, random() * 60 - 5];
  return [ax, ay, random() * 80 - 20, random() * 60 - 5];
};

describe('a map of heights', () => {
  it('has square cells, no more than asked for, that lie in the blank', () => {
    const map = mapOf(600);
    expect([map.cell, map.columns, map.rows]).toEqual([2, 30, 20]);
    expect(map.levelAt(-9.9, 5.1)).toBe(0);
    expect(map.levelAt(-10.1, 5.1)).toBe(Number.NEGATIVE_INFINITY);
    expect(map.levelAt(50.1, 44)).toBe(Number.NEGATIVE_INFINITY);
    expect(map.levelAt(Number.NaN, 20)).toBe(Number.NEGATIVE_INFINITY);
    for (const cells of [1, 7, 1000, 65_536])
      expect(mapOf(cells).columns * mapOf(cells).rows).toBeLessThanOrEqual(cells);
    const bar = new HeightMap({ minX: 0, minY: 0, maxX: 3000, maxY: 0.5 }, 0, 1000, () => true);
    expect(bar.columns * bar.rows).toBeLessThanOrEqual(1000);
  });

  it('stands only where a whole cell is in the blank', () => {
    const outline = { minX: -10, minY: -10, maxX: 10, maxY: 10 };
    const map = new HeightMap(outline, 3, 400, (x, y, radius) => Math.hypot(x, y) <= 10 - radius);
    for (let x = -9.5; x < 10; x++) {
      for (let y = -9.5; y < 10; y++) {
        const isStanding = map.levelAt(x, y) === 3;
        const corner = Math.hypot(Math.abs(x) + 0.5, Math.abs(y) + 0.5);
        if (isStanding) expect(corner).toBeLessThanOrEqual(10 + 1e-9);
        if (Math.hypot(x, y) < 9) expect(isStanding).toBe(true);
      }
    }
  });

  it('loses what a slot of 10 mm may touch, and nothing else', () => {
    // Along Y25 from X0 to X20, cells of 1 mm: a cell may be touched up to 5 + 0.7071 from the way.
    const map = mapOf(2400);
    map.takeOff(0, 25, 20, 25, 5, -4);
    const level = (x: number, y: number) => map.levelAt(x, y);
    expect([level(10, 25), level(10, 30.4), level(10, 31.4), level(10, 19.6), level(10, 18.6)]).toEqual([
      -4, -4, 0, -4, 0,
    ]);
    expect([level(25.4, 25), level(26.4, 25), level(-5.4, 25), level(-6.4, 25)]).toEqual([-4, 0, -4, 0]);
    // The corner beside its round end stands.
    expect([level(24.4, 29.4), level(23.4, 28.4)]).toEqual([0, -4]);
    // Higher up later: nothing grows back. A copy goes its own way.
    const copy = map.copy();
    map.takeOff(0, 25, 20, 25, 5, -1);
    copy.takeOff(10, 25, 10, 25, 1, -9);
    expect([level(10, 25), copy.levelAt(10, 25), copy.levelAt(0, 25)]).toEqual([-4, -9, -4]);
  });

  it('takes off just the cells that a cutter may touch, for 400 random ways', () => {
    const random = seeded(11);
    for (let i = 0; i < 400; i++) {
      const map = mapOf([60, 600, 2400][i % 3]);
      const way = randomWay(random);
      const radius = random() * 12;
      map.takeOff(...way, radius, -2);
      for (const [x, y] of middles(map)) {
        const free = distance(x, y, ...way) - radius - map.halfDiagonal;
        if (Math.abs(free) < 1e-9) continue;
        expect(map.levelAt(x, y), `${way} radius ${radius} at ${x} ${y}`).toBe(free > 0 ? 0 : -2);
      }
    }
  });

  it('says of no place that it stands which a cutter reached', () => {
    const random = seeded(12);
    const map = mapOf(2400);
    const cuts = Array.from({ length: 12 }, () => ({
      way: randomWay(random),
      radius: 1 + random() * 4,
      level: -random() * 9,
    }));
    for (const { way, radius, level } of cuts) map.takeOff(...way, radius, level);
    let standing = 0;
    for (let i = 0; i < 20_000; i++) {
      const [x, y] = [-10 + random() * 60, 5 + random() * 40];
      const reached = cuts.filter(({ way, radius }) => distance(x, y, ...way) <= radius).map(({ level }) => level);
      expect(map.levelAt(x, y)).toBeLessThanOrEqual(Math.fround(Math.min(0, ...reached)));
      if (map.levelAt(x, y) === 0) standing++;
    }
    expect(standing).toBeGreaterThan(100);
  });

  it('finds the highest cell beside a way, for 300 random ones', () => {
    const random = seeded(13);
    const map = mapOf(600);
    for (let i = 0; i < 30; i++) map.takeOff(...randomWay(random), 3, -1 - random() * 8);
    const all = middles(map);
    for (let i = 0; i < 300; i++) {
      const way = randomWay(random);
      const radius = random() * 8;
      const near = all.filter(([x, y]) => distance(x, y, ...way) <= radius);
      const found = map.highestBeside(...way, radius);
      if (near.length === 0) {
        expect(found).toBeUndefined();
        continue;
      }
      expect(found?.level).toBe(Math.max(...near.map(([x, y]) => map.levelAt(x, y))));
      expect(distance(found?.x ?? 0, found?.y ?? 0, ...way)).toBeLessThanOrEqual(radius + 1e-9);
    }
  });

  it('does nothing where all is lower already', () => {
    const map = mapOf(65_536);
    map.takeOff(20, 20, 30, 30, 500, -5);
    const { work } = map;
    map.takeOff(20, 20, 30, 30, 500, -5);
    expect(map.work - work).toBe(1);
    map.takeOff(20, 20, 20, 20, 1, -6);
    expect([map.levelAt(20, 20), map.levelAt(0, 10)]).toEqual([-6, -5]);
  });
});
