/** Faces against the area that clipper2-ts (a general polygon library) finds swept by the flat of the cutter. */
import { expect, test } from 'vitest';
import { runBlock } from '../../harness/blocks.ts';
import { cutsOn } from '../../harness/sweptArea.ts';
import { areaOf, areaWithout, outlineOf, sweptBy } from '../../harness/sweptPolygon.ts';

test.each<[string, Record<string, string | number>, number]>([
  ['to and fro', { length: 120, width: 80, tool: 50 }, 25],
  ['all climb, turned', { length: 120, width: 80, tool: 32, direction: 'climb', angle: 15 }, 16],
  ['one row of a wide cutter', { length: 90, width: 30, tool: 63, stepover: 70 }, 31.5],
  ['with round corners, at the widest', { length: 90, width: 70, tool: 20, 'corner-radius': 2, stepover: 100 }, 8],
  ['without overrun', { length: 90, width: 70, tool: 20, overrun: 0 }, 10],
])('the whole surface is faced, %s', (_, raw, flat) => {
  const { moves } = runBlock('face', { depth: 1, speed: 1000, feed: 500, ...raw });
  const [length, width] = [Number(raw.length), Number(raw.width)];
  const half = { halfLength: length / 2, halfWidth: width / 2, corner: 0 };
  const surface = outlineOf({ centre: [0, 0], ...half, angle: Number(raw.angle ?? 0) });
  expect(areaOf(surface)).toBeCloseTo(length * width, 6);
  expect(areaWithout(surface, sweptBy(cutsOn(moves, -1), flat))).toBeLessThan(0.5);
});

// Rows of a face = width / (share of the cutter), rounded up: common practice, worked by hand. 1 mm is gone beyond the edge.
test.each([
  [100, 50, 70, 3],
  [69, 50, 70, 2],
  [70, 50, 70, 3],
  [200, 63, 75, 5],
])('%d mm with a cutter of %d at %d %% take %d rows', (width, tool, stepover, rows) => {
  const { facts } = runBlock('face', { length: 100, width, tool, stepover, depth: 1, speed: 1000, feed: 500 });
  expect(facts.find(({ name }) => name === 'rows')?.text).toBe(String(rows));
});
