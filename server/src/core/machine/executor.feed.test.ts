/** Feed modes, dwell, threads in step with the spindle, and what profiles change of them. */
import { describe, expect, it } from 'vitest';
import { endMode, executed, findingCodes, path } from '../../../../tests/harness/path.ts';
import { tracedMoves } from '../features/trace.ts';
import { Mode } from './modes.ts';

const last = (program: string, profile?: Parameters<typeof executed>[1]) =>
  [...tracedMoves(executed(program, profile))].at(-1);

describe('feed', () => {
  it('G94: mm or inches a minute', () => {
    expect(last('G0 X0 Y0 Z0\nG1 X100 F200')).toMatchObject({ feed: 200, seconds: 30 });
    expect(last('G20 G0 X0 Y0 Z0\nG1 X1 F2')).toMatchObject({ feed: 50.8, seconds: 30 });
  });

  it('G95: a turn, times the speed', () => {
    expect(last('G0 X0 Y0 Z0\nG95 S500 M3\nG1 X100 F.4')).toMatchObject({ feed: 200, seconds: 30 });
    expect(last('G20 G0 X0 Y0 Z0\nG95 S500 M3\nG1 X1 F.01')?.feed).toBeCloseTo(127, 9);
  });

  it('G93: one over the minutes of the block, needed in every block', () => {
    expect(last('G0 X0 Y0 Z0\nG93 G1 X100 F2')).toMatchObject({ feed: 200, seconds: 30 });
    expect(last('G20 G0 X0 Y0 Z0\nG93 G1 X1 F2')).toMatchObject({ seconds: 30 });
    expect(findingCodes('G0 X0 Y0 Z0\nG93 G1 X100 F2\nX50', 'iso', 'feed')).toEqual(['feed-missing']);
    expect(findingCodes('G0 X0 Y0 Z0\nG93 G1 X100 F2\nX50 F4', 'iso', 'feed')).toEqual([]);
    expect(findingCodes('G0 X0 Y0 Z0\nG93 G0 X100\nX50', 'iso', 'feed')).toEqual([]);
  });

  it('F is kept across G94 and G95 only where the profile says so', () => {
    const program = 'G94 F100\nG95';
    expect(endMode(program, Mode.feed)).toBe(-1);
    expect(endMode(program, Mode.feed, { base: 'iso', feedKeptAcrossModes: true })).toBe(100);
    expect(endMode('G94 F100\nG94', Mode.feed)).toBe(100);
    expect(endMode('G94 F100\nG95 F.2', Mode.feed)).toBe(0.2);
  });

  it('a feed given in inches stays when the units change', () => {
    expect(endMode('G20 F10\nG21', Mode.feed)).toBe(254);
  });

  it('G96: S is a cutting speed, no turns', () => {
    expect(last('G0 X0 Y0 Z0\nG96 S120 M3\nG1 X10 F100')?.speed).toBeNaN();
    expect(last('G0 X0 Y0 Z0\nG96 S120\nG97 S800 M3\nG1 X10 F100')?.speed).toBe(800);
  });

  it('F on a helix is along the path in space, or in the plane', () => {
    const program = 'G0 X10 Y0 Z0\nG3 X10 Y0 Z-40 I-10 F60';
    const timed = (helixFeed: 'space' | 'plane') => [...tracedMoves(executed(program), { helixFeed })].at(-1)?.seconds;
    expect(timed('space')).toBeCloseTo(Math.hypot(20 * Math.PI, 40), 9);
    expect(timed('plane')).toBeCloseTo(20 * Math.PI, 9);
  });
});

