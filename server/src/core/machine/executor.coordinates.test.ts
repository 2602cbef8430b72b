/** From programmed numbers to work coordinates: distances, offsets, shifts, reference points, scaling, rotation, polar. */
import { describe, expect, it } from 'vitest';
import { endMode, endPoint, executed, findingCodes, path } from '../../../../tests/harness/path.ts';
import { Mode } from './modes.ts';

describe('positions', () => {
  it('an axis is unknown before its first word, incremental words leave it so', () => {
    expect(endPoint('G90 G0 X1')).toEqual([1, null, null]);
    expect(endPoint('G91 G0 X1')).toEqual([null, null, null]);
    expect(endPoint('G0 X1 Y2\nG91 X1 Y-1 Z3')).toEqual([2, 1, null]);
  });

  it('inch and millimetre convert at the word', () => {
    expect(endPoint('G20 G0 X1 Y-.5\nG21 Z10')).toEqual([25.4, -12.7, 10]);
    expect(endPoint('G70 G0 X1\nG71 Y1')).toEqual([25.4, 1, null]);
  });

  it('G20 governs its whole block, F before it in the report', () => {
    expect(endMode('G1 X1 F10 G20', Mode.feed)).toBe(254);
    expect(endPoint('G1 X1 F10 G20')).toEqual([25.4, null, null]);
    expect(endMode('G21 G1 X1 F10 G20', Mode.feed, 'rs274ngc')).toBe(10);
    expect(endPoint('G1 X1 F10 G20', 'rs274ngc')).toEqual([25.4, null, null]);
  });

  it('rotary axes are degrees in both units', () => {
    const analysis = executed('G20 G0 X0 A90\nG91 A10');
    expect(analysis.stateAfter(1).position[3]).toBe(100);
  });
});

describe('decimal point', () => {
  it('whole units, or increments without a point', () => {
    expect(endPoint('G0 X10 Y10. Z0')).toEqual([10, 10, 0]);
    expect(endPoint('G0 X10 Y10. Z0', 'iso-macro')).toEqual([0.01, 10, 0]);
    expect(endPoint('G20 G0 X10000 Y1.', 'iso-macro')).toEqual([25.4, 25.4, null]);
    expect(endPoint('#1=10\nG0 X#1 Y[5+5]', 'iso-macro')).toEqual([10, 10, null]);
  });

  it('never for F, S, T, H, D, N and repeats', () => {
    const program = 'N10 T3 M6\nS500 M3 F100\nG43 H3\nG41 D7';
    for (const [mode, value] of [
      [Mode.feed, 100],
      [Mode.speed, 500],
      [Mode.tool, 3],
      [Mode.lengthRegister, 3],
      [Mode.radiusRegister, 7],
    ] as const) {
      expect(endMode(program, mode, 'iso-macro')).toBe(value);
    }
    expect(path('G0 X0. Y0. Z5.\nF100\nG91 G99 G81 X1. R-4. Z-2. L3', 'iso-macro').at(-1)).toEqual(['rapid', 3, 0, 1]);
  });

  it('angles of axes, G68 and G16 count increments too', () => {
    expect(executed('G0 A90', 'iso-macro').stateAfter(0).position[3]).toBe(0.09);
    expect(endPoint('G0 X0. Y0.\nG68 X0. Y0. R90000\nG0 X10. Y0.', 'iso-macro')).toEqual([0, 10, null]);
    expect(endPoint('G0 X0. Y0.\nG16 X10. Y90000', 'iso-macro')).toEqual([0, 10, null]);
  });
});

