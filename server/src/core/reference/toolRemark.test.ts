import { describe, expect, test } from 'vitest';
import { readToolRemark } from './toolRemark.ts';

describe('kind and diameter in a millimetre program', () => {
  test.each([
    ['4MM END MILL', 'end-mill', 4],
    ['DRILL D5', 'drill', 5],
    ['5.0 DRILL', 'drill', 5],
    ['SPIRALBOHRER 8,5', 'drill', 8.5],
    ['DRILL 8.5 DEEP 20', 'drill', 8.5],
    ['DRILL 4 HOLES', 'drill', undefined],
    ['#7 DRILL', 'drill', 5.1054],
    ['LETTER F DRILL', 'drill', 6.5278],
    ['TAP DRILL 5.0', 'drill', 5],
    ['M6 TAP DRILL 5.0', 'drill', 5],
    ['DRILL FOR M6 TAP', 'drill', undefined],
    ['M6 CLEARANCE DRILL 6.6', 'drill', 6.6],
    ['DIA 10 EM', 'end-mill', 10],
    ['1/2 EM', 'end-mill', 12.7],
    ['10 4FL END MILL', 'end-mill', 10],
    ['10 CARBIDE END MILL', 'end-mill', 10],
    ['OP 1/2 END MILL 10', 'end-mill', 10],
    ['TAPER MILL', 'end-mill', undefined],
    ['TAPERED END MILL', 'end-mill', undefined],
    ['SLOT DRILL 12', 'end-mill', 12],
    ['Ø6 SCHAFTFRÄSER', 'end-mill', 6],
    ['Ø6', 'other', 6],
    ['BALL 6', 'ball-mill', 6],
    ['1/4" BALL END MILL', 'ball-mill', 6.35],
    ['FACE MILL D50', 'face-mill', 50],
    ['CENTRE DRILL 3.15', 'centre-drill', 3.15],
    ['REAMER 8H7', 'reamer', 8],
    ['8 H7 REIBAHLE', 'reamer', 8],
    ['COUNTERSINK 90 DEG D12', 'countersink', 12],
    ['CHAMFER MILL D8', 'chamfer-mill', 8],
    ['BORING BAR', 'boring-bar', undefined],
    ['SINGLE POINT THREAD M20X1.5', 'boring-bar', undefined],
    ['THREADING TOOL M30X2', 'boring-bar', undefined],
    ['ENGRAVING TOOL', 'engraver', undefined],
    ['PROBE', 'probe', undefined],
    ['DOVETAIL D20', 'other', 20],
    ['BORE 30 DIAMETER, 12 DEEP, BY A 16 END MILL', 'end-mill', 16],
  ])('%s is %s %s', (remark, kind, diameter) => {
    const tool = readToolRemark(remark, false);
    expect(tool?.kind).toBe(kind);
    expect(tool?.diameter).toBe(diameter);
    expect(tool?.thread).toBeUndefined();
  });
});

