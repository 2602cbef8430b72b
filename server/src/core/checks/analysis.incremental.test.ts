/** The incremental path is never trusted: random edits, each compared with a fresh run over the same text. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { finishingProgram, seeded } from '../../../../tests/bench/program.ts';
import { editAtRandom, pieces } from '../../../../tests/harness/randomEdits.ts';
import { movesOf, snapshotOf } from '../../../../tests/harness/snapshot.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { Analysis } from './analysis.ts';

const EXAMPLES = new URL('../../../../examples/', import.meta.url);
const examples = readdirSync(EXAMPLES)
  .filter((name) => name.endsWith('.nc'))
  .map((name) => readFileSync(new URL(name, EXAMPLES), 'utf8'));

/** Pieces that change modes, positions, variables, the program's end, line ends and remarks. */
const PIECES = [
  'G91\n',
  'G90\n',
  'G20\n',
  'G21\n',
  'G18\n',
  'G17\n',
  'G55\n',
  'G54\n',
  'G92 X0. Y0.\n',
  'G92.1\n',
  'G52 X5.\n',
  'G28 Z0.\n',
  'G1 X10. Y5. F200\n',
  'G2 X20. Y5. I5. J0.\n',
  'G3 X1. Y1. K5.\n',
  'G0 Z5.\n',
  'G81 X1. Y1. Z-5. R2. F100\n',
  'G80\n',
  'G83 Z-9. R1. Q2.\n',
  'X3. Y3.\n',
  'M30\n',
  'M5\n',
  'M3 S800\n',
  'T2 M6 (TAP M6X1)\n',
  'G84 Z-10. R2. F400\n',
  '#101=5.\n',
  'X#101\n',
  '#102=[#101+1.]\n',
  'X[#101+#102]\n',
  '%\n',
  'O2000\n',
  '(A REMARK)\n',
  '( blockwright-ignore unknown-code )\n',
  '( blockwright-ignore-begin feed-missing )\n',
  'G777\n',
  'M777\n',
  'G51 X0. Y0. P2.\n',
  'G50\n',
  'G68 X0. Y0. R30.\n',
  'G69\n',
  'G16\n',
  'G15\n',
  'A90.\n',
  'G4 P1.5\n',
  '( OPEN\n',
  'X1O.\n',
  'M98 P100\n',
  'IF [#101 GT 3] GOTO 10\n',
  'N10\n',
  '/G1 X7.\n',
  '\r',
  '\n',
  '\r\n',
  '5',
  '.',
  '-',
  'X',
  ' ',
  'G10 L2 P1 X5. Y5.\n',
  'G93\n',
  'G94\n',
  'G95\n',
  'F100\n',
  'G33 Z-5. F1.\n',
];

const runEdits = (seed: number, start: string, edits: number, profile = 'iso'): void => {
  const random = seeded(seed);
  const configuration = { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] };
  const analysis = new Analysis(start, configuration);
  analysis.run();
  let text = start;
  for (let i = 0; i < edits; i++) {
    const batch = random() < 0.2 ? 3 : 1;
    for (let k = 0; k < batch; k++) text = editAtRandom(random, analysis, text, PIECES);
    analysis.run();
    const fresh = new Analysis(text, configuration);
    fresh.run();
    expect(snapshotOf(analysis), `seed ${seed}, edit ${i}`).toEqual(snapshotOf(fresh));
  }
};

describe('an edited program is the same as one that was just opened', () => {
  examples.forEach((text, index) => {
    it(`example ${index + 1}, 60 edits`, () => runEdits(100 + index, text, 60));
  });

  for (const profile of Object.keys(PROFILES)) {
    it(`programs of mixed pieces, profile ${profile}`, () => {
      for (let seed = 1; seed <= 12; seed++)
        runEdits(seed, pieces(seeded(seed * 77), PIECES, 40 + seed * 10), 30, profile);
    });
  }

  it('programs of several chunks', () => {
    for (let seed = 1; seed <= 4; seed++) {
      runEdits(seed, finishingProgram(1300), 12);
      runEdits(seed + 50, pieces(seeded(seed), PIECES, 1500), 12);
    }
  });

  it('edits that come in while a run is under way', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const random = seeded(seed * 31);
      let text = seed % 2 === 0 ? finishingProgram(4000) : pieces(random, PIECES, 3000);
      const analysis = new Analysis(text);
      for (let i = 0; i < 25; i++) {
        for (let slices = Math.floor(random() * 4); slices > 0; slices--) analysis.runSlice(0);
        text = editAtRandom(random, analysis, text, PIECES);
      }
      analysis.run();
      const fresh = new Analysis(text);
      fresh.run();
      expect(snapshotOf(analysis), `seed ${seed}`).toEqual(snapshotOf(fresh));
    }
  });

  it('work done in slices ends in the same', () => {
    const text = finishingProgram(20_000);
    const sliced = new Analysis(text);
    let slices = 1;
    while (!sliced.runSlice(0)) slices++;
    const whole = new Analysis(text);
    whole.run();
    expect(slices).toBeGreaterThan(10);
    expect(movesOf(sliced)).toEqual(movesOf(whole));
  });
});

describe('lines executed again after an edit (a count, free of noise)', () => {
  const executedBy = (edit: (analysis: Analysis) => void): number => {
    const analysis = new Analysis(finishingProgram(50_000));
    analysis.run();
    edit(analysis);
    analysis.run();
    return analysis.counters.linesExecuted;
  };
  const plainLine = (analysis: Analysis): number => {
    let line = 25_000;
    while (!/^X[-\d.]+ Y[-\d.]+ Z/.test(analysis.lineText(line)) || !/^X.*Y.*Z/.test(analysis.lineText(line + 1)))
      line++;
    return line;
  };

  it('a changed X word in absolute code: at most 4', () => {
    expect(executedBy((a) => a.edit(plainLine(a), 1, plainLine(a), 2, '7'))).toBeLessThanOrEqual(4);
  });

  it('a changed F word: up to the next F', () => {
    const count = executedBy((a) => a.edit(plainLine(a), 0, plainLine(a), 0, 'F500 '));
    expect(count).toBeLessThan(1500);
    expect(count).toBeGreaterThan(1);
  });

  it('G90 to G91 in the header: one whole run', () => {
    const count = executedBy((a) =>
      a.edit(2, a.lineText(2).indexOf('G90'), 2, a.lineText(2).indexOf('G90') + 3, 'G91'),
    );
    expect(count).toBeGreaterThan(49_000);
    expect(count).toBeLessThanOrEqual(50_000);
  });
});
