import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type TraceOptions, tracedMoves } from './trace.ts';
import { TraceSummary } from './traceSummary.ts';

const movesOf = (text: string, options?: TraceOptions) => {
  const analysis = new Analysis(text);
  analysis.run();
  return [...tracedMoves(analysis, options)];
};
const START = 'G17 G21 G90 G94 G54\nT1 M6\nS1000 M3\nG0 X0 Y0 Z0\n';

// Expected times are worked out by hand from the block: length by feed.
describe('feed and time', () => {
  test.each([
    ['mm/min', 'G1 X10. F200', 200, 3],
    ['mm a turn', 'G95 G1 X10. F0.2', 200, 3],
    ['inverse time', 'G93 G1 X10. F20', 200, 3],
    ['lead of a thread', 'G33 Z-10. F1.5', 1500, 0.4],
    ['inch', 'G20 G1 X1. F10.', 254, 6],
  ])('%s', (_, block, feed, seconds) => {
    const move = movesOf(START + block).at(-1);
    expect(move?.feed).toBeCloseTo(feed, 9);
    expect(move?.seconds).toBeCloseTo(seconds, 9);
  });

  test('a feed that is not known gives no time', () => {
    expect(movesOf(`${START}G1 X10.`).at(-1)).toMatchObject({ length: 10, feed: Number.NaN, seconds: Number.NaN });
  });

  test('rapids at 10,000 mm/min, or as asked', () => {
    expect(movesOf(`${START}X100.`).at(-1)?.seconds).toBeCloseTo(0.6, 9);
    const machine = { axes: { X: { rapid: 5000 }, Z: { rapid: 2000 } }, workOffsets: {} };
    expect(movesOf(`${START}X100.`, { machine }).at(-1)?.seconds).toBeCloseTo(1.2, 9);
    // The slowest of the axes that move decides; one without a rate has the usual one.
    expect(movesOf(`${START}X30. Z40.`, { machine }).at(-1)?.seconds).toBeCloseTo((50 / 2000) * 60, 9);
    expect(movesOf(`${START}Y100.`, { machine }).at(-1)?.seconds).toBeCloseTo(0.6, 9);
  });
});

describe('which moves', () => {
  test('no move of no length; dwells and the first positioning stay', () => {
    const kinds = movesOf(`${START}G1 X0. F100\nG4 P0.5\nX1.`).map(({ line, kind }) => [line, kind]);
    expect(kinds).toEqual([
      [3, 'rapid'],
      [5, 'dwell'],
      [6, 'line'],
    ]);
  });

  test('a tapping cycle cuts in and out, on the line that caused it', () => {
    const moves = movesOf(`${START}G0 Z5.\nG84 X10. Z-10. R2. F1000\nG80`).filter(({ line }) => line === 5);
    const cuts = moves.filter(({ kind }) => kind === 'line').map(({ from, to }) => [from[2], to[2]]);
    expect(cuts).toEqual([
      [2, -10],
      [-10, 2],
    ]);
  });

  test('a helix of three turns is one move', () => {
    expect(movesOf(`${START}G1 X5. F100\nG3 X5. Y0. Z-3. I-5. J0. P3`).at(-1)?.arc?.sweep).toBeCloseTo(1080, 9);
  });

  test('only the first program of a file', () => {
    expect(movesOf(`O1\n${START}G1 X10. F100\nM30\nO2\n${START}G1 X99. F100\nM30`).at(-1)?.to[0]).toBe(10);
  });

  test('only the lines asked for', () => {
    expect(movesOf(`${START}G1 X10. F100\nX20.\nX30.`, { firstLine: 5, lastLine: 5 }).map(({ to }) => to[0])).toEqual([
      20,
    ]);
  });
});

test('the summary adds up lengths and times, and takes extents of arcs, not of their ends', () => {
  const summary = new TraceSummary();
  for (const move of movesOf(`${START}X10.\nG2 X-10. Y0. I-10. J0. F600\nG4 P2.`)) summary.add(move);
  expect(summary.length.rapid).toBeCloseTo(10, 9);
  expect(summary.length.cut).toBeCloseTo(10 * Math.PI, 9);
  expect(summary.cut?.min.map((value) => Math.round(value * 1e9) / 1e9)).toEqual([-10, -10, 0]);
  expect(summary.totalSeconds).toBeCloseTo(0.06 + Math.PI + 2, 9);
  expect(summary.tools).toMatchObject([{ number: 1 }]);
});
