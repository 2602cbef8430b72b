/** Programs with loops, jumps and calls: random edits, each compared with a fresh run over the same text. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { editAtRandom, pick } from '../../../../../tests/harness/randomEdits.ts';
import { snapshotOf } from '../../../../../tests/harness/snapshot.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { PROFILES } from '../../machine/profile.ts';
import { Analysis } from '../analysis.ts';

/** Programs of mixed pieces may go on for ever; single chunks are cut off at the same block whatever was edited before. */
const LIMITS = { ...DEFAULT_CONFIGURATION.limits, steps: 3000, moves: 2500 };

const STRAIGHT = [
  'G1 X10. Y5. F200\n',
  'G0 Z5.\n',
  'X#1 Y#2\n',
  'G2 X20. Y5. I5. J0.\n',
  'G91\n',
  'G90\n',
  '#1=#1+1\n',
  '#2=3\n',
  '#101=#101+1\n',
  '#3=#5041\n',
  'G81 X#1 Y1. Z-5. R2. F100\n',
  'G80\n',
  'G55\n',
  'G54\n',
  'T2 M6 (TAP M6X1)\n',
  'S500 M3\n',
  'G10 L2 P1 X5. Y5.\n',
  'G1 G41 D1 X3. F100\n',
  'G40 X0.\n',
  '(A REMARK)\n',
  '\n',
  'X1O.\n',
  'F100\n',
];

const FLOW = [
  'WHILE [#1 LT 4] DO1\n',
  'END1\n',
  'WHILE [#2 LT 5] DO2\n',
  'END2\n',
  'N10\n',
  'N20 G0 X5.\n',
  'IF [#1 GT 3] GOTO 20\n',
  'IF [#101 EQ 2] THEN #2=9\n',
  'IF [#500 EQ 2] GOTO 20\n',
  'WHILE [#500 LT 2] DO2\n',
  'IF [#101 EQ 2] THEN #3000=1 (OWN ALARM)\n',
  'IF [#500 EQ 2] THEN #3000=2\n',
  'GOTO #500\n',
  'GOTO 20\n',
  'GOTO #1\n',
  'M98 P100\n',
  'M98 P200 L3\n',
  'G65 P200 A2. B3.\n',
  'G66 P200 A1.\n',
  'G67\n',
  'M99\n',
  'M99 P20\n',
  'M30\n',
  'O100\n',
  'O200\n',
];

const block = (random: () => number): string => pick(random, random() < 0.85 ? STRAIGHT : FLOW);

/** A program with loops and calls that fit, and odd pieces between. */
const program = (random: () => number): string => {
  const some = (most: number): string =>
    Array.from({ length: 1 + Math.floor(random() * most) }, () => pick(random, STRAIGHT)).join('');
  const odd = (): string => (random() < 0.5 ? block(random) : '');
  return [
    `O1\nG17 G21 G90 G54\nT1 M6 (END MILL D6)\nG0 X0. Y0. Z5. S900 M3\n#1=0\n#2=0\n#101=0\n${some(12)}`,
    `WHILE [#101 LT ${2 + Math.floor(random() * 4)}] DO1\n#101=#101+1\n${some(8)}`,
    random() < 0.5 ? `#2=0\nWHILE [#2 LT 3] DO2\n#2=#2+1\n${some(4)}END2\n` : '',
    random() < 0.5 ? `IF [#101 EQ 2] GOTO 10\n${some(3)}N10\n` : '',
    random() < 0.5 ? 'G65 P200 A1. B2.\n' : 'M98 P100 L2\n',
    `END1\n${some(12)}${odd()}M98 P200\n${odd()}M30\n`,
    `O100\n${some(6)}${odd()}M99\nO200\nG0 X#1\n${some(6)}M98 P100\nM99\n`,
  ].join('');
};

