import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { WordFlag } from '../syntax/block.ts';
import { shortNumber } from './hoverPlace.ts';
import { HINT_KINDS, type HintKind, hintSteps, type InlayHintText } from './inlayHints.ts';

const ALL: ReadonlySet<HintKind> = new Set(HINT_KINDS);

const analysed = (text: string, configuration: Configuration = DEFAULT_CONFIGURATION): Analysis => {
  const analysis = new Analysis(text, configuration);
  analysis.run();
  return analysis;
};

function hintsOf(
  analysis: Analysis,
  { first = 0, last = analysis.lineCount - 1, kinds = ALL, configuration = DEFAULT_CONFIGURATION } = {},
): InlayHintText[] {
  const steps = hintSteps(analysis, configuration, first, last, kinds);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** The lines with their hints in braces. */
function shown(text: string): string[] {
  const lines = text.split('\n');
  for (const { line, column, label } of hintsOf(analysed(text)).reverse()) {
    lines[line] = `${lines[line].slice(0, column)}{${label}}${lines[line].slice(column)}`;
  }
  return lines;
}

describe('hints', () => {
  test('under G91 each axis word says where it leads, under G90 none', () => {
    const text = 'G21 G90\nG0 X10. Y5. Z2.\nG91\nG1 X2.5 F100.\nY-1. Z-3. (X9.)\nG90 X0.';
    expect(shown(text)).toEqual([
      'G21 G90',
      'G0 X10. Y5. Z2.',
      'G91',
      'G1 X2.5{→ 12.5} F100.',
      'Y-1.{→ 4} Z-3.{→ -1} (X9.)',
      'G90 X0.',
    ]);
  });

  test('not for the way home, a dwell, a shift, nor where one word moves two axes', () => {
    const text = 'G21 G90\nG0 X1. Y1. Z5.\nG91 G28 Z0.\nG4 X1.\nG52 X5.\nG68 X0. Y0. R45.\nG91 X5.\nM30';
    expect(shown(text)).toEqual(text.split('\n'));
  });

  test('holes of a cycle under G91: place, level and bottom', () => {
    expect(shown('G21 G90\nG0 X0. Y0. Z10.\nG91 G81 X5. Y0. R-8. Z-7. F100.\nX5.')).toEqual([
      'G21 G90',
      'G0 X0. Y0. Z10.',
      'G91 G81 X5.{→ 5} Y0.{→ 0} R-8.{→ 2} Z-7.{→ -5} F100.',
      'X5.{→ 10}',
    ]);
  });

  test('the feed of a tapping cycle comes to a pitch', () => {
    expect(shown('G21\nT1 M6 (TAP M8)\nS400 M3\nG0 X0. Y0. Z5.\nG84 Z-10. R2. F500.').at(-1)).toBe(
      'G84 Z-10. R2. F500.{1.25 a turn}',
    );
    expect(shown('G21\nS400 M3\nG0 X0. Y0. Z5.\nG95 G84 Z-10. R2. F1.25').at(-1)).toBe('G95 G84 Z-10. R2. F1.25');
    expect(shown('G21\nS400 M3\nG0 X0. Y0. Z5.\nG81 Z-10. R2. F500.').at(-1)).toBe('G81 Z-10. R2. F500.');
    expect(shown('G21\nT1 M6 (TAP M8)\nS400 M3\nG0 X0. Y0. Z5.\nG1 Z-10. F500.').at(-1)).toBe(
      'G1 Z-10. F500.{1.25 a turn}',
    );
  });

  test('an arc’s radius, unless a word says it', () => {
    const arc = (words: string) => shown(`G21 G17 G90\nG0 X0. Y0. Z0.\n${words} F100.`)[2];
    expect(arc('G2 X7. Y1. I3. J4.')).toBe('G2 X7. Y1. I3. J4.{R5} F100.');
    expect(arc('G2 X10. Y10. I10. J0.')).toBe('G2 X10. Y10. I10. J0. F100.');
    expect(arc('G2 X10. Y10. R10.')).toBe('G2 X10. Y10. R10. F100.');
  });

  test('turns and lead of a helix', () => {
    const helix = (words: string) => shown(`G21 G17 G90\nG0 X0. Y0. Z0.\n${words}`)[2];
    expect(helix('G3 X-20. Y0. Z-1. I-10. F100.')).toBe('G3 X-20. Y0. Z-1. I-10. F100.{lead 2}');
    expect(helix('G3 I-10. Z-1.5 F100.')).toBe('G3 I-10. Z-1.5 F100.{lead 1.5}');
    expect(helix('G3 I-10. Z-4.5 P3 F100.')).toBe('G3 I-10. Z-4.5 P3 F100.{lead 1.5}');
    // A row of turns says it once.
    expect(shown('G21 G90\nG0 X0. Y0. Z0.\nG3 I-9. Z-1. F100.\nZ-2. I-9.\nZ-2.8 I-9.\nI-9.').slice(2)).toEqual([
      'G3 I-9. Z-1. F100.{lead 1}',
      'Z-2. I-9.',
      'Z-2.8 I-9.{lead 0.8}',
      'I-9.',
    ]);
    expect(helix('G91 G3 I-10. Z-1.5 F100.')).toBe('G91 G3 I-10. Z-1.5{→ -1.5} F100.');
  });

  test('what a cutting speed comes to for a cutter that is known', () => {
    expect(shown('G21\nT1 M6 (END MILL D10)\nG96 S100 M3').at(-1)).toBe('G96 S100{≈3183/min} M3');
    expect(shown('G21\nT1 M6\nG96 S100 M3').at(-1)).toBe('G96 S100 M3');
    expect(shown('G21\nT1 M6 (END MILL D10)\nG97 S100 M3').at(-1)).toBe('G97 S100 M3');
  });

  test('variables, expressions, assignments; not plain numbers', () => {
    const text = '#1=5 #2=[#1*2.5] (#3=9)\n#3=2.5\n#4=#3+1\nG0 X#1 Y[#4/2] Z3.\n#<deep>=-#4 (A)\nG1 Z#<deep> F100.';
    expect(shown(`G21 G90\n${text}`).slice(1)).toEqual([
      '#1=5 #2=[#1*2.5]{= 12.5} (#3=9)',
      '#3=2.5',
      '#4=#3+1{= 3.5}',
      'G0 X#1{= 5} Y[#4/2]{= 1.75} Z3.',
      '#<deep>=-#4{= -3.5} (A)',
      'G1 Z#<deep>{= -3.5} F100.',
    ]);
  });

  test('conditions hold or not the first time, and numbers are those of the first pass', () => {
    const text = 'G21 G90\n#1=1\nWHILE [#1 LT 4] DO1\nG0 X#1\nIF [#1 EQ 3] THEN #2=#1\n#1=#1+1\nEND1\nM30';
    expect(shown(text).slice(2, 6)).toEqual([
      'WHILE [#1 LT 4]{true} DO1',
      'G0 X#1{= 1}',
      'IF [#1 EQ 3]{not true} THEN #2=#1',
      '#1=#1+1{= 2}',
    ]);
    expect(hintsOf(analysed(text))[1].tooltip).toBe('X#1 comes to X1. The first of 3 passes.');
  });

  test('nothing where the run never comes, none of kinds that are off, none outside the lines asked for', () => {
    const text = 'G21 G91\n#1=2\nG0 X#1\nGOTO 9\nX#1\nN9 Y3.\nM30';
    expect(hintsOf(analysed(text)).some(({ line }) => line === 4)).toBe(false);
    expect(hintsOf(analysed(text), { kinds: new Set(['values']) }).map(({ kind }) => kind)).toEqual(['values']);
    expect(hintsOf(analysed(text), { first: 3, last: 4 })).toEqual([]);
  });

  test('a deleted block that is not run has none', () => {
    const configuration: Configuration = { ...DEFAULT_CONFIGURATION, blockDelete: 'skip' };
    const analysis = analysed('G21 G91\n#1=2\n/#1=#1*3\nG0 X#1\n', configuration);
    expect(hintsOf(analysis, { configuration }).map(({ line, label }) => [line, label])).toContainEqual([3, '= 2']);
    expect(hintsOf(analysis, { configuration }).some(({ line }) => line === 2)).toBe(false);
  });

  test('lengths are in the program’s units', () => {
    expect(shown('G20 G90\nG0 X1. Y0.\nG91 X.5')[2]).toBe('G91 X.5{→ 1.5}');
  });
});

/** Numbers in [0, 1) that are the same every time. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('on all programs of the examples and the corpus', () => {
  const folder = fileURLToPath(new URL('../../../../', import.meta.url));
  const programs = ['examples', 'tests/corpus/programs'].flatMap((name) =>
    readdirSync(join(folder, name), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => ({ name: entry.name, text: readFileSync(join(entry.parentPath, entry.name), 'utf8') })),
  );

  test('hints are short, and computed words have the values that executing them gave', () => {
    let checked = 0;
    for (const { name, text } of programs) {
      const analysis = analysed(text);
      const byPlace = new Map(hintsOf(analysis).map((hint) => [`${hint.kind} ${hint.line} ${hint.column}`, hint]));
      for (const { label, line, column } of byPlace.values()) {
        expect(label.length, name).toBeLessThanOrEqual(14);
        expect(column, name).toBeLessThanOrEqual(analysis.lineText(line).length);
      }
      for (let line = 0; line < analysis.lineCount; line++) {
        if (!analysis.isReached(line) || !/[#[]/.test(analysis.lineText(line))) continue;
        const block = analysis.readBlock(line);
        for (let i = 0; i < block.wordCount; i++) {
          if ((block.flags[i] & WordFlag.computed) === 0 || !Number.isFinite(block.values[i])) continue;
          const hint = byPlace.get(
            `values ${line} ${block.starts[i] - block.start + block.wordText(i).trimEnd().length}`,
          );
          const label = `= ${shortNumber(block.values[i], 4)}`;
          expect(hint?.label, `${name} line ${line + 1}`).toBe(label.length > 14 ? undefined : label);
          checked++;
        }
      }
    }
    expect(checked).toBeGreaterThan(100);
  });

  /** Programs of moves in both modes, cycles, offsets, arcs and compensation, a hundred. */
  const random = seeded(11);
  const pick = (texts: readonly string[]) => texts[Math.floor(random() * texts.length)];
  const number = () => (random() * 20 - 10).toFixed(2);
  const BLOCKS = [
    () => `G91 G1 X${number()} F100.`,
    () => `X${number()} Y${number()}`,
    () => `Z${number()}`,
    () => `G90 G0 X${number()} Y${number()} Z${number()}`,
    () => `G2 X${number()} R30.`,
    () => pick(['G41 D1', 'G40', 'G55', 'G20', 'G21', 'G52 X5.', 'G18', 'G17', 'G91 G28 Z0.', 'G80', 'T2 M6']),
    () => `G81 X${number()} Z-3. R2. F100.`,
    () => `#1=#1+1\nX#1`,
  ];
  const made = Array.from({ length: 100 }, (_, i) => ({
    name: `made ${i}`,
    text: `G21 G90 G17\nT1 M6 (END MILL D6)\nG0 X0. Y0. Z5.\n#1=1\n${Array.from({ length: 30 }, () => pick(BLOCKS.map((make) => make()))).join('\n')}`,
  }));

  test('places under G91 are those that executing them gave', () => {
    let checked = 0;
    for (const { name, text } of [...programs, ...made]) {
      const analysis = analysed(text);
      for (const { kind, line, column, label } of hintsOf(analysis)) {
        const letter = /([XYZ])[^XYZ]*$/i.exec(analysis.lineText(line).slice(0, column))?.[1].toUpperCase() ?? '';
        const after = analysis.stateAfter(line);
        if (kind !== 'position' || after.modes[Mode.cycle] > 0) continue;
        const unit = after.modes[Mode.units] === 20 ? 25.4 : 1;
        expect(Number(label.slice(2)), `${name} line ${line + 1}`).toBeCloseTo(
          after.position['XYZ'.indexOf(letter)] / unit,
          3,
        );
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(500);
  });
});
