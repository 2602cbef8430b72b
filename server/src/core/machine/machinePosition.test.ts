/**
 * Machine positions and what follows from them. The sums (machine = work + zero + length) are those of NIST IR 6556, from
 * memory; the numbers are worked out by hand beside each case.
 */
import { describe, expect, test } from 'vitest';
import { executed } from '../../../../tests/harness/path.ts';
import { snapshotOf } from '../../../../tests/harness/snapshot.ts';
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration, Machine } from './configuration.ts';
import { machinePositionOf, offsetName, offsetNumber } from './machinePosition.ts';
import { MoveKind } from './moves.ts';

const machine: Machine = {
  axes: { X: { reference: 0 }, Y: { reference: 0 }, Z: { min: -400, max: 0, reference: 0 } },
  workOffsets: {
    G54: { X: -250, Y: -150, Z: -320 },
    G55: { X: -100, Y: -150, Z: -300 },
    'G54.1 P3': { X: -10, Y: -20, Z: -30 },
  },
};
const shop: Partial<Configuration> = {
  machine,
  tools: [
    { number: 1, kind: 'drill', length: 120 },
    { number: 2, kind: 'end-mill', length: 80, lengthOffset: 12 },
    { number: 3, kind: 'tap' },
  ],
};

const run = (program: string, configuration = shop): Analysis => executed(program, 'iso', configuration);

/** Work position at the program's end, null unknown. */
const work = (program: string, configuration = shop): (number | null)[] => {
  const analysis = run(program, configuration);
  return [...analysis.stateAfter(analysis.lineCount - 1).position.subarray(0, 3)].map(short);
};

/** Machine positions behind each move that moves. */
const machinePath = (program: string, configuration = shop): (number | null)[][] => {
  const analysis = run(program, configuration);
  const found: (number | null)[][] = [];
  for (const { moves } of analysis.chunks.flatMap((chunk) => chunk.segments)) {
    for (let i = 0; i < moves.count; i++) {
      const at = (field: number) => analysis.modePool.at(moves.modes[i], field);
      if ((moves.kinds[i] & 7) === MoveKind.renamed) continue;
      found.push(machinePositionOf(at, moves.ends.subarray(i * 3, i * 3 + 3)).map(short));
    }
  }
  return found;
};

const short = (value: number): number | null => (Number.isNaN(value) ? null : Math.round(value * 1e6) / 1e6 + 0);

test('a work offset’s name and number', () => {
  for (const name of ['G54', 'G59', 'G59.1', 'G59.3', 'G54.1 P3', 'G54.1 P48']) {
    expect(offsetName(offsetNumber(name))).toBe(name);
  }
  expect(offsetNumber('G54.1P7')).toBe(10_007);
  expect(['G53', 'G60', 'G59.4', 'X', '__proto__'].map(offsetNumber)).toEqual([-1, -1, -1, -1, -1]);
});

describe('work offsets of the shop’s file', () => {
  test('a change of the offset keeps where the tool stands', () => {
    // G55 lies 150 further in X and 20 higher in Z.
    expect(work('G54 G0 X1 Y2 Z3\nG55')).toEqual([-149, 2, -17]);
    expect(work('G54 G0 X1 Y2 Z3\nG54.1 P3')).toEqual([-239, -128, -287]);
    expect(work('G54 G0 X1 Y2 Z3\nG55\nG54')).toEqual([1, 2, 3]);
  });

  test('an offset that the file does not give stays unknown', () => {
    expect(work('G54 G0 X1 Y2 Z3\nG56')).toEqual([null, null, null]);
    expect(work('G54 G0 X1 Y2 Z3\nG55', {})).toEqual([null, null, null]);
  });

  test('G10 goes before the file, and keeps counting from it', () => {
    expect(work('G10 L2 P2 X-250 Y-150 Z-320\nG54 G0 X1 Y2 Z3\nG55')).toEqual([1, 2, 3]);
    expect(work('G91 G10 L2 P1 X10\nG90 G54 G0 X1 Y2 Z3\nG53 G0 X0')).toEqual([240, 2, 3]);
    expect(work('G54 G0 X0 Y0 Z0\nG10 L20 P1 X5 Y0 Z0\nG55')).toEqual([-150, 0, -20]);
  });
});

