/** Right programs in the other unit: they run the same way but for rounding, and a slip in the conversion is refused. */
import { describe, expect, it } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { conversionOf, convertUnits } from '../../server/src/core/features/convertUnits.ts';
import type { Conversion } from '../../server/src/core/features/convertUnitsKind.ts';
import { conversionHarm } from '../../server/src/core/features/convertUnitsProof.ts';
import { changedText, type LineChange } from '../../server/src/core/features/formatEdits.ts';
import type { ProofSource } from '../../server/src/core/features/formatProof.ts';
import { tracedMoves } from '../../server/src/core/features/trace.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { PROFILES } from '../../server/src/core/machine/profile.ts';
import { seeded } from '../bench/program.ts';
import { pick } from '../harness/randomEdits.ts';
import { composedProgram } from './composed.ts';

const sourceOf = (text: string, profile: string): ProofSource => {
  const configuration = { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] };
  const analysis = new Analysis(text, configuration);
  analysis.runSlice(Number.POSITIVE_INFINITY);
  return { analysis, configuration };
};

const done = <Outcome>(steps: Generator<undefined, Outcome>): Outcome => {
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
};

const wholeOf = (source: ProofSource): Conversion => {
  const conversion = conversionOf(source, { firstLine: 0, lastLine: source.analysis.lineCount - 1 });
  if (conversion === undefined || 'why' in conversion) throw new Error('nothing to convert');
  return conversion;
};

const programs = Array.from({ length: 40 }, (_, seed) => composedProgram(seed + 1));

describe('programs of many hands in the other unit', () => {
  it('run the same way but for rounding', () => {
    let refused = 0;
    for (const { program, profile } of programs) {
      const source = sourceOf(program, profile);
      const outcome = done(convertUnits(source, wholeOf(source)));
      if ('refusal' in outcome) {
        refused++;
        continue;
      }
      const after = sourceOf(changedText(source.analysis, outcome.changes), profile).analysis;
      const [old, now] = [[...tracedMoves(source.analysis)], [...tracedMoves(after)]];
      expect(now.length).toBe(old.length);
      // Half a ten-thousandth of an inch, twice where a place comes of two words; pecks add up.
      let first = 0;
      const within = old.map(({ line }, i) => {
        if (i > 0 && line !== old[i - 1].line) first = i;
        return i - first;
      });
      const isOff = (a: number, b: number, most: number): boolean => Math.abs(a - b) > most;
      const wrong = old.findIndex(
        (move, i) =>
          move.to.some((value, axis) => isOff(value, now[i].to[axis], 0.00255 * (1 + within[i] / 2))) ||
          isOff(move.feed, now[i].feed, 0.05 + move.feed * 0.001) ||
          isOff(move.length, now[i].length, 0.02 * (1 + within[i] / 2)) ||
          !Object.is(move.tool, now[i].tool) ||
          !Object.is(move.speed, now[i].speed),
      );
      expect(
        wrong < 0 ? '' : `${program.split('\n')[old[wrong].line]}: ${JSON.stringify([old[wrong], now[wrong]])}`,
      ).toBe('');
    }
    expect(refused).toBeLessThan(programs.length / 4);
  });
});

/** What a conversion with a bug would write for a number. */
const MUTANTS: readonly (readonly [string, RegExp, (letter: string, number: string) => string])[] = [
  ['leaves a sign out', /([XYZIJ])(-[\d.]+)/i, (letter, number) => letter + number.slice(1)],
  [
    'leaves an end as it is',
    /([XYZ])(-?\d+\.?\d*)/i,
    (letter, number) => `${letter}${(Number(number) * 1.5 + 1).toFixed(3)}`,
  ],
  [
    'leaves a centre as it is',
    /([IJ])(-?\d+\.?\d*)/i,
    (letter, number) => `${letter}${(Number(number) * 25.4 + 1).toFixed(3)}`,
  ],
  ['leaves a feed as it is', /(F)(\d+\.?\d*)/i, (letter, number) => `${letter}${(Number(number) * 25.4).toFixed(3)}`],
  ['converts a speed', /(S)(\d+)/i, (letter, number) => `${letter}${Math.round(Number(number) * 25.4)}`],
  ['loses a decimal', /([XYZ])(-?\d+\.\d\d)\d+/i, (letter, number) => `${letter}${(Number(number) + 0.01).toFixed(2)}`],
];

describe('what a conversion with a bug would write', () => {
  it('is refused', () => {
    const random = seeded(11);
    let tried = 0;
    for (const { program, profile } of programs.slice(0, 25)) {
      const source = sourceOf(program, profile);
      const conversion = wholeOf(source);
      const outcome = done(convertUnits(source, conversion));
      if ('refusal' in outcome || profile !== 'iso') continue;
      for (let trial = 0; trial < 6; trial++) {
        const [bug, pattern, write] = pick(random, MUTANTS);
        const right = pick(random, outcome.changes);
        // Whole lines are easier to spoil than stretches of them.
        const text = source.analysis.lineText(right.line);
        const converted = text.slice(0, right.column) + right.text + text.slice(right.endColumn);
        const wrong = converted
          .split(/(\([^)]*\))/)
          .map((part) =>
            part.startsWith('(')
              ? part
              : part.replace(pattern, (_all, letter: string, number: string) => write(letter, number)),
          )
          .join('');
        if (wrong === converted) continue;
        const changes: LineChange[] = outcome.changes.map((change) =>
          change === right ? { line: right.line, column: 0, endColumn: text.length, text: wrong } : change,
        );
        tried++;
        expect(done(conversionHarm(source, conversion, changes, true))?.why, `${bug}: ${wrong}`).toBeDefined();
      }
    }
    expect(tried).toBeGreaterThan(25);
  });
});
