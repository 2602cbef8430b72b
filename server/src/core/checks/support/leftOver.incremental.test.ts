/** Rules over what one tool leaves to the next: random edits, each compared with a fresh run over the same text. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { snapshotOf } from '../../../../../tests/harness/snapshot.ts';
import { Analysis } from '../analysis.ts';

/** Lines that give, carry over and leave on feeds, speeds and modes, and lines of holes and levels. */
const LINES = [
  'T1 M6 (END MILL D10 3FL)',
  'T2 M6',
  'T3',
  'M6',
  'T4 S900 F120',
  'S3000 M3',
  'M3',
  'M5',
  'S500',
  'F800',
  'F31.5',
  'G1 X10. F800',
  'G1 Y10. F31.5',
  'G1 X5.',
  'G1 Z-1.',
  'Z-2.',
  'Z-3.',
  'Z-40.',
  'Z-5.',
  'X1. F0',
  'G0 X0 Y0 Z5.',
  'G84 X0 Y0 Z-5. R2. F500',
  'G81 X10. Y0 Z-12. R2. F100',
  'X20.',
  'X300.',
  'X40.',
  'X50. Z-120.',
  'X60. Z-12.',
  'G80',
  'G90',
  'G91',
  'G91 G28 Z0.',
  'G17',
  'G18',
  'G2 X20. R10.',
  'G20',
  'G21',
  'G93',
  'G94',
  'G95',
  'G96 S100',
  'G97 S900',
  'G52 X5.',
  'G52 X0',
  'G68 X0 Y0 R30.',
  'G69',
  'G92 X0 Y0',
  'G54',
  'M30',
  'O2',
];

const pick = (random: () => number): string => LINES[Math.floor(random() * LINES.length)];

const OWN = [
  'feed-zero',
  'speed-missing',
  'feed-carried-over',
  'speed-carried-over',
  'units-mixed',
  'plane-unset',
  'start-modes-unset',
  'incremental-left-on',
  'plane-left-changed',
  'shift-left-on',
  'feed-mode-left-on',
  'feed-unit-suspect',
];

describe('what one tool leaves to the next', () => {
  it('is the same after an edit as in a program just opened', () => {
    const met = new Set<string>();
    for (let seed = 1; seed <= 14; seed++) {
      const random = seeded(seed * 911);
      const lines = Array.from({ length: seed % 5 === 0 ? 1100 : 60 }, () => pick(random));
      const analysis = new Analysis(lines.join('\n'));
      analysis.run();
      for (let edit = 0; edit < 25; edit++) {
        const at = Math.floor(random() * lines.length);
        const removed = Math.floor(random() * 2);
        const added = Array.from({ length: Math.floor(random() * 3) }, () => pick(random));
        lines.splice(at, removed, ...added);
        analysis.edit(at, 0, at + removed, 0, added.map((line) => `${line}\n`).join(''));
        analysis.run();
        const fresh = new Analysis(analysis.text());
        fresh.run();
        expect(snapshotOf(analysis), `seed ${seed}, edit ${edit}`).toEqual(snapshotOf(fresh));
        for (const { rule } of analysis.findings().findings) met.add(rule);
      }
    }
    expect(OWN.filter((code) => !met.has(code))).toEqual([]);
  });
});