describe('reference points and machine coordinates', () => {
  test('G28 leads to a known place', () => {
    expect(work('G54 G0 X1 Y2 Z3\nG91 G28 Z0')).toEqual([1, 2, 320]);
    expect(work('G54 G0 X1 Y2 Z3\nG28')).toEqual([250, 150, 320]);
    expect(work('G28')).toEqual([250, 150, 320]);
  });

  test('G30 leads to another point, which nobody gave', () => {
    expect(work('G54 G0 X1 Y2 Z3\nG91 G30 Z0')).toEqual([1, 2, null]);
  });

  test('G53 is known where the zero is', () => {
    expect(work('G54 G0 X1 Y2 Z3\nG53 G0 Z-20')).toEqual([1, 2, 300]);
    expect(work('G56 G0 X1 Y2 Z3\nG53 G0 Z-20')).toEqual([1, 2, null]);
  });

  test('G53 and G28 with a tool length that is known, and with one that is not', () => {
    // 0 = work − 320 + 120
    expect(work('G54 G0 X1 Y2\nG43 H1 Z50\nG53 G0 Z0')).toEqual([1, 2, 200]);
    expect(work('G54 G0 X1 Y2\nG43 H1 Z50\nG91 G28 Z0')).toEqual([1, 2, 200]);
    expect(work('G54 G0 X1 Y2\nG43 H3 Z50\nG53 G0 Z0')).toEqual([1, 2, null]);
  });

  test('G52 and G92 shift what is written, not the machine', () => {
    expect(machinePath('G54 G0 X0 Y0 Z0\nG52 X10\nX1')).toEqual([
      [-250, -150, -320],
      [-239, -150, -320],
    ]);
    expect(machinePath('G54 G0 X0 Y0 Z0\nG92 X5\nX6')).toEqual([
      [-250, -150, -320],
      [-249, -150, -320],
    ]);
  });
});

describe('the machine position of each move', () => {
  test('is the work position and the zero', () => {
    expect(machinePath('G54 G0 X1 Y2 Z3\nG55 X1')).toEqual([
      [-249, -148, -317],
      [-99, -148, -317],
    ]);
  });

  test('counts G10 from where it stands', () => {
    expect(machinePath('G54 G0 X1 Y0 Z0\nG10 L2 P1 X-200\nX1')).toEqual([
      [-249, -150, -320],
      [-199, -150, -320],
    ]);
  });

  test('is not known without a zero', () => {
    expect(machinePath('G56 G0 X1 Y0 Z0')).toEqual([[null, null, null]]);
    expect(machinePath('G54 G0 X1 Y0 Z0', {})).toEqual([[null, null, null]]);
    expect(machinePath('G54 G0 X1')).toEqual([[-249, null, null]]);
  });

  test('takes a tool length along with the next move of Z', () => {
    const program = 'G54 G28\nT1 M6\nG43 H1\nG0 X0 Y0\nZ50\nG1 Z-5 F100\nG49\nG0 X9\nZ100';
    expect(machinePath(program).map(([, , z]) => z)).toEqual([0, 0, -150, -205, -205, -220]);
  });

  test('takes a length along where Z is written though its number stays', () => {
    expect(machinePath('G54 G0 X0 Y0 Z50\nG43 H1 Z50\nG0 X1').map(([, , z]) => z)).toEqual([-270, -150]);
  });

  test.each([
    ['G43 H12 Z0', -240],
    ['G44 H12 Z0', -400],
    ['G43 H0 Z0', -320],
    ['G43 H3 Z0', null],
    ['G43 H99 Z0', null],
  ])('%s', (block, z) => {
    expect(machinePath(`G54 ${block}\nG0 X0 Y0 Z1`).at(-1)?.[2]).toBe(z === null ? null : z + 1);
  });

  test('is the same before and behind a change of the offset', () => {
    expect(machinePath('G54 G0 X1 Y2\nG43 H1 Z50\nG55\nG0 X-148').slice(-2)).toEqual([
      [-249, -148, -150],
      [-248, -148, -150],
    ]);
  });
});

/** A seeded generator (mulberry32) of numbers from 0 to 1. */
const seeded = (seed: number) => (): number => {
  seed = (seed + 0x6d2b79f5) | 0;
  let value = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  value = (value + Math.imul(value ^ (value >>> 7), 61 | value)) ^ value;
  return ((value ^ (value >>> 14)) >>> 0) / 4_294_967_296;
};

test('an edited program has the positions of one that was just opened', () => {
  const lines = [
    'G54',
    'G55',
    'G54.1 P3',
    'G43 H1',
    'G43 H12 Z5',
    'G43 H3',
    'G49',
    'H2',
    'G91 G28 Z0',
    'G90',
    'G28 X0 Y0',
    'G53 G0 Z-10',
    'G10 L2 P1 X-200',
    'G10 L20 P2 Z4',
    'X1 Y2',
    'Z3',
    'Z-3',
    'G1 F100',
    'G0',
    'T1 M6',
  ];
  const random = seeded(20);
  const line = () => lines[Math.floor(random() * lines.length)];
  for (let round = 0; round < 15; round++) {
    const text = Array.from({ length: 40 }, line);
    const analysis = run(text.join('\n'));
    for (let edit = 0; edit < 25; edit++) {
      const at = Math.floor(random() * text.length);
      const length = text[at].length;
      text[at] = line();
      analysis.edit(at, 0, at, length, text[at]);
      analysis.run();
      expect(snapshotOf(analysis), text.join('\n')).toEqual(snapshotOf(run(text.join('\n'))));
    }
  }
});