describe('taps', () => {
  test.each([
    ['TAP M6X1', 'M6X1'],
    ['M6 TAP', 'M6X1'],
    ['6X1.0 TAP', 'M6X1'],
    ['M10X1.25', 'M10X1.25'],
    ['1/4-20 UNC TAP', '1/4-20 UNC'],
    ['10-32 TAP', '#10-32 UNF'],
    ['GEWINDEBOHRER M8', 'M8X1.25'],
    ['TARAUD M5', 'M5X0.8'],
    ['MACHO M12X1.75', 'M12X1.75'],
    ['MASCHIO M4', 'M4X0.7'],
    ['G1/4 TAP', 'G1/4'],
    ['G1/4', 'G1/4'],
    ['T7 1/8 NPT', '1/8 NPT'],
    ['TAP 1/8-27 NPT', '1/8 NPT'],
    ['1/4"-20 UNC', '1/4-20 UNC'],
    ['#10-32', '#10-32 UNF'],
    ['M6 X 1.0', 'M6X1'],
    ['M10X1.25 FINE', 'M10X1.25'],
    ['TAP M10 P1.25', 'M10X1.25'],
    ['TAP-M6', 'M6X1'],
    ['3/8 NC TAP', '3/8-16 UNC'],
  ])('%s is a tap %s', (remark, name) => {
    for (const inch of [false, true]) {
      const tool = readToolRemark(remark, inch);
      expect(tool?.kind).toBe('tap');
      expect(tool?.thread?.name).toBe(name);
      expect(tool?.diameter).toBe(tool?.thread?.diameter);
    }
  });

  test.each([
    'M6',
    'M8',
    'T3 M6',
    'M6 TOOL CHANGE',
    'M8X20 SCREWS',
    'M8X1 SCREW HOLES',
    'G0 M8 X1.0 Y2',
    'TIGHTEN M6 SCREWS',
    'PORT G1/4',
    '1/4 NPT FITTING',
  ])('%s is no tool at all', (remark) => {
    expect(readToolRemark(remark, false)).toBeUndefined();
  });

  test('left hand', () => {
    expect(readToolRemark('M10 LH TAP', false)).toMatchObject({ kind: 'tap', hand: 'left', thread: { hand: 'left' } });
  });

  test.each(['M6 FORM TAP', 'ROLL TAP M6', 'FLUTELESS TAP M6X1', 'GEWINDEFORMER M6', 'M6 THREAD FORMING TAP'])(
    '%s forms the thread',
    (remark) => {
      expect(readToolRemark(remark, false)).toMatchObject({ kind: 'tap', forming: true, thread: { name: 'M6X1' } });
    },
  );

  test.each(['TAP M6 6H', 'PLATFORM TAP M6', 'SPIRAL FLUTED TAP M6'])('%s cuts it', (remark) => {
    expect(readToolRemark(remark, false)?.forming).toBeUndefined();
  });

  test('a tap for a wire insert says so', () => {
    expect(readToolRemark('M8 STI TAP', false)).toMatchObject({ kind: 'tap', forInsert: true });
    expect(readToolRemark('TAP M8', false)?.forInsert).toBeUndefined();
  });

  test('TAP M8 LH is left hand, and fine without its pitch is no thread', () => {
    expect(readToolRemark('TAP M8 LH', false)).toMatchObject({
      hand: 'left',
      thread: { name: 'M8X1.25', hand: 'left' },
    });
    expect(readToolRemark('TAP M10 FINE', false)).toEqual({ kind: 'tap', hand: 'right' });
  });

  test('a spot for a thread is a spot drill, a thread mill keeps its thread', () => {
    expect(readToolRemark('SPOT FOR M6X1', false)?.kind).toBe('spot-drill');
    expect(readToolRemark('THREAD MILL M10', false)).toMatchObject({
      kind: 'thread-mill',
      thread: { name: 'M10X1.5' },
    });
  });
});

test('a remark of a megabyte is passed over at once', () => {
  const started = performance.now();
  expect(readToolRemark(`TAP M6X1 ${'1'.repeat(1_000_000)}`, false)).toBeUndefined();
  expect(performance.now() - started).toBeLessThan(200);
});

describe('units, angle and teeth', () => {
  test.each([
    ['.25 DRILL', 6.35],
    ['DRILL D.201', 5.1054],
    ['0.5 END MILL', 12.7],
    ['6MM DRILL', 6],
  ])('%s in an inch program', (remark, diameter) => {
    expect(readToolRemark(remark, true)?.diameter).toBe(diameter);
  });

  test('angle and teeth', () => {
    expect(readToolRemark('SPOT DRILL 90DEG', false)).toEqual({ kind: 'spot-drill', pointAngle: 90, hand: 'right' });
    expect(readToolRemark('FACE MILL D50 Z5', false)?.teeth).toBe(5);
    expect(readToolRemark('END MILL D10 4FL', false)?.teeth).toBe(4);
  });

  test.each([
    'THIS PART FITS',
    'PROGRAM BRACKET REV 3',
    'MILL ALUMINIUM BLOCK',
    'CHAMFER EDGES',
    'CHAMFER 0.3 WIDE ROUND EACH HOLE',
    '',
  ])('%s says nothing', (remark) => {
    expect(readToolRemark(remark, false)).toBeUndefined();
  });
});
