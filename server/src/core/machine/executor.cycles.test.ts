/** Canned cycles move by move. What each must do is the table of the design's language page. */
import { describe, expect, it } from 'vitest';
import { endMode, executed, findingCodes, path } from '../../../../tests/harness/path.ts';
import { Mode } from './modes.ts';
import { MoveFlag, MoveKind } from './moves.ts';

const START = 'G90 G0 X0 Y0 Z20\nF100 S500 M3\n';
/** Moves behind the first positioning. */
const moves = (program: string, profile?: Parameters<typeof path>[1]) => path(START + program, profile).slice(1);

describe('the table of cycles', () => {
  it('81: feed in, rapid out', () => {
    expect(moves('G81 X10 Y5 Z-4 R2')).toEqual([
      ['rapid', 10, 5, 20],
      ['rapid', 10, 5, 2],
      ['line', 10, 5, -4],
      ['rapid', 10, 5, 2],
      ['rapid', 10, 5, 20],
    ]);
  });

  it.each(['82', '88', '86'])('%s: feed in, dwell, rapid out', (code) => {
    expect(moves(`G99 G${code} X10 Z-4 R2 P1.5`).slice(2)).toEqual([
      ['line', 10, 0, -4],
      ['dwell', 1.5],
      ['rapid', 10, 0, 2],
    ]);
  });

  it('83: pecks with full retract, back to d above the last depth', () => {
    expect(moves('G99 G83 X10 Z-5 R2 Q3').slice(2)).toEqual([
      ['line', 10, 0, -1],
      ['rapid', 10, 0, 2],
      ['rapid', 10, 0, -0.5],
      ['line', 10, 0, -4],
      ['rapid', 10, 0, 2],
      ['rapid', 10, 0, -3.5],
      ['line', 10, 0, -5],
      ['rapid', 10, 0, 2],
    ]);
  });

  it.each(['83', '73'])('%s ends at the programmed depth, to the last bit, in inches too', (code) => {
    const [{ segment }] = executed(`G20\n${START}G99 G${code} X1.5 Z-.54 R.1 Q.15\n`).passages();
    const { ends, kinds, count } = segment.moves;
    const cuts = [...kinds.subarray(0, count).keys()].filter(
      (move) => (kinds[move] & MoveFlag.kindMask) === MoveKind.line,
    );
    expect(cuts).toHaveLength(5);
    expect(ends[cuts[4] * 3 + 2]).toBe(-0.54 * 25.4);
  });

  it('83 with d of the profile: 0.254 mm in the report', () => {
    expect(moves('G21 G99 G83 X10 Z-4 R2 Q3', 'rs274ngc').slice(3, 5)).toEqual([
      ['rapid', 10, 0, 2],
      ['rapid', 10, 0, -0.746],
    ]);
  });

  it('83 goes back no higher than R', () => {
    expect(moves('G99 G83 X10 Z-0.5 R0 Q0.3').slice(2, 6)).toEqual([
      ['line', 10, 0, -0.3],
      ['rapid', 10, 0, 0],
      ['line', 10, 0, -0.5],
      ['rapid', 10, 0, 0],
    ]);
  });

  it('73: pecks with short retract', () => {
    expect(moves('G99 G73 X10 Z-5 R2 Q3').slice(2)).toEqual([
      ['line', 10, 0, -1],
      ['rapid', 10, 0, -0.5],
      ['line', 10, 0, -4],
      ['rapid', 10, 0, -3.5],
      ['line', 10, 0, -5],
      ['rapid', 10, 0, 2],
    ]);
  });

  it('73 lifts no higher than R', () => {
    expect(moves('G99 G73 X10 Z-0.5 R0 Q0.3').slice(2, 4)).toEqual([
      ['line', 10, 0, -0.3],
      ['rapid', 10, 0, 0],
    ]);
  });

  it.each(['83', '73'])('%s without Q goes down in one', (code) => {
    expect(moves(`G99 G${code} X10 Z-5 R2`).slice(2)).toEqual([
      ['line', 10, 0, -5],
      ['rapid', 10, 0, 2],
    ]);
  });

  it.each(['84', '74', '85'])('%s: feed in, feed out to R, then rapid to the initial level', (code) => {
    expect(moves(`G98 G${code} X10 Z-4 R2`).slice(2)).toEqual([
      ['line', 10, 0, -4],
      ['line', 10, 0, 2],
      ['rapid', 10, 0, 20],
    ]);
  });

  it.each(['84', '74', '89'])('%s with P waits at the bottom', (code) => {
    expect(moves(`G99 G${code} X10 Z-4 R2 P2.`).slice(2)).toEqual([
      ['line', 10, 0, -4],
      ['dwell', 2],
      ['line', 10, 0, 2],
    ]);
  });

  it.each(['81', '83', '73', '85'])('%s does not wait, even after a P', (code) => {
    expect(moves(`G99 G${code} X10 Z-4 R2 Q9 P2.`).map(([kind]) => kind)).not.toContain('dwell');
  });

  it('76: shifted off the wall by Q before it comes out', () => {
    expect(moves('G99 G76 X10 Z-4 R2 Q0.2').slice(2)).toEqual([
      ['line', 10, 0, -4],
      ['rapid', 10.2, 0, -4],
      ['rapid', 10.2, 0, 2],
      ['rapid', 10, 0, 2],
    ]);
  });

  it('76: shifted by I J', () => {
    expect(moves('G99 G76 X10 Z-4 R2 I0.1 J-0.2').slice(3, 5)).toEqual([
      ['rapid', 10.1, -0.2, -4],
      ['rapid', 10.1, -0.2, 2],
    ]);
  });

  it('76 in G18: the shift is by the words of that plane', () => {
    const moves = path('G18 G0 X0 Y9 Z0\nG99 G76 X10 Z5 Y-4 R2 I0.1\n', { base: 'iso', repeats: 'L' });
    expect(moves.slice(4, 6)).toEqual([
      ['rapid', 10.1, -4, 5],
      ['rapid', 10.1, 2, 5],
    ]);
  });

  it('87 of iso: in at feed, out by hand', () => {
    expect(moves('G99 G87 X10 Z-4 R2').slice(2)).toEqual([
      ['line', 10, 0, -4],
      ['rapid', 10, 0, 2],
    ]);
  });

  it('87 of the report: aside, down, back, up at feed to K, down, aside, out', () => {
    expect(moves('G98 G87 X10 Z-30 R2 I-3 K-25', 'rs274ngc').slice(1)).toEqual([
      ['rapid', 10, 0, 2],
      ['rapid', 7, 0, 2],
      ['rapid', 7, 0, -30],
      ['rapid', 10, 0, -30],
      ['line', 10, 0, -25],
      ['line', 10, 0, -30],
      ['rapid', 7, 0, -30],
      ['rapid', 7, 0, 20],
      ['rapid', 10, 0, 20],
    ]);
    expect(moves('G91 G99 G87 X10 Z-32 R-18 I-3 K5', 'rs274ngc').filter(([kind]) => kind === 'line')).toEqual([
      ['line', 10, 0, -25],
      ['line', 10, 0, -30],
    ]);
  });
});

