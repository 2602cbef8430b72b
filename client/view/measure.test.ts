import { describe, expect, it } from 'vitest';
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { type MeasuredPoint, movesTexts, moveTexts, pointsTexts } from './measure.ts';

const end = (x: number, y: number, z: number): MeasuredPoint => ({ kind: 'end', at: [x, y, z] });
const straight: PathMove = {
  line: 11,
  kind: 'line',
  from: [0, 0, -2],
  to: [30, 40, -2],
  length: 50,
  feed: 200,
  speed: 1200,
  tool: 1,
  seconds: 15,
  offset: 'G54',
  plane: 'XY',
  pass: 1,
  passes: 1,
  part: 1,
  parts: 1,
  text: [],
};

describe('two points', () => {
  it('give differences, length and the angle in the view’s plane', () => {
    expect(pointsTexts(end(10, 5, 0), end(40, 45, -12), 'top', false)).toEqual([
      'dX 30.000  dY 40.000  dZ −12.000',
      'length 51.420 mm',
      'in XY 50.000 mm, 53.130° from X+ toward Y+',
    ]);
    expect(pointsTexts(end(0, 0, 0), end(0, 25.4, -25.4), 'side', true)[2]).toBe(
      'in YZ 1.4142 in, 315.000° from Y+ toward Z+',
    );
  });

  it('give nothing along the line of sight where a place was free', () => {
    const free: MeasuredPoint = { kind: 'free', at: [10, 3, 99] };
    expect(pointsTexts(end(0, 3, 0), free, 'top', false)).toEqual([
      'dX 10.000  dY 0.000',
      'in XY 10.000 mm, 0.000° from X+ toward Y+',
    ]);
    expect(pointsTexts(end(0, 3, 0), { ...free, at: [10, 99, -4] }, 'front', false)[0]).toBe('dX 10.000  dZ −4.000');
  });

  it('give the rise in space, and no angle where they are one above the other', () => {
    expect(pointsTexts(end(0, 0, 0), end(0, 10, 10), 'space', false)[1]).toBe(
      'length 14.142 mm, rises 45.000° from XY',
    );
    expect(pointsTexts(end(7, 7, 0), end(7, 7, -4), 'top', false)[2]).toBe('in XY 0.000 mm');
  });
});

describe('a move', () => {
  it('gives its kind and length, and of an arc its radius, sweep and centre', () => {
    expect(moveTexts(straight, false)).toEqual([
      'line 12: straight at feed',
      'length 50.000 mm',
      'dX 30.000  dY 40.000  dZ 0.000',
      'from X 0.000 Y 0.000 Z −2.000  to X 30.000 Y 40.000 Z −2.000',
    ]);
    const arc: PathMove = {
      ...straight,
      kind: 'arc',
      from: [10, 0, 0],
      to: [-10, 0, -3],
      centre: [0, 0, 0],
      radius: 10,
      endRadius: 10,
      sweep: -180,
      pass: 2,
      passes: 3,
    };
    expect(moveTexts(arc, false).slice(0, 4)).toEqual([
      'line 12, pass 2 of 3: helix',
      'length 50.000 mm',
      'radius 10.000, diameter 20.000 mm, 180.000° clockwise',
      'centre X 0.000 Y 0.000 Z 0.000',
    ]);
    expect(moveTexts({ ...arc, endRadius: 10.004 }, false)[2]).toContain('10.000 at the start, 10.004 at the end');
  });

  it('says which coordinate is not known', () => {
    expect(moveTexts({ ...straight, kind: 'rapid', from: [null, 0, 0] }, false)[2]).toBe(
      'dX not known  dY 40.000  dZ −2.000',
    );
  });
});

describe('two moves', () => {
  it('give the distance in space and in the flat view', () => {
    const other: PathMove = { ...straight, line: 20, from: [0, 5, 4], to: [-30, 5, 4] };
    expect(movesTexts(straight, other, 'top', false)).toEqual([
      'line 12: straight at feed, line 21: straight at feed',
      'distance 6.708 mm',
      'in XY 3.000 mm',
    ]);
    expect(movesTexts(straight, other, 'space', false)).toHaveLength(2);
    expect(movesTexts(straight, { ...other, to: [null, 5, 4] }, 'top', false)[1]).toMatch(/not known/);
  });
});
