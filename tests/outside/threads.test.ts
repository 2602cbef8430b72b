/**
 * Thread tables against published values. All values here are typed from memory of the standards named,
 * apart from the product's tables: a slip in both at the same place would not be seen.
 */

import { describe, expect, test } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { basicDiameters, isoThreadSize } from '../../server/src/core/reference/isoThreads.ts';
import { tapDrillOf } from '../../server/src/core/reference/tapDrills.ts';
import {
  cutEngagement,
  cuttingSpeedOf,
  drillPointLength,
  formedEngagement,
  spindleSpeedFor,
  tapTorque,
} from '../../server/src/core/reference/threadMeasures.ts';
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

const drillFor = (name: string) => {
  const thread = parseThread(name);
  return thread === undefined ? undefined : tapDrillOf(thread);
};

// ISO 2306, drills for use prior to tapping (from memory).
describe('ISO 2306 tap drills', () => {
  test('M10 coarse has pitch 1.5 and the 8.5 drill', () => {
    expect(isoThreadSize(10)?.coarse).toBe(1.5);
    expect(drillFor('M10')?.diameter).toBe(8.5);
  });

  test.each([
    ['M2', 1.6],
    ['M3', 2.5],
    ['M4', 3.3],
    ['M5', 4.2],
    ['M6', 5],
    ['M8', 6.8],
    ['M12', 10.2],
    ['M16', 14],
    ['M20', 17.5],
    ['M24', 21],
    ['M36', 32],
    ['M8X1', 7],
    ['M10X1.25', 8.8],
    ['M10X1', 9],
    ['M12X1.25', 10.8],
    ['M12X1.5', 10.5],
    ['M16X1.5', 14.5],
    ['M20X1.5', 18.5],
    ['M24X2', 22],
  ])('%s takes %s', (name, drill) => {
    expect(drillFor(name)?.diameter).toBeCloseTo(drill, 9);
  });
});

// The drill table found in handbooks and on drill stands of the trade (from memory), with the drill in inches.
describe('drills of unified threads', () => {
  test('1/4-20 UNC takes the #7 drill, 5.1 mm', () => {
    expect(drillFor('1/4-20 UNC')).toEqual({ diameter: expect.closeTo(5.1, 1), name: '#7' });
  });

  test.each([
    ['#4-40', '#43', 0.089],
    ['#6-32', '#36', 0.1065],
    ['#8-32', '#29', 0.136],
    ['#10-24', '#25', 0.1495],
    ['#10-32', '#21', 0.159],
    ['1/4-20', '#7', 0.201],
    ['1/4-28', '#3', 0.213],
    ['5/16-18', 'F', 0.257],
    ['5/16-24', 'I', 0.272],
    ['3/8-16', '5/16', 0.3125],
    ['3/8-24', 'Q', 0.332],
    ['1/2-13', '27/64', 0.4219],
    ['1/2-20', '29/64', 0.4531],
    ['3/4-10', '21/32', 0.6563],
    ['1-8 UNC', '7/8', 0.875],
  ])('%s takes %s, %s inch', (name, drill, inches) => {
    expect(drillFor(name)?.name).toBe(drill);
    expect((drillFor(name)?.diameter ?? 0) / 25.4).toBeCloseTo(inches, 4);
  });
});

// Minor diameters of G threads in ISO 228-1, least and most (from memory): the drill lies between, or a little above.
test.each([
  ['G1/8', 8.566, 8.848],
  ['G1/4', 11.445, 11.89],
  ['G3/8', 14.95, 15.395],
  ['G1/2', 18.631, 19.172],
  ['G3/4', 24.117, 24.658],
  ['G1', 30.291, 30.931],
])('the drill of %s is within ISO 228-1', (name, least, most) => {
  expect(drillFor(name)?.diameter).toBeGreaterThanOrEqual(least);
  expect(drillFor(name)?.diameter).toBeLessThanOrEqual(most);
});