describe('where a hole is begun and left', () => {
  it('below R the axis goes up to R first, then over', () => {
    expect(path('G90 G0 X0 Y0 Z-3\nF100\nG98 G81 X10 Z-5 R2').slice(1)).toEqual([
      ['rapid', 0, 0, 2],
      ['rapid', 10, 0, 2],
      ['line', 10, 0, -5],
      ['rapid', 10, 0, 2],
    ]);
  });

  it('G98 keeps the level before the first of several cycles', () => {
    expect(moves('G98 G81 X1 Z-1 R2\nG99 X2\nG98 G82 X3 R1\n').at(-1)).toEqual(['rapid', 3, 0, 20]);
  });

  it('G80 forgets the level and the words', () => {
    expect(moves('G98 G81 X1 Z-1 R2\nG80\nG0 Z50\nG98 G81 X2 Z-1 R2').at(-1)).toEqual(['rapid', 2, 0, 50]);
    expect(endMode(`${START}G83 X1 Z-1 R2 Q1\nG80`, Mode.cycleRetract)).toBeNaN();
  });

  it('a motion code ends the cycle too', () => {
    expect(moves('G99 G81 X1 Z-1 R2\nG0 X5 Z9').at(-1)).toEqual(['rapid', 5, 0, 9]);
    expect(endMode(`${START}G81 X1 Z-1 R2\nG1 X5`, Mode.cycle)).toBe(0);
  });

  it('G80 with axis words moves by the last G0 or G1', () => {
    expect(moves('G99 G81 X1 Z-1 R2\nG80 X5').at(-1)).toEqual(['rapid', 5, 0, 2]);
    expect(moves('G1 X3\nG99 G81 X1 Z-1 R2\nG80 X5').at(-1)).toEqual(['line', 5, 0, 2]);
    expect(moves('G1 X3\nG2 X5 I1\nG99 G81 X1 Z-1 R2\nG80 X5').at(-1)).toEqual(['line', 5, 0, 2]);
    expect(moves('G0 X3\nG2 X5 I1\nG3 X3 I-1\nG99 G81 X1 Z-1 R2\nG80 X5').at(-1)).toEqual(['rapid', 5, 0, 2]);
    expect(moves('G2 X5 I2.5\nG99 G81 X1 Z-1 R2\nG80 M5\nX0 I-.5').at(-1)?.[0]).toBe('arc');
  });

  it('a block without an axis word drills nothing', () => {
    expect(moves('G99 G81 X1 Z-1 R2\nF80\nR3\nM8').length).toBe(4);
  });

  it('works along Y in G18 and along X in G19', () => {
    expect(path('G18 G0 X0 Y20 Z0\nF100\nG98 G81 X10 Z5 Y-4 R2').slice(1)).toEqual([
      ['rapid', 10, 20, 5],
      ['rapid', 10, 2, 5],
      ['line', 10, -4, 5],
      ['rapid', 10, 2, 5],
      ['rapid', 10, 20, 5],
    ]);
    expect(path('G19 G0 X20 Y0 Z0\nF100\nG99 G85 Y10 Z5 X-4 R2').slice(1)).toEqual([
      ['rapid', 20, 10, 5],
      ['rapid', 2, 10, 5],
      ['line', -4, 10, 5],
      ['line', 2, 10, 5],
    ]);
  });
});

