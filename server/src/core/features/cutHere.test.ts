import { describe, expect, test } from 'vitest';
import { executed } from '../../../../tests/harness/path.ts';
import { seeded } from '../../../../tests/protocol/programs.ts';
import { arcPoint } from '../geometry/arcMeasure.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { blocksThatCut } from './cutHere.ts';
import { type CutPoint, readPoint } from './cutHerePoint.ts';
import { allOf } from './referencesText.ts';
import { inItsPlane, tracedMoves } from './trace.ts';

/** Lines of the blocks that cut at a point, in the order of the list. */
function lines(text: string, point: string): number[] {
  const read = readPoint(point, 1);
  if (read === undefined) throw new Error(`${point} is no point`);
  return allOf(blocksThatCut(executed(text), DEFAULT_CONFIGURATION, read)).blocks.map(({ line }) => line);
}

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6 (END MILL D10)\nS3000 M3\nG0 X0. Y0. Z5.\n';
const RECTANGLE = `${HEAD}G1 Z-2. F100\nX50.\nY40.\nX0.\nY0.\nG0 Z50.\nM30`;

describe('a point as it is typed', () => {
  test.each([
    ['X10 Y20', 10, 20, undefined],
    ['x10.5y-.5', 10.5, -0.5, undefined],
    ['X10. Y20. Z-3.', 10, 20, -3],
    ['10 20', 10, 20, undefined],
    ['10, 20, -3', 10, 20, -3],
    ['X 10; Y - 2', 10, -2, undefined],
  ])('%s', (text, x, y, z) => {
    expect(readPoint(text, 1)).toEqual({ x, y, z });
  });

  test('is in the units that it is told', () => {
    expect(readPoint('1 2', 25.4)).toEqual({ x: 25.4, y: 50.8, z: undefined });
  });

  test.each(['', '10', 'X10', 'Y1 X2', 'here', '1 2 3 4', 'X1..2 Y3'])('is none: %s', (text) => {
    expect(readPoint(text, 1)).toBeUndefined();
  });
});