const runEdits = (seed: number, edits: number, own: Partial<Configuration> = {}): void => {
  const random = seeded(seed);
  const tools = [{ number: 1, kind: 'end-mill' as const, diameter: 6 }];
  const configuration = { ...DEFAULT_CONFIGURATION, limits: LIMITS, tools, ...own };
  let text = program(random);
  const analysis = new Analysis(text, configuration);
  analysis.run();
  for (let i = 0; i < edits; i++) {
    const before = text;
    const list = [random() < 0.8 ? pick(random, STRAIGHT) : block(random)];
    // Most edits keep the flow: a digit of a line, or a line put in.
    text = random() < 0.6 ? digitChanged(random, analysis, text) : editAtRandom(random, analysis, text, list);
    if (text.split('\n').length > 480) {
      text = before;
      analysis.edit(0, 0, Number.MAX_SAFE_INTEGER, 0, text);
    }
    analysis.run();
    const fresh = new Analysis(text, configuration);
    fresh.run();
    expect(snapshotOf(analysis), `seed ${seed}, edit ${i}\n${text}`).toEqual(snapshotOf(fresh));
  }
};

/** Changes one digit. */
const digitChanged = (random: () => number, analysis: Analysis, text: string): string => {
  const lines = text.split('\n');
  const line = Math.floor(random() * lines.length);
  const places = [...lines[line].matchAll(/\d/g)].map(({ index }) => index);
  if (places.length === 0) return text;
  const column = pick(random, places);
  const digit = String(Math.floor(random() * 10));
  analysis.edit(line, column, line, column + 1, digit);
  lines[line] = lines[line].slice(0, column) + digit + lines[line].slice(column + 1);
  return lines.join('\n');
};

const EXAMPLES = new URL('../../../../../examples/', import.meta.url);

describe('an edited program with flow is the same as one that was just opened', () => {
  it('loops, jumps, subprograms and macros', () => {
    for (let seed = 1; seed <= 40; seed++) runEdits(seed, 25);
  });

  it('a line inserted above a loop, which brings compensation into it', () => {
    const text =
      'G21 G90 G54\nT1 M6 (END MILL D6)\nG0 X0. Y0. Z5.\nG1 G41 D1 X3. F100\nX10. Y5.\nG2 X20. I5. J4.\nG55\nG0 Z5.\n#101=0\nWHILE [#101 LT 3] DO1\n#101=#101+1\nX#1 Y#2\nEND1\nG1 X10. Y5.\nM30\n';
    const analysis = new Analysis(text);
    analysis.run();
    analysis.edit(6, 0, 6, 3, 'G90\n');
    analysis.run();
    const fresh = new Analysis(analysis.text());
    fresh.run();
    expect(snapshotOf(analysis)).toEqual(snapshotOf(fresh));
  });

  it('under the other profiles', () => {
    for (let seed = 1; seed <= 10; seed++) runEdits(seed + 500, 15, { profile: PROFILES['iso-macro'] });
    for (let seed = 1; seed <= 5; seed++) runEdits(seed + 700, 15, { profile: PROFILES.rs274ngc });
  });

  it('programs of several chunks', () => {
    const text = readdirSync(EXAMPLES)
      .filter((name) => /loop|macro|parts/.test(name))
      .map((name) => readFileSync(new URL(name, EXAMPLES), 'utf8'))
      .map((one) => one.replace('M30', `${'G1 X1. Y2. F100\nX5.\n'.repeat(400)}M30`))
      .join('');
    const random = seeded(9);
    const analysis = new Analysis(text);
    analysis.run();
    let edited = text;
    for (let i = 0; i < 25; i++) {
      edited =
        random() < 0.6 ? digitChanged(random, analysis, edited) : editAtRandom(random, analysis, edited, STRAIGHT);
      analysis.run();
      const fresh = new Analysis(edited);
      fresh.run();
      expect(snapshotOf(analysis), `edit ${i}`).toEqual(snapshotOf(fresh));
    }
  });
});