describe('words that stay', () => {
  it('R, depth, Q and P hold for the next holes', () => {
    const holes = moves('G99 G83 X1 Z-2 R1 Q2 P1.\nX2\n');
    expect(holes.slice(-5)).toEqual(
      [
        ['rapid', 2, 0, 1],
        ['line', 2, 0, -1],
        ['rapid', 2, 0, 1],
        ['rapid', 2, 0, -0.5],
        ['line', 2, 0, -2],
        ['rapid', 2, 0, 1],
      ].slice(-5),
    );
  });

  it.each([
    ['Q1', Mode.cyclePeck, 1],
    ['P2.', Mode.cycleDwell, 2],
    ['R5', Mode.cycleRetract, 5],
  ])('%s in a block of its own is taken', (word, mode, value) => {
    expect(endMode(`${START}G83 X1 Z-4 R2 Q2\n${word}`, mode)).toBe(value);
  });

  it('repeats hold for their own block alone', () => {
    expect(moves('G91 G99 G81 X5 Z-3 R-18 L2\nX5').filter(([kind]) => kind === 'line')).toEqual([
      ['line', 5, 0, -1],
      ['line', 10, 0, -1],
      ['line', 15, 0, -1],
    ]);
  });

  it('L0 and K0 store the words and move nothing', () => {
    expect(moves('G99 G81 X7 Z-3 R2 L0')).toEqual([]);
    expect(moves('G99 G81 X7 Z-3 R2 K0')).toEqual([]);
    expect(moves('G99 G81 X7 Z-3 R2 L0\nX8').slice(-2)).toEqual([
      ['line', 8, 0, -3],
      ['rapid', 8, 0, 2],
    ]);
  });

  it('L0 asks for no feed', () => {
    expect(findingCodes('G0 X0 Y0 Z9\nG81 X7 Z-3 R2 L0', 'iso', 'feed')).toEqual([]);
    expect(findingCodes('G0 X0 Y0 Z9\nG81 X7 Z-3 R2', 'iso', 'feed')).toEqual(['feed-missing']);
  });

  it('the repeat letter is the profile’s', () => {
    const drills = (profile: Parameters<typeof path>[1]) =>
      moves('G91 G99 G81 X5 Z-3 R-18 K2', profile).filter(([kind]) => kind === 'line').length;
    expect(drills({ base: 'iso', repeats: 'L' })).toBe(1);
    expect(drills({ base: 'iso', repeats: 'K' })).toBe(2);
  });
});

describe('G91', () => {
  it('R counts from where the axis stands, depth from R', () => {
    expect(moves('G91 G99 G81 X5 Y1 R-18 Z-6')).toEqual([
      ['rapid', 5, 1, 20],
      ['rapid', 5, 1, 2],
      ['line', 5, 1, -4],
      ['rapid', 5, 1, 2],
    ]);
  });

  it.each(['98', '99'])('nothing drifts over repeats and blocks under G%s', (level) => {
    const all = moves(`G91 G${level} G83 X5 R-18 Z-5 Q3 L4\nX5 Y1 L3\nY2`);
    const bottoms = all.filter(([kind, , , z]) => kind === 'line' && z === -3);
    expect(bottoms.map(([, x, y]) => [x, y])).toEqual([
      [5, 0],
      [10, 0],
      [15, 0],
      [20, 0],
      [25, 1],
      [30, 2],
      [35, 3],
      [35, 5],
    ]);
    expect(new Set(all.filter(([kind]) => kind === 'line').map(([, , , z]) => z))).toEqual(new Set([-1, -3]));
  });
});

describe('shifts and transformations', () => {
  it('R and depth are shifted with the zero', () => {
    expect(moves('G52 Z10\nG99 G81 X1 Z-1 R2').slice(1, 3)).toEqual([
      ['rapid', 1, 0, 12],
      ['line', 1, 0, 9],
    ]);
  });

  it('holes turn with G68 and scale with G51, along the normal axis too', () => {
    expect(moves('G68 X0 Y0 R90\nG99 G81 X5 Z-1 R2').slice(0, 1)).toEqual([['rapid', 0, 5, 20]]);
    expect(moves('G51 X0 Y0 Z0 P2\nG99 G81 X5 Z-1 R2').slice(0, 3)).toEqual([
      ['rapid', 10, 0, 20],
      ['rapid', 10, 0, 4],
      ['line', 10, 0, -2],
    ]);
  });

  it('inches', () => {
    expect(path('G20 G0 X0 Y0 Z1\nF4\nG99 G81 X1 Z-.5 R.1').slice(2)).toEqual([
      ['rapid', 25.4, 0, 2.54],
      ['line', 25.4, 0, -12.7],
      ['rapid', 25.4, 0, 2.54],
    ]);
  });
});

it('a small peck that would never end goes down in one', () => {
  expect(moves('G99 G83 X1 Z-5 R2 Q.00001').length).toBe(4);
});
