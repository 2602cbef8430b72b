/**
 * Thread tables against published values. All values here are typed from memory of the standards named,
 * apart from the product's tables: a slip in both at the same place would not be seen.
 */

import { describe, expect, test } from 'vitest';
import { basicDiameters, isoThreadSize } from '../../server/src/core/reference/isoThreads.ts';
import { parseThread } from '../../server/src/core/reference/threadName.ts';

// ISO 724, basic pitch diameter D2 and minor diameter D1 in mm (from memory).
describe('ISO 724 basic diameters', () => {
  test.each([
    [3, 0.5, 2.675, 2.459],
    [4, 0.7, 3.545, 3.242],
    [5, 0.8, 4.48, 4.134],
    [6, 1, 5.35, 4.917],
    [8, 1.25, 7.188, 6.647],
    [8, 1, 7.35, 6.917],
    [10, 1.5, 9.026, 8.376],
    [10, 1.25, 9.188, 8.647],
    [12, 1.75, 10.863, 10.106],
    [16, 2, 14.701, 13.835],
    [20, 2.5, 18.376, 17.294],
    [24, 3, 22.051, 20.752],
    [30, 3.5, 27.727, 26.211],
    [36, 4, 33.402, 31.67],
    [42, 4.5, 39.077, 37.129],
    [48, 5, 44.752, 42.587],
    [56, 5.5, 52.428, 50.046],
    [64, 6, 60.103, 57.505],
  ])('M%s x %s', (major, pitch, pitchDiameter, minor) => {
    const basic = basicDiameters(major, pitch);
    expect(Math.abs(basic.pitchDiameter - pitchDiameter)).toBeLessThanOrEqual(0.00051);
    expect(Math.abs(basic.minor - minor)).toBeLessThanOrEqual(0.00051);
  });
});

// ISO 261 coarse pitches (from memory), written as one line of the standard's own table.
test('ISO 261 coarse pitches', () => {
  const coarse =
    '1:0.25 1.2:0.25 1.6:0.35 2:0.4 2.5:0.45 3:0.5 3.5:0.6 4:0.7 5:0.8 6:1 8:1.25 10:1.5 12:1.75 14:2 16:2 18:2.5 20:2.5 22:2.5 24:3 27:3 30:3.5 33:3.5 36:4 39:4 42:4.5 45:4.5 48:5 52:5 56:5.5 60:5.5 64:6';
  for (const entry of coarse.split(' ')) {
    const [diameter, pitch] = entry.split(':').map(Number);
    expect(isoThreadSize(diameter as number)?.coarse, `M${diameter}`).toBe(pitch);
  }
});

// ISO 262 fine pitches of the selected sizes (from memory).
test('ISO 262 fine pitches of selected sizes', () => {
  for (const [diameter, pitch] of [
    [8, 1],
    [10, 1.25],
    [10, 1],
    [12, 1.5],
    [12, 1.25],
    [14, 1.5],
    [16, 1.5],
    [18, 1.5],
    [20, 1.5],
    [24, 2],
    [30, 2],
    [36, 3],
    [42, 3],
    [48, 3],
    [56, 4],
    [64, 4],
  ] as const) {
    expect(isoThreadSize(diameter)?.fine, `M${diameter}`).toContain(pitch);
  }
});

// ASME B1.1 basic minor diameter of internal threads in inches, 1.08253175·P below the major diameter (from memory).
describe('ASME B1.1 minor diameters', () => {
  test.each([
    ['#10-32', 0.1562],
    ['1/4-20', 0.1959],
    ['5/16-18', 0.2524],
    ['3/8-16', 0.3073],
    ['1/2-13', 0.4167],
    ['3/4-10', 0.6417],
    ['1-8 UNC', 0.8647],
  ])('%s', (name, minorInch) => {
    const thread = parseThread(name);
    expect(thread).toBeDefined();
    const minor = basicDiameters(thread?.diameter as number, thread?.pitch as number).minor / 25.4;
    expect(Math.abs(minor - minorInch)).toBeLessThanOrEqual(0.000051);
  });
});

// ISO 228-1 (from memory): pitch and minor diameter D1 = D − 1.280654·P of 55° threads.
describe('ISO 228-1', () => {
  test.each([
    ['G1/8', 0.907, 8.566],
    ['G1/4', 1.337, 11.445],
    ['G3/8', 1.337, 14.95],
    ['G1/2', 1.814, 18.631],
    ['G3/4', 1.814, 24.117],
  ])('%s', (name, pitch, minor) => {
    const thread = parseThread(name);
    expect(thread?.pitch).toBeCloseTo(pitch, 3);
    expect(Math.abs((thread?.diameter as number) - 1.280654 * (thread?.pitch as number) - minor)).toBeLessThan(0.0011);
  });
});