describe('work offsets', () => {
  it('without their values every axis is unknown until its next word', () => {
    expect(endPoint('G54 G0 X1 Y2 Z3\nG55 X5')).toEqual([5, null, null]);
    expect(path('G54 G0 X1 Y2 Z3\nG55\nG0 X5').at(-1)).toEqual(['rapid', 5, null, null]);
  });

  it('with values by G10 L2 the position is known across', () => {
    const tables = 'G10 L2 P1 X100 Y50 Z10\nG10 L2 P2 X130 Y50 Z-5\n';
    expect(endPoint(`${tables}G54 G0 X1 Y2 Z3\nG55`)).toEqual([-29, 2, 18]);
    expect(endPoint(`${tables}G54 G0 X1 Y2 Z3\nG55\nG91 X1\nG90 G54`)).toEqual([2, 2, 3]);
  });

  it.each([
    ['P7', 'G59.1'],
    ['P9', 'G59.3'],
    ['P6', 'G59'],
  ])('G10 L2 %s is %s', (word, code) => {
    expect(endPoint(`G10 L2 P1 X0 Y0 Z0\nG10 L2 ${word} X10 Y20 Z30\nG54 G0 X1 Y1 Z1\n${code}`)).toEqual([
      -9, -19, -29,
    ]);
  });

  it('G10 L2 of the offset in force calls the position by other numbers', () => {
    expect(endPoint('G10 L2 P1 X0 Y0 Z0\nG54 G0 X10 Y10 Z10\nG10 L2 P1 X4')).toEqual([6, 10, 10]);
    expect(endPoint('G10 L2 P1 X0 Y0 Z0\nG54 G0 X10 Y10 Z10\nG91 G10 L2 P1 X4\nG10 L2 P1 X1')).toEqual([5, 10, 10]);
    expect(endPoint('G54 G0 X10 Y10 Z10\nG10 L2 P1 X4')).toEqual([null, 10, 10]);
  });

  it('an incremental G10 on an offset that is not known stays unknown', () => {
    expect(endPoint('G10 L2 P2 X0\nG91 G10 L2 P1 X4\nG90 G54 G0 X1\nG55')).toEqual([null, null, null]);
  });

  it('G10 L20 gives the present position its number', () => {
    expect(endPoint('G54 G0 X10 Y10 Z10\nG10 L20 P1 X0 Z5')).toEqual([0, 10, 5]);
    const both = 'G10 L2 P1 X100 Y100 Z0\nG10 L2 P2 X0 Y0 Z0\nG54 G0 X10 Y10 Z10\nG10 L20 P2 X1 Y2\n';
    expect(endPoint(both)).toEqual([10, 10, 10]);
    expect(endPoint(`${both}G55`)).toEqual([1, 2, 10]);
  });

  it('G54.1 P is an offset by number', () => {
    expect(endMode('G54.1 P3', Mode.offset)).toBe(10_003);
    expect(endPoint('G54.1 P3 G0 X1 Y1\nG54.1 P4 X2')).toEqual([2, null, null]);
    expect(endPoint('G54.1 P3 G0 X1 Y1\nG54.1 P3 X2')).toEqual([2, 1, null]);
  });

  it('each move knows its offset', () => {
    const analysis = executed('G54 G0 X1\nG59.2 X2');
    const names = analysis.chunks[0].segments[0].moves;
    const at = (move: number) => analysis.modePool.at(names.modes[move], Mode.offset);
    expect([at(0), at(names.count - 1)]).toEqual([540, 592]);
  });
});

describe('G52 and G92', () => {
  it('G52 shifts what follows, seen in work coordinates', () => {
    expect(endPoint('G0 X1 Y1\nG52 X10 Y5\nG0 X1 Y1')).toEqual([11, 6, null]);
    expect(endPoint('G0 X1 Y1\nG52 X10 Y5\nG91 G0 X1')).toEqual([2, 1, null]);
    expect(endPoint('G0 X1\nG52 X10\nG52 X0\nG0 X1')).toEqual([1, null, null]);
  });

  it('G92 calls the present position by the given numbers', () => {
    expect(endPoint('G0 X10 Y10\nG92 X0\nG0 X5 Y5')).toEqual([15, 5, null]);
    expect(endPoint('G0 X10\nG92 X0\nG92.1\nG0 X5')).toEqual([5, null, null]);
    expect(endPoint('G0 X10\nG92 X0\nG92 X3\nG0 X0')).toEqual([7, null, null]);
  });

  it('both together, and across an offset change', () => {
    expect(endPoint('G0 X10\nG52 X2\nG92 X0\nG0 X1')).toEqual([11, null, null]);
    const tables = 'G10 L2 P1 X0 Y0 Z0\nG10 L2 P2 X100 Y0 Z0\n';
    expect(endPoint(`${tables}G54 G0 X10\nG92 X0\nG55\nG0 X0`)).toEqual([10, null, null]);
    expect(endPoint(`${tables}G54 G0 X10\nG52 X3\nG55\nG0 X0`)).toEqual([3, null, null]);
  });

  it('G92 under rotation still leaves the tool where it is', () => {
    const program = 'G0 X10 Y0\nG68 X0 Y0 R90\nG92 X1 Y2\nG0 X1 Y2';
    expect(endPoint(program)).toEqual([10, 0, null]);
  });

  it('G92.3 is said to be not executed, not passed over', () => {
    expect(findingCodes('G0 X1\nG92.3', 'rs274ngc', 'not-executed')).toEqual(['not-executed']);
  });

  it('two codes that want the axis words are told, and the first holds', () => {
    expect(findingCodes('G0 X1\nG52 G92 X5', 'iso', 'axis-words')).toEqual(['axis-words-claimed-twice']);
    expect(endPoint('G0 X1\nG52 G92 X5\nG0 X1')).toEqual([6, null, null]);
    expect(findingCodes('G0 X1 Y1\nG51 G68 X0 Y0 P2 R90', 'iso', 'axis-words')).toEqual(['axis-words-claimed-twice']);
    expect(findingCodes('G0 G91 G28 Z0', 'iso', 'axis-words')).toEqual([]);
  });
});

