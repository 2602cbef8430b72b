/** Rules that walk along the path give the same after an edit as on a fresh run, wherever the borders of segments lie. */
import { describe, expect, it } from 'vitest';
import { finishingProgram, seeded } from '../../../../../tests/bench/program.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';

const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  limits: { ...DEFAULT_CONFIGURATION.limits, steps: 3000, depth: 5 },
  stock: { offset: 'G54', shape: 'box', min: [0, 0, -12], max: [60, 40, 0] },
  machine: {
    axes: { X: { min: -60, max: 20 }, Y: { min: -50, max: 40 }, Z: { min: -10, max: 90 }, A: { min: 0, max: 45 } },
    workOffsets: { G54: { X: -20, Y: -10, Z: 0, A: 0 }, G55: { X: 0, Y: 0, Z: 0 } },
  },
  tools: [
    { number: 1, kind: 'end-mill', diameter: 8, length: 9, fluteLength: 5, centreCutting: false },
    { number: 2, kind: 'drill', diameter: 5, length: 40, fluteLength: 8 },
    { number: 3, kind: 'face-mill', diameter: 14, length: 30 },
  ],
};

const PIECES = [
  'T1 M6\n',
  'T2 M6\n',
  'T3 M6\n',
  'G43 H1 Z20.\n',
  'G43 H2 Z20.\n',
  'G49\n',
  'G54\n',
  'G55\n',
  'G90\n',
  'G91\n',
  'G28 Z0\n',
  'G91 G28 Z0\nG90\n',
  'G28 X0 Y0\n',
  'G53 G0 Z0\n',
  'G0 X10. Y10.\n',
  'G0 X50. Y30.\n',
  'G0 X-10. Y5.\n',
  'G0 X-2. Y-20.\n',
  'G0 Y60.\n',
  'G0 X30. Y20. Z-3.\n',
  'G0 Z-4.\n',
  'G0 Z2.\n',
  'Z20.\n',
  'G1 Z-5. F100\n',
  'G1 Z-11. F100\n',
  'G1 Z-20.\n',
  'G1 X40.\n',
  'G1 Y30. F200\n',
  'X10.\n',
  'Y5.\n',
  'G1 X30. Z-6.\n',
  'G2 X30. Y20. R30.\n',
  'G3 I5.\n',
  'G3 I-8. Z-8.\n',
  'G81 X10. Y10. Z-9. R2. F80\n',
  'G83 X50. Y30. Z-14. R-2. Q3. F80\n',
  'X30. Y20.\n',
  'G80\n',
  'G4 P1.\n',
  'A50.\n',
  'A10.\n',
  'M30\n',
  '(A REMARK)\n',
  'T2 M6\nG43 H2 Z20.\nG81 X30. Y20. Z-9. R2. F80\nG80\nT3 M6\nG43 H3 Z20.\nX30. Y20.\nG0 Z-4.\nG0 Z5.\n',
  'G0 Z5.\nX-2. Y-20.\nZ-4.\nY60.\nG0 Z5.\n',
  '',
];

/** Past the blank before anything is cut, then through its bottom. */
const BESIDE =
  'G90 G54\nT3 M6\nG43 H3 Z20.\nG0 X-2. Y-20.\nZ-4.\nY60.\nG0 Z20.\nT1 M6\nG43 H1 Z20.\nX30. Y20.\nG1 Z-20. F100\nG0 Z20.\n';

/** The same with loops and calls. */
const FLOW_PIECES = [
  ...PIECES,
  '#1=0\nWHILE [#1 LT 3] DO1\nG0 X[#1*20.]\nG1 Z-4. F100\nY20.\n#1=[#1+1]\nEND1\n',
  '#1=0\nWHILE [#1 LT 3] DO1\nG81 X[#1*10.] Y20. Z-9. R2. F80\n#1=[#1+1]\nEND1\nG80\n',
  'M98 P100\n',
  'M98 P100 L3\n',
  'M98 P999\n',
  'M30\nO100\nG0 Z-2.\nG1 X30. F100\nM99\n',
  'O100\n',
  'M99\n',
];

const pick = <T>(random: () => number, list: readonly T[]): T => list[Math.floor(random() * list.length)];
const pieces = (random: () => number, count: number, list = PIECES): string =>
  Array.from({ length: count }, () => pick(random, list)).join('');

/** Edits whole lines at random and compares every reading of the findings with a fresh one. Returns the rules that spoke. */
const runEdits = (seed: number, start: string, edits: number, list = PIECES): Set<string> => {
  const random = seeded(seed);
  const analysis = new Analysis(start, CONFIGURATION);
  analysis.run();
  let lines = start.split('\n');
  const rules = new Set<string>();
  for (let i = 0; i < edits; i++) {
    const from = Math.floor(random() * (lines.length - 1));
    const to = Math.min(lines.length - 1, from + Math.floor(random() * 3));
    const inserted = pieces(random, random() < 0.05 ? 600 : Math.floor(random() * 4), list);
    analysis.edit(from, 0, to, 0, inserted);
    lines = [...lines.slice(0, from), ...`${inserted}${lines.slice(to).join('\n')}`.split('\n')];
    analysis.run();
    const fresh = new Analysis(lines.join('\n'), CONFIGURATION);
    fresh.run();
    expect(analysis.text()).toBe(lines.join('\n'));
    expect(analysis.findings(), `seed ${seed}, edit ${i}`).toEqual(fresh.findings());
    for (const { rule } of fresh.findings().findings) rules.add(rule);
  }
  return rules;
};

describe('rules about the room to move', () => {
  it('say the same of an edited program and a fresh one, all of them', () => {
    const spoke = new Set<string>();
    for (let seed = 1; seed <= 14; seed++) {
      const start = `${seed % 2 === 0 ? BESIDE : ''}${pieces(seeded(seed * 31), 60 + 40 * seed)}`;
      for (const rule of runEdits(seed, start, 25)) spoke.add(rule);
    }
    const mine = [
      'home-through-work',
      'no-retract',
      'travel-exceeded',
      'rapid-into-stock',
      'rapid-below-stock-top',
      'through-stock-bottom',
      'rapid-plunge-diagonal',
      'holder-below-stock',
      'tool-too-large',
      'depth-over-flute',
      'plunge-without-centre-cut',
    ];
    expect(mine.filter((rule) => !spoke.has(rule))).toEqual([]);
  });

  it('say the same through loops and calls', () => {
    for (let seed = 1; seed <= 8; seed++) {
      runEdits(seed, `O1\n${pieces(seeded(seed * 37), 40 + 10 * seed, FLOW_PIECES)}`, 20, FLOW_PIECES);
    }
  });

  it('say the same over several chunks', () => {
    for (let seed = 1; seed <= 3; seed++) runEdits(seed, pieces(seeded(seed), 1600), 8);
    runEdits(9, finishingProgram(1400), 8);
  });
});