describe('blocks that cut at a place', () => {
  test('those whose cutter reaches it, nearest first', () => {
    expect(lines(RECTANGLE, 'X25 Y0')).toEqual([5]);
    expect(lines(RECTANGLE, 'X25 Y4.9')).toEqual([5]);
    expect(lines(RECTANGLE, 'X25 Y5.1')).toEqual([]);
    expect(lines(RECTANGLE, 'X47 Y1')).toEqual([5, 6]);
  });

  test('of the same distance the last of the run comes first', () => {
    expect(lines(`${HEAD}G1 Z-1. F100\nX50.\nG1 Z-2.\nX0.\nM30`, 'X25 Y0')).toEqual([7, 5]);
  });

  test('a block that cut in several passes tells the deepest', () => {
    const point = readPoint('X25 Y0', 1) as CutPoint;
    const detail = (step: number): string => {
      const loop = `${HEAD}#1=1\nWHILE [#1 LE 3] DO1\nG1 Z-[1+#1*${step}] F100\nX50.\nG0 X0.\n#1=#1+1\nEND1\nM30`;
      return allOf(blocksThatCut(executed(loop), DEFAULT_CONFIGURATION, point)).blocks[0].detail;
    };
    expect(detail(1)).toBe('T1 END MILL D10, on its path, tip down to Z-4');
    expect(detail(0)).toBe('T1 END MILL D10, on its path, tip at Z-1');
  });

  test('with a depth those whose tip is there or below, rapids too', () => {
    const text = `${HEAD}G1 Z-1. F100\nX50.\nG1 Z-2.\nX0.\nG0 Z-1.5\nX50.\nM30`;
    expect(lines(text, 'X25 Y0 Z-1.8')).toEqual([7]);
    expect(lines(text, 'X25 Y0 Z-1.2')).toEqual([9, 7]);
    expect(lines(text, 'X25 Y0 Z-2.5')).toEqual([]);
  });

  test('of a tool whose diameter nobody told only the path counts', () => {
    const text = RECTANGLE.replace('(END MILL D10)', '');
    expect(lines(text, 'X25 Y0.009')).toEqual([5]);
    expect(lines(text, 'X25 Y0.02')).toEqual([]);
    expect(lines(text, 'X25 Y0 Z-2')).toEqual([5]);
    expect(lines(text, 'X25 Y0 Z-1')).toEqual([]);
  });

  test('holes of a cycle, and all passes of a loop as one block', () => {
    expect(lines(`${HEAD}G81 X10. Y10. Z-5. R2. F100\nX40.\nG80\nM30`, 'X40 Y10')).toEqual([5]);
    const loop = `${HEAD}#1=0\nWHILE [#1 LT 5] DO1\nG1 Z-#1 F100\nX50.\nX0.\n#1=#1+1\nEND1\nM30`;
    expect(lines(loop, 'X25 Y0')).toEqual([8, 7]);
  });

  test('the words of the list', () => {
    const point: CutPoint = { x: 25, y: 1.25, z: undefined };
    const { blocks, more } = allOf(blocksThatCut(executed(RECTANGLE), DEFAULT_CONFIGURATION, point));
    expect(more).toBe(0);
    expect(blocks[0]).toMatchObject({
      label: 'Line 6: X50.',
      detail: 'T1 END MILL D10, 1.25 mm beside its path, tip at Z-2',
    });
  });

  test('no more than 200 are listed', () => {
    const text = `${HEAD}G1 F100\n${'X50.\nX0.\n'.repeat(150)}M30`;
    const found = allOf(blocksThatCut(executed(text), DEFAULT_CONFIGURATION, { x: 25, y: 0, z: undefined }));
    expect([found.blocks.length, found.more]).toEqual([200, 100]);
    expect(found.blocks[0]?.line).toBe(304);
  });

  test('agrees with the path walked in small steps', () => {
    const random = seeded(7);
    const number = (span: number): string => ((random() - 0.5) * span).toFixed(2);
    for (let round = 0; round < 60; round++) {
      const blocks = Array.from({ length: 12 }, () => {
        const kind = random();
        if (kind < 0.5) return `G1 X${number(80)} Y${number(80)} Z${number(8)}`;
        const turns = kind < 0.6 ? ' P3' : '';
        if (kind < 0.9) return `G${random() < 0.5 ? 2 : 3} I${number(30)} J${number(30)} Z${number(8)}${turns}`;
        return `G18 G2 I${number(9)} K${number(9)} Y${number(20)}\nG17`;
      });
      const analysis = executed(`${HEAD}G1 F100\n${blocks.join('\n')}\nM30`);
      const point = { x: Number(number(60)), y: Number(number(60)), z: undefined };
      const found = allOf(blocksThatCut(analysis, DEFAULT_CONFIGURATION, point)).blocks;
      const nearest = new Map<number, number>();
      for (const move of tracedMoves(analysis)) {
        if (move.kind !== 'line' && move.kind !== 'arc') continue;
        const own = move.arc && inItsPlane(move, move.arc);
        for (let step = 0; step <= 2000; step++) {
          const part = step / 2000;
          const at = move.from.map((value, axis) => value + (move.to[axis]! - value) * part);
          if (own) [at[own.plane.first], at[own.plane.second]] = arcPoint(own.arc, part);
          const distance = Math.hypot(at[0]! - point.x, at[1]! - point.y);
          nearest.set(move.line, Math.min(distance, nearest.get(move.line) ?? Number.POSITIVE_INFINITY));
        }
      }
      const told = new Map(found.map(({ line, distance }) => [line, distance]));
      for (const [line, distance] of nearest) {
        // Steps are up to 0.2 mm long; chords of arcs in other planes lie up to some hundredths beside them.
        if (distance < 4.9) expect(Math.abs((told.get(line) ?? 99) - distance), `line ${line}`).toBeLessThan(0.06);
        if (distance > 5.1) expect(told.has(line), `line ${line}`).toBe(false);
      }
    }
  });
});