/** What is told of the feed of a hole tapped 12 mm deep in a synchronised holder. */
const tappingFeedTold = (thread: string, speed: number, feed: number): string[] => {
  const program = `G21 G90 G94 G54\nT1 M6\nS${speed} M3\nG0 X0 Y0\nG43 H1 Z10.\nG84 Z-12. R3. F${feed}\nG80\nM30`;
  const tools = [{ number: 1, kind: 'tap', thread, holder: { kind: 'synchronised' } }] as const;
  const analysis = new Analysis(program, { ...DEFAULT_CONFIGURATION, tools });
  analysis.run();
  return analysis
    .findings()
    .findings.filter(({ rule }) => rule === 'tap-feed-mismatch')
    .map(({ message }) => message);
};

describe('formulas of machining handbooks', () => {
  // F = n·P is the definition of a pitch; the products worked by hand.
  test.each([
    ['M6', 500, 500],
    ['M8', 400, 500],
    ['M10', 300, 450],
    ['1/4-20 UNC', 600, 762],
    ['G1/4', 200, 267.3684],
  ])('%s at %s turns a minute is fed at %s mm/min', (name, speed, feed) => {
    expect(speed * (parseThread(name)?.pitch ?? 0)).toBeCloseTo(feed, 4);
  });

  // The same through the checks: any other F is told with the right one, which is rounded down to three places.
  test.each([
    ['M6', 500, 'F500'],
    ['M10', 300, 'F450'],
    ['M8X1', 640, 'F640'],
    ['1/4-20 UNC', 600, 'F762'],
    ['G1/4', 200, 'F267.4'],
  ])('a synchronised %s at S%s needs %s', (thread, speed, feed) => {
    const right = Number(feed.slice(1));
    expect(tappingFeedTold(thread, speed, right)).toEqual([]);
    for (const share of [0.84, 0.98, 1.02, 1.5]) {
      const [message] = tappingFeedTold(thread, speed, Math.round(right * share));
      expect(Math.abs(Number(/needs F([\d.]+)/.exec(message)?.[1]) - right)).toBeLessThan(0.05);
      expect(message).toMatch(share < 1 ? /held back/ : /pushed on/);
    }
  });

  // (S·P − F)/(S·P)·depth, worked by hand: 80/500 · 12 = 1.92.
  test('F420 for M6 at S500 holds the tap back 1.92 mm over 12 mm', () => {
    expect(tappingFeedTold('M6', 500, 420)).toEqual([expect.stringContaining('held back 1.92 mm over 12 mm')]);
  });

  // n = 1000·Vc/(π·D), worked by hand with π = 3.14159.
  test.each([
    [10, 30, 954.93],
    [6, 15, 795.77],
    [20, 100, 1591.55],
    [50, 200, 1273.24],
  ])('a diameter of %s at %s m/min turns at %s', (diameter, cuttingSpeed, speed) => {
    expect(spindleSpeedFor(diameter, cuttingSpeed)).toBeCloseTo(speed, 2);
    expect(cuttingSpeedOf(diameter, speed)).toBeCloseTo(cuttingSpeed, 3);
  });

  // M10 in steel of kc 2000: 1.5² · 10 · 2000 / 8000, worked by hand. The formula is from memory of tap makers' handbooks.
  test('torque is P²·D·kc/8000', () => {
    expect(tapTorque(10, 1.5, 2000)).toBeCloseTo(5.625, 9);
    expect(tapTorque(6, 1, 2000)).toBeCloseTo(1.5, 9);
  });

  // Geometry: half the diameter over the tangent of half the angle; 0.300·D at 118° and 0.5·D at 90°.
  test('a drill’s point', () => {
    expect(drillPointLength(5, 118)).toBeCloseTo(1.502, 3);
    expect(drillPointLength(10, 118) / 10).toBeCloseTo(0.3, 3);
    expect(drillPointLength(10, 140) / 10).toBeCloseTo(0.182, 3);
    expect(drillPointLength(10, 90)).toBeCloseTo(5, 9);
  });

  // Handbooks: M6 in 5.0 and 1/4-20 in #7 are threads of about 75 to 77 % (from memory).
  test('engagement', () => {
    expect(cutEngagement(6, 5, 1)).toBeCloseTo(76.98, 2);
    expect(cutEngagement(6.35, 5.1054, 1.27)).toBeCloseTo(75.44, 2);
    expect(formedEngagement(6, 5.55, 1)).toBeCloseTo(66.18, 2);
  });
});