describe('reference points and machine coordinates', () => {
  it.each(['28', '30'])('G%s goes through the intermediate point, then to a place not known', (code) => {
    expect(path(`G90 G0 X5 Y5 Z5\nG${code} Z20`).slice(1)).toEqual([
      ['rapid', 5, 5, 20],
      ['rapid', 5, 5, null],
    ]);
    expect(path(`G0 X5 Y5 Z5\nG91 G${code} X1 Z20`).slice(1)).toEqual([
      ['rapid', 6, 5, 25],
      ['rapid', null, 5, null],
    ]);
    expect(path(`G0 X5 Y5 Z5\nG91 G${code} Z0`).slice(1)).toEqual([['rapid', 5, 5, null]]);
  });

  it('G28 alone takes X Y Z home', () => {
    expect(endPoint('G0 X5 Y5 Z5\nG28')).toEqual([null, null, null]);
  });

  it('G28 is a rapid and leaves the motion mode', () => {
    expect(endMode('G1 X5 F100\nG28 X6', Mode.motion)).toBe(10);
  });

  it('G53 makes its axes unknown, for its block alone', () => {
    expect(endPoint('G0 X5 Y5 Z5\nG53 Z0')).toEqual([5, 5, null]);
    expect(endPoint('G0 X5 Y5 Z5\nG53 Z0\nZ7')).toEqual([5, 5, 7]);
    expect(endPoint('G0 X5 Y5 Z5\nG9 G53 X0')).toEqual([null, 5, 5]);
  });

  it('G53 is known where G10 gave the offset', () => {
    expect(endPoint('G10 L2 P1 X100 Y50 Z10\nG54 G0 X5 Y5 Z5\nG53 X0 Y60')).toEqual([-100, 10, 5]);
  });

  it('G53 of a Z that carries a tool length stays unknown', () => {
    expect(endPoint('G10 L2 P1 X0 Y0 Z10\nG54 G0 X5 Y5 Z5\nG43 H1\nG53 Z0')).toEqual([5, 5, null]);
    expect(endPoint('G10 L2 P1 X0 Y0 Z10\nG54 G0 X5 Y5 Z5\nG43 H1\nG49\nG53 Z0')).toEqual([5, 5, -10]);
  });

  it('G29 ends at its point', () => {
    expect(endPoint('G0 X5 Y5 Z5\nG28 Z20\nG29 X1 Y2 Z3')).toEqual([1, 2, 3]);
    expect(findingCodes('G0 X5 Y5 Z5\nG28 Z20\nG29 X1 Y2 Z3\nM30', 'iso')).toEqual(['not-executed']);
  });

  it('G49 and G43 do not move by themselves', () => {
    expect(path('G0 X5 Y5 Z5\nG43 H1\nG49').length).toBe(1);
  });
});