describe('dwell', () => {
  it.each([
    ['P2', 2],
    ['P.5', 0.5],
    ['P49', 49],
    ['P50', 0.05],
    ['P500', 0.5],
    ['P500.', 500],
    ['X1.5', 1.5],
    ['P#1', 500],
    ['P[250*2]', 500],
  ])('iso: G4 %s waits %d s', (word, seconds) => {
    expect(path(`#1=500\nG4 ${word}`)).toEqual([['dwell', seconds]]);
  });

  it.each([
    ['P2', 2],
    ['P500', 500],
    ['P.25', 0.25],
  ])('rs274ngc: G4 %s waits %d s', (word, seconds) => {
    expect(path(`G4 ${word}`, 'rs274ngc')).toEqual([['dwell', seconds]]);
  });

  it.each([
    ['P2', 0.002],
    ['P500', 0.5],
    ['P1500.', 1.5],
    ['X1.5', 1.5],
    ['X1500', 1.5],
  ])('iso-macro: G4 %s waits %d s', (word, seconds) => {
    expect(path(`G4 ${word}`, 'iso-macro')).toEqual([['dwell', seconds]]);
  });

  it('P of a cycle counts as P of G4', () => {
    const wait = (profile: string) =>
      path('G21 G90 G0 X0. Y0. Z5.\nF100.\nG82 X1. Z-1. R1. P500', profile).find(([kind]) => kind === 'dwell');
    expect(wait('iso')).toEqual(['dwell', 0.5]);
    expect(wait('rs274ngc')).toEqual(['dwell', 500]);
    expect(wait('iso-macro')).toEqual(['dwell', 0.5]);
  });

  it('a wait does not move and leaves the mode', () => {
    expect(endMode('G1 X1 F10\nG4 P1', Mode.motion)).toBe(10);
    expect(path('G0 X1\nG4 P1\nX2').map(([kind]) => kind)).toEqual(['rapid', 'dwell', 'rapid']);
  });
});

describe('G33', () => {
  it('the lead is F or K by profile, and stays', () => {
    const byFeed = 'G0 X0 Y0 Z0\nS500 M3\nG33 Z-10 F1.5\nZ-20';
    expect(last(byFeed)).toMatchObject({ kind: 'line', feed: 750 });
    const byK = { base: 'iso', leadWord: 'K' as const };
    expect(last('G0 X0 Y0 Z0\nS500 M3\nG33 Z-10 K1.5\nZ-20', byK)).toMatchObject({ kind: 'line', feed: 750 });
    expect(last('G0 X0 Y0 Z0\nG20 S500 M3\nG33 Z-1 F.05')?.feed).toBeCloseTo(635, 9);
  });

  it('a lead is no feed', () => {
    expect(endMode('F100\nG33 Z-10 F1.5\nZ-20 F2', Mode.feed)).toBe(100);
    expect(endMode('F100\nG33 Z-10 F1.5\nG1 Z-20 F80', Mode.feed)).toBe(80);
    expect(last('G0 X0 Y0 Z0\nS500 M3\nG33 Z-10 F1.5\nZ-20 F2')?.feed).toBe(1000);
    expect(findingCodes('G0 X0 Y0 Z0\nS500 M3\nG33 Z-10 F1.5', 'iso', 'feed')).toEqual([]);
  });
});

describe('missing modes', () => {
  it('a cut without feed and a move without a motion code are told once', () => {
    expect(findingCodes('G0 X0 Y0 Z0\nG1 X1\nX2\nX3', 'iso', 'feed')).toEqual(['feed-missing']);
    const again = 'G0 X0 Y0 Z0\nG1 X1\nX2\nF100\nX3\nG95\nX4\nX5';
    expect(findingCodes(again, 'iso', 'feed')).toEqual(['feed-missing', 'feed-missing']);
    expect(findingCodes('X1\nX2\nX3', 'iso', 'motion')).toEqual(['motion-mode-missing']);
    expect(endPoint('X1\nX2 Y3')).toEqual([2, 3, null]);
  });

  it('G80 takes the motion mode away in the report', () => {
    expect(findingCodes('G0 X1 Y1 Z1\nG80\nX2', 'rs274ngc', 'motion')).toEqual(['motion-mode-missing']);
    expect(findingCodes('G0 X1 Y1 Z1\nG80\nX2', 'iso', 'motion')).toEqual([]);
  });
});

const endPoint = (program: string) => path(program).at(-1)?.slice(1);
