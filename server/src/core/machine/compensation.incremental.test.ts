/** Radius compensation holds moves back over lines and chunks: random edits, each compared with a fresh run. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../tests/bench/program.ts';
import { snapshotOf } from '../../../../tests/harness/snapshot.ts';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from './configuration.ts';
import { PROFILES } from './profile.ts';

const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  tools: [
    { number: 1, kind: 'end-mill', diameter: 4 },
    { number: 2, kind: 'end-mill', diameter: 10 },
  ],
};

const PIECES = [
  'G1 G41 D1 X10. Y5. F200\n',
  'G42 D2 X30.\n',
  'G41\n',
  'G42\n',
  'G40\n',
  'G40 X0.\n',
  'G0 G40 X0. Y0.\n',
  'D2\n',
  'D1\n',
  'D9\n',
  'G1 X20. F100\n',
  'Y20.\n',
  'X40. Y40.\n',
  'X-10.\n',
  'X10.2\n',
  'G2 X20. Y5. I5. J0.\n',
  'G3 X10. Y10. R8.\n',
  'G3 I-10.\n',
  'G3 I-10. Z-2.\n',
  'G1 Z-5.\n',
  'G0 Z5.\n',
  'G0 X50.\n',
  'G4 P1.\n',
  'M8\n',
  '(A REMARK)\n',
  '(A REMARK)\n',
  '\n',
  'T1 M6 (END MILL D4)\n',
  'T3 M6 (END MILL D8)\n',
  'G18\n',
  'G17\n',
  'G91\n',
  'G90\n',
  'G55\n',
  'G54\n',
  'G92 X0. Y0.\n',
  'G28 Z0.\n',
  'G53 G0 X0.\n',
  'G81 X1. Y1. Z-5. R2. F100\n',
  'G80\n',
  'G33 Z-5. F1.\n',
  'G10 L12 P1 R3.\n',
  'G51.1 X0.\n',
  'G50.1\n',
  'A90.\n',
  'Y7. A45.\n',
  '#101=5.\n',
  'X#101\n',
  'M30\n',
  'O2000\n',
  '/G1 X7.\n',
  'G1 G40 X1. Y1.\n',
];

/** Pieces of programs with jumps, loops and calls. */
const FLOW_PIECES = [
  ...PIECES.slice(0, 30),
  'M98 P2000\n',
  'M98 P2000 L3\n',
  'GOTO 10\n',
  'N10\n',
  '#102=3.\nWHILE [#102 GT 0] DO1\n#102=[#102-1.]\nX[#102*7.]\nY[#102*9.]\nEND1\n',
  'IF [#101 GT 3] GOTO 20\n',
  'N20\n',
];
/** What every program with jumps ends with. */
const FLOW_TAIL = 'M30\nO2000\nG91\nX10.\nY5.\nG90\nM99'.split('\n');

/** Pieces without those that end or break off everything, so that contours get long. */
const CONTOUR_PIECES = [...PIECES.slice(10, 30), 'G1 G41 D1 X10. Y5. F200\n'];

const pick = <T>(random: () => number, list: readonly T[]): T => list[Math.floor(random() * list.length)];

const programOf = (random: () => number, lines: number, pieces: readonly string[]): string[] =>
  Array.from({ length: lines }, () => pick(random, pieces).trimEnd());

/** Edits whole lines at random; every state is compared with a fresh run over the same text. */
const runEdits = (
  seed: number,
  start: string[],
  edits: number,
  configuration = CONFIGURATION,
  pieces: readonly string[] = PIECES,
): void => {
  const random = seeded(seed);
  const lines = [...start];
  const analysis = new Analysis(lines.join('\n'), configuration);
  analysis.run();
  for (let i = 0; i < edits; i++) {
    const at = Math.floor(random() * lines.length);
    const removed = random() < 0.5 ? 1 : Math.floor(random() * 3);
    const until = Math.min(lines.length - 1, at + removed);
    const inserted = programOf(random, Math.floor(random() * 3), random() < 0.5 ? pieces : CONTOUR_PIECES);
    const text = inserted.map((line) => `${line}\n`).join('');
    const insertedLines = inserted.flatMap((piece) => piece.split('\n'));
    analysis.edit(at, 0, until, 0, text);
    lines.splice(at, until - at, ...insertedLines);
    analysis.run();
    const fresh = new Analysis(lines.join('\n'), configuration);
    fresh.run();
    expect(snapshotOf(analysis), `seed ${seed}, edit ${i}`).toEqual(snapshotOf(fresh));
    expect(contoursOf(analysis), `contour, seed ${seed}, edit ${i}`).toEqual(contoursOf(fresh));
  }
};

/** The programmed contours; where a chunk begins on the way, its start is told again and left out here. */
const contoursOf = (analysis: Analysis): unknown[] => {
  const found: unknown[] = [];
  for (const { segment, firstLine } of analysis.passages()) {
    const { contour, entry } = segment;
    if (contour === undefined) continue;
    for (let i = entry.openMoves.length > 0 ? 1 : 0; i < contour.count; i++) {
      found.push([contour.lines[i] + firstLine, contour.kinds[i], ...contour.ends.subarray(i * 3, i * 3 + 3)]);
    }
  }
  return found;
};

describe('an edited program with radius compensation is the same as one that was just opened', () => {
  it('short programs of all pieces', () => {
    for (let seed = 1; seed <= 60; seed++) runEdits(seed, programOf(seeded(seed * 7), 30, PIECES), 25);
  });

  it('long contours over several chunks', () => {
    for (let seed = 1; seed <= 6; seed++) runEdits(seed, programOf(seeded(seed * 13), 1400, CONTOUR_PIECES), 12);
  });

  it('programs with jumps, loops and calls', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const start = programOf(seeded(seed * 19), 30, FLOW_PIECES).flatMap((piece) => piece.split('\n'));
      runEdits(seed, [...start, ...FLOW_TAIL], 20, CONFIGURATION, FLOW_PIECES);
    }
  });

  it('with extended lines, diameters and no table', () => {
    const profile = { ...PROFILES.iso, outsideCorner: 'extended-lines', offsetRegister: 'diameter' } as const;
    for (let seed = 1; seed <= 20; seed++) {
      runEdits(seed, programOf(seeded(seed * 17), 30, PIECES), 20, { ...CONFIGURATION, profile, tools: [] });
    }
  });
});
