/**
 * Canned cycles against the steps that NIST IR 6556 (RS274/NGC, section on canned cycles) gives for them. The steps are
 * typed from memory of the report, as data; the way from them to a path is written here anew, apart from the product.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { path } from '../harness/path.ts';

type Step =
  | 'feed to Z'
  | 'dwell P'
  | 'feed to R'
  | 'traverse to clear'
  /** Pecks: feed by Q, traverse to clear of the hole, back to a little above the last depth. */
  | 'pecks';

/** Behind the preliminary motion. Source: NIST IR 6556, from memory. */
const REPORT: Readonly<Record<number, readonly Step[]>> = {
  81: ['feed to Z', 'traverse to clear'],
  82: ['feed to Z', 'dwell P', 'traverse to clear'],
  83: ['pecks', 'traverse to clear'],
  // The spindle reverses at the bottom (not a motion); out at feed to R.
  84: ['feed to Z', 'feed to R', 'traverse to clear'],
  85: ['feed to Z', 'feed to R', 'traverse to clear'],
  // The spindle stops at the bottom and starts again at the top (not a motion).
  86: ['feed to Z', 'dwell P', 'traverse to clear'],
  // The operator retracts by hand after the stop: drawn as a retract at rapid.
  88: ['feed to Z', 'dwell P', 'traverse to clear'],
  89: ['feed to Z', 'dwell P', 'feed to R', 'traverse to clear'],
};

/** Way above the last depth of G83: 0.010 inch. Source: NIST IR 6556, from memory. */
const ABOVE = 0.254;

interface Case {
  readonly code: number;
  readonly retract: number;
  readonly depth: number;
  readonly start: number;
  readonly peck: number;
  readonly dwell: number;
  readonly level: 98 | 99;
  readonly incremental: boolean;
  readonly repeats: number;
  readonly step: number;
}

const tenths = (min: number, max: number) => fc.integer({ min: min * 10, max: max * 10 }).map((value) => value / 10);

const anyCase: fc.Arbitrary<Case> = fc
  .record({
    code: fc.constantFrom(...Object.keys(REPORT).map(Number)),
    retract: tenths(0, 5),
    way: tenths(1, 12),
    start: tenths(-3, 12),
    peck: tenths(1, 5),
    dwell: tenths(1, 3),
    level: fc.constantFrom<98 | 99>(98, 99),
    incremental: fc.boolean(),
    repeats: fc.integer({ min: 1, max: 4 }),
    step: tenths(-9, 9).filter((value) => value !== 0),
  })
  .map(({ way, ...rest }) => ({ ...rest, depth: rest.retract - way }));

type Move = (string | number)[];

/** The path by the report's steps, written down without the product. */
const expectedPath = (cycle: Case): Move[] => {
  const moves: Move[] = [['rapid', 10, 20, cycle.start]];
  let [x, y, z] = [10, 20, cycle.start];
  const go = (kind: string, to: { x?: number; y?: number; z?: number }): void => {
    const next = { x, y, z, ...to };
    if (next.x === x && next.y === y && next.z === z) return;
    ({ x, y, z } = next);
    moves.push([kind, x, y, z]);
  };
  // G98: back to where the axis stood, or R where that is higher.
  const clear = cycle.level === 98 ? Math.max(cycle.start, cycle.retract) : cycle.retract;
  const holes = cycle.incremental ? cycle.repeats : 1;
  for (let hole = 1; hole <= holes; hole++) {
    // Preliminary motion: up to R where below, over at that height, to R.
    if (z < cycle.retract) go('rapid', { z: cycle.retract });
    go('rapid', { x: cycle.incremental ? 10 + hole * cycle.step : cycle.step, y: cycle.incremental ? y : 5 });
    go('rapid', { z: cycle.retract });
    for (const step of REPORT[cycle.code]) {
      if (step === 'feed to Z') go('line', { z: cycle.depth });
      else if (step === 'feed to R') go('line', { z: cycle.retract });
      else if (step === 'dwell P') moves.push(['dwell', cycle.dwell]);
      else if (step === 'pecks') peck(cycle, go);
      else {
        go('rapid', { z: cycle.retract });
        go('rapid', { z: clear });
      }
    }
  }
  return moves;
};

const peck = (cycle: Case, go: (kind: string, to: { z: number }) => void): void => {
  let bottom = cycle.retract;
  for (let count = 1; ; count++) {
    const next = Math.max(cycle.depth, cycle.retract - count * cycle.peck);
    if (count > 1) {
      go('rapid', { z: cycle.retract });
      go('rapid', { z: Math.min(cycle.retract, bottom + ABOVE) });
    }
    go('line', { z: next });
    bottom = next;
    if (next - cycle.depth < 1e-9) return;
  }
};

const programOf = (cycle: Case): string => {
  const { code, incremental } = cycle;
  const short = (value: number) => value.toFixed(4);
  const head = `G21 G17 G90 G94 G0 X10. Y20. Z${short(cycle.start)}\nF100. S500 M3\nG${cycle.level}\n`;
  // With a point P is seconds everywhere but on a control that counts milliseconds.
  const words = REPORT[code].includes('dwell P') ? [`P${short(cycle.dwell)}`] : [];
  if (code === 83) words.push(`Q${short(cycle.peck)}`);
  if (incremental) {
    const own = `X${short(cycle.step)} R${short(cycle.retract - cycle.start)} Z${short(cycle.depth - cycle.retract)}`;
    return `${head}G91 G${code} ${own} ${words.join(' ')} L${cycle.repeats}`;
  }
  return `${head}G${code} X${short(cycle.step)} Y5. R${short(cycle.retract)} Z${short(cycle.depth)} ${words.join(' ')}`;
};

const rounded = (moves: readonly (string | number | null)[][]): unknown[] =>
  moves.map((move) => move.map((value) => (typeof value === 'number' ? Math.round(value * 1e5) / 1e5 + 0 : value)));

describe('canned cycles are the steps of the report', () => {
  it.each([
    ['rs274ngc', 'rs274ngc'],
    // The same steps hold elsewhere, with the report's d.
    ['iso', { base: 'iso', peckRetract: ABOVE }],
  ] as const)('%s', (_name, profile) => {
    fc.assert(
      fc.property(anyCase, (cycle) => {
        expect(rounded(path(programOf(cycle), profile))).toEqual(rounded(expectedPath(cycle)));
      }),
      { numRuns: 400, seed: 50 },
    );
  });
});
