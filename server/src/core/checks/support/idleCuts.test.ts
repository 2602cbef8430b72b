/** Rules that are idle under a set of modes are not told of its cuts: the findings must be those of rules that hear of every cut. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';
import { RULES } from '../rules.ts';

const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  stock: { offset: 'G54', shape: 'box', min: [0, 0, -12], max: [60, 40, 0] },
  material: { name: 'STEEL' },
  machine: { axes: {}, topFeed: 900, workOffsets: {} },
  tools: [
    { number: 1, kind: 'end-mill', diameter: 8, teeth: 3 },
    { number: 2, kind: 'drill', diameter: 5 },
  ],
};

const PIECES = [
  'T1 M6',
  'T2 M6',
  'S900 M3',
  'S8000',
  'M5',
  'G43 H1 Z20.',
  'G49',
  'G0 X10. Y10.',
  'G0 Z5.',
  'G1 X20. Y5.',
  'X30. F400',
  'Y20. F40',
  'Z-1.',
  'Z4. F2000',
  'G2 X10. Y10. R30.',
  'G95',
  'F0.05',
  'G94 F120',
  'G81 X10. Y10. Z-9. R2. F80',
  'X90. Y20.',
  'X90.',
  'G80',
  'G18',
  'G17',
  'G55',
  'G54',
];

/** The findings of a program, as text. */
const findingsOf = (program: string): string => {
  const analysis = new Analysis(program, CONFIGURATION);
  analysis.runSlice(Number.POSITIVE_INFINITY);
  return JSON.stringify(analysis.findings());
};

/** The same where no rule is ever idle. */
const findingsOfAllCuts = (program: string): string => {
  const idles = RULES.map(({ idle }) => idle);
  const change = (idleOf: (index: number) => (typeof idles)[number]): void =>
    RULES.forEach((rule, index) => {
      Object.assign(rule, { idle: idleOf(index) });
    });
  change(() => undefined);
  try {
    return findingsOf(program);
  } finally {
    change((index) => idles[index]);
  }
};

describe('cuts under modes that all rules are idle under', () => {
  it('would have said nothing, and noted nothing', () => {
    const random = seeded(4);
    const codes = new Set<string>();
    for (let round = 0; round < 400; round++) {
      const lines = ['G21 G17 G90 G40 G49 G80 G54', 'S2000 M3', 'G0 X0 Y0 Z20.', 'F200'];
      for (let i = 0; i < 30; i++) lines.push(PIECES[Math.floor(random() * PIECES.length)]);
      const program = `${lines.join('\n')}\nM30\n`;
      const found = findingsOf(program);
      expect(found, program).toBe(findingsOfAllCuts(program));
      for (const [, code] of found.matchAll(/"rule":"([a-z-]+)"/g)) codes.add(code);
    }
    const hearing = RULES.filter(({ idle }) => idle !== undefined).map(({ code }) => code);
    expect(hearing.filter((code) => !codes.has(code))).toEqual([]);
  });
});