describe('scaling, mirror, rotation, polar', () => {
  it('G51 by P about its point, by I J K for each axis', () => {
    expect(endPoint('G0 X0 Y0 Z0\nG51 X10 Y0 Z0 P2\nG0 X15 Y5 Z1')).toEqual([20, 10, 2]);
    expect(endPoint('G0 X0 Y0 Z0\nG51 X0 Y0 Z0 I2 J-1 K1\nG0 X5 Y5 Z1')).toEqual([10, -5, 1]);
    expect(endPoint('G0 X0 Y0 Z0\nG51 X0 Y0 Z0 P2\nG50\nG0 X5')).toEqual([5, 0, 0]);
  });

  it('G51 about the present point where none is written', () => {
    expect(endPoint('G0 X10 Y10 Z0\nG51 P2\nG0 X15 Y10')).toEqual([20, 10, 0]);
  });

  it('G51 of an incremental move stretches the way', () => {
    expect(endPoint('G0 X10 Y10 Z0\nG51 X0 Y0 Z0 P2\nG91 G0 X1')).toEqual([12, 10, 0]);
  });

  it('mirror turns arcs round', () => {
    expect(path('G0 X0 Y0 Z0\nG51.1 X0\nF100\nG1 X10\nG2 X20 I5').slice(-1)).toEqual([
      ['arc', -20, 0, 0, -15, 0, 0, 180],
    ]);
    expect(endPoint('G0 X1 Y1 Z0\nG51.1 X0 Y0\nG50.1 X0\nG0 X5 Y5')).toEqual([5, -5, 0]);
    expect(endPoint('G0 X1 Y1 Z0\nG51.1 X0 Y0\nG50.1\nG0 X5 Y5')).toEqual([5, 5, 0]);
  });

  it('G68 about its point, in each plane, absolute and incremental', () => {
    expect(endPoint('G0 X0 Y0 Z0\nG68 X10 Y0 R90\nG0 X20 Y0')).toEqual([10, 10, 0]);
    expect(endPoint('G18 G0 X0 Y0 Z0\nG68 X0 Z0 R90\nG0 Z10 X0')).toEqual([10, 0, 0]);
    expect(endPoint('G0 X5 Y5 Z0\nG68 X0 Y0 R90\nG91 G0 X10')).toEqual([5, 15, 0]);
    expect(endPoint('G0 X5 Y5 Z0\nG68 X0 Y0 R90\nG69\nG0 X1 Y2')).toEqual([1, 2, 0]);
  });

  it('G68 about the present point where none is written, scaled or not', () => {
    expect(endPoint('G0 X10 Y10 Z0\nG68 R90\nG0 X20 Y10')).toEqual([10, 20, 0]);
    expect(endPoint('G0 X10 Y10 Z0\nG51 X0 Y0 Z0 P2\nG68 R90\nG0 X10 Y5')).toEqual([10, 20, 0]);
    expect(endPoint('G0 X10 Y10 Z0\nG52 X100 Y0\nG0 X10 Y10\nG68 R90\nG0 X20 Y10')).toEqual([110, 20, 0]);
  });

  it('R stretches by the factor of its own plane', () => {
    const turn = 'G18 G0 X0 Y0 Z0\nF100\nG51 X0 Y0 Z0 I2 J1 K2\nG1 Z10\nG3 Z0 X10 R10';
    expect(path(turn).at(-1)).toEqual(['arc', 20, 0, 0, 0, 0, 0, 90]);
  });

  it('rotation acts before G52', () => {
    expect(endPoint('G0 X0 Y0 Z0\nG52 X100\nG68 X0 Y0 R90\nG0 X10 Y0')).toEqual([100, 10, 0]);
  });

  it('arcs turn and stretch with what surrounds them', () => {
    expect(path('G0 X0 Y0 Z0\nF100\nG68 X0 Y0 R90\nG1 X10 Y0\nG3 X20 Y0 I5 J0').at(-1)).toEqual([
      'arc',
      0,
      20,
      0,
      0,
      15,
      0,
      180,
    ]);
    expect(path('G0 X0 Y0 Z0\nF100\nG51 X0 Y0 Z0 P2\nG1 X10 Y0\nG3 X20 Y0 R5').at(-1)).toEqual([
      'arc',
      40,
      0,
      0,
      30,
      0,
      0,
      180,
    ]);
    expect(path('G18 G0 X0 Y0 Z0\nF100\nG51 X0 Y0 Z0 I2 J1 K2\nG1 X10\nG3 X20 R5').at(-1)).toEqual([
      'arc',
      40,
      0,
      0,
      30,
      0,
      0,
      180,
    ]);
  });

  it('G16: radius and angle from the work zero, incremental from the present point', () => {
    expect(endPoint('G0 X0 Y0 Z0\nG16\nG0 X10 Y90')).toEqual([0, 10, 0]);
    expect(endPoint('G0 X0 Y0 Z0\nG16\nG0 X10 Y90\nY180')).toEqual([-10, 0, 0]);
    expect(endPoint('G0 X0 Y0 Z0\nG16\nG0 X10 Y90\nX5')).toEqual([0, 5, 0]);
    expect(endPoint('G0 X3 Y4 Z0\nG16 G91 X10 Y90')).toEqual([3, 14, 0]);
    expect(endPoint('G0 X3 Y4 Z0\nG16 G91 Y90')).toEqual([3, 4, 0]);
    expect(endPoint('G0 X3 Y4 Z0\nG16 G91 X5')).toEqual([8, 4, 0]);
    expect(endPoint('G0 X3 Y4 Z0\nG16 X10 Y90\nG15\nX5 Y90')).toEqual([5, 90, 0]);
    expect(endPoint('G20 G0 X0 Y0 Z0\nG16 X1 Y90')).toEqual([0, 25.4, 0]);
    expect(endPoint('G18 G0 X0 Y0 Z0\nG16 Z10 X90')).toEqual([10, 0, 0]);
  });
});
