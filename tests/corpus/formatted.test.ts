/**
 * Right programs in random styles: the path stays the same to the last digit, formatting twice gives the same, and what is
 * written wrong on purpose is refused.
 */
import { readdirSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { changedText, type LineChange, lineChange } from '../../server/src/core/features/formatEdits.ts';
import { type Formatted, formatProgram } from '../../server/src/core/features/formatProgram.ts';
import { harm, type ProofSource } from '../../server/src/core/features/formatProof.ts';
import { DEFAULT_STYLE, type FormatStyle } from '../../server/src/core/features/formatStyle.ts';
import { renumber } from '../../server/src/core/features/renumber.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { Mode } from '../../server/src/core/machine/modes.ts';
import { EXTRA_WIDTH } from '../../server/src/core/machine/moves.ts';
import { PROFILES } from '../../server/src/core/machine/profile.ts';
import { readProgram } from '../../server/src/entries/cli/programFile.ts';
import { ShopFileFinder } from '../../server/src/entries/cli/shopFile.ts';
import { SubprogramFolders } from '../../server/src/entries/cli/subprogramFolder.ts';
import { seeded } from '../bench/program.ts';
import { pick } from '../harness/randomEdits.ts';
import { composedProgram } from './composed.ts';
import { generatedPrograms } from './generated.ts';

const FOLDER = fileURLToPath(new URL('programs/', import.meta.url));
const stored = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(?:nc|ngc)$/.test(name))
  .sort();
const shopFiles = new ShopFileFinder({});
const subprograms = new SubprogramFolders();

const sourceOf = (
  text: string,
  configuration: ProofSource['configuration'],
  host?: ProofSource['host'],
): ProofSource => {
  const analysis = new Analysis(text, configuration, host);
  // What is found when nobody types has no part in it.
  analysis.runSlice(Number.POSITIVE_INFINITY);
  return { analysis, configuration, host };
};

const storedSource = async (name: string): Promise<ProofSource> => {
  const file = `${FOLDER}${name}`;
  const { configuration } = shopFiles.for(file);
  const host = subprograms.hostFor(file, configuration.profile.colon !== 'alignment');
  return sourceOf((await readProgram(file)).text, configuration, host);
};

const done = <Outcome>(steps: Generator<undefined, Outcome>): Outcome => {
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
};

const styleOf = (random: () => number): FormatStyle => ({
  spacing: pick(random, ['space', 'none', 'keep']),
  letterCase: pick(random, ['upper', 'lower', 'keep']),
  leadingZero: pick(random, ['keep', 'write', 'omit']),
  trailingPoint: pick(random, ['keep', 'write', 'omit']),
  trailingZeros: pick(random, ['keep', 'trim']),
  wordOrder: pick(random, ['keep', 'sort']),
  sequenceNumbers: pick(random, ['keep', 'add', 'renumber', 'remove']),
});

const NUMBERS = { start: 10, step: 10 };
const REMARKS = /\([^)]*\)?|;.*/g;

/** Stops and ends with their lines, looked for in the text itself. */
const stopsOf = (text: string): string[] =>
  text.split(/\r\n|\r|\n/).flatMap((line, at) =>
    [
      ...line
        .replace(REMARKS, '')
        .replace(/\s+/g, '')
        .matchAll(/M0*(?:0|1|2|30|99)(?!\d)/gi),
    ].map(() => `${at}`),
  );

/** Moves with their lines, ends, arcs, further axes, feeds and speeds, straight from the tables: not by the proof's own comparison. */
const movesOf = (analysis: Analysis): string => {
  const pool = analysis.modePool;
  const parts: unknown[] = [];
  for (const { segment, firstLine } of analysis.passages()) {
    const { moves: table } = segment;
    for (let i = 0; i < table.count; i++) {
      const modes = [Mode.feed, Mode.speed, Mode.tool, Mode.offset, Mode.spindle, Mode.coolant, Mode.plane];
      const [x, y, z] = table.ends.subarray(i * 3, i * 3 + 3);
      parts.push(
        table.lines[i] + firstLine,
        table.kinds[i],
        x,
        y,
        z,
        ...modes.map((mode) => pool.at(table.modes[i], mode)),
      );
    }
    parts.push(...table.extras.subarray(0, table.extraCount * EXTRA_WIDTH), ...table.others);
  }
  return parts.join();
};

/** Formats in a style and checks what must hold of the outcome; the formatted text. */
const expectHarmless = (source: ProofSource, style: FormatStyle, name: string): Formatted => {
  const text = source.analysis.text();
  const formatted = done(formatProgram(source, style, NUMBERS));
  if ('refusal' in formatted) return formatted;
  const after = changedText(source.analysis, formatted.changes);
  expect(stopsOf(after), name).toEqual(stopsOf(text));
  const again = sourceOf(after, source.configuration, source.host);
  expect(movesOf(again.analysis) === movesOf(source.analysis), name).toBe(true);
  const twice = done(formatProgram(again, style, NUMBERS));
  expect('refusal' in twice ? twice.refusal : twice.changes, name).toEqual([]);
  return formatted;
};

describe('right programs in random styles', () => {
  it.each(stored)('%s does the same, and stays as it is the second time', async (name) => {
    const source = await storedSource(name);
    for (const style of [DEFAULT_STYLE, styleOf(seeded(stored.indexOf(name)))]) {
      const formatted = expectHarmless(source, style, JSON.stringify(style));
      expect('refusal' in formatted ? formatted.refusal : undefined).toBeUndefined();
    }
  });

  it('of which some are not written so already, and all are in a style of nobody', async () => {
    const strange: FormatStyle = { ...DEFAULT_STYLE, spacing: 'none', letterCase: 'lower', sequenceNumbers: 'add' };
    const changedBy = async (style: FormatStyle): Promise<number> => {
      let changed = 0;
      for (const name of stored) {
        const formatted = done(formatProgram(await storedSource(name), style, NUMBERS));
        if (!('refusal' in formatted) && formatted.changes.length > 0) changed++;
      }
      return changed;
    };
    expect(await changedBy(DEFAULT_STYLE)).toBeGreaterThan(4);
    expect(await changedBy(strange)).toBe(stored.length);
  });

  it('of many hands do the same', () => {
    const random = seeded(6);
    for (let seed = 1; seed <= 40; seed++) {
      const { program, profile } = composedProgram(seed);
      const source = sourceOf(program, { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] });
      const style = styleOf(random);
      const formatted = expectHarmless(source, style, `${seed} ${JSON.stringify(style)}`);
      expect('refusal' in formatted ? formatted.refusal : undefined, `${seed}`).toBeUndefined();
    }
  });

  it('of thousands of moves do the same', () => {
    const random = seeded(7);
    for (const { profile, program, name } of generatedPrograms(3)) {
      const source = sourceOf(program, { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] });
      const formatted = expectHarmless(source, styleOf(random), name);
      expect('refusal' in formatted ? formatted.refusal : undefined, name).toBeUndefined();
    }
  });
});

/** A program of jumps at random: block numbers in any order, some twice, some that nothing leads to, loops that end by a count. */
const jumpingProgram = (random: () => number): string => {
  const lines = ['G21 G90', 'G0 X0. Y0.', ...Array.from({ length: 5 }, (_, i) => `#${i + 1}=0`)];
  const labels = [1, 2, 3, 5, 8, 13];
  for (let i = 0; i < 14; i++) {
    const number = random() < 0.5 ? `N${pick(random, labels)} ` : '';
    const counter = 1 + Math.floor(random() * 5);
    const kind = random();
    if (kind < 0.35) lines.push(`${number}G0 X${i}. Y#${counter}`);
    else if (kind < 0.55) lines.push(`${number}#${counter}=#${counter}+1`);
    else if (kind < 0.8) {
      lines.push(`#${counter}=#${counter}+1`, `${number}IF [#${counter} LT 3] GOTO ${pick(random, labels)}`);
    } else if (kind < 0.9) lines.push(`${number}GOTO ${pick(random, labels)}`);
    else lines.push(`${number}M98 P${pick(random, [7, 8])}`);
  }
  return [...lines, 'N1 M30', 'O7', 'N5 G91 G0 X0.5', 'N2 G90', 'M99', 'O8', 'G0 Z1.', 'M99 P1', ''].join('\n');
};

describe('block numbers of programs that jump at random', () => {
  it('are changed without another way, or left', () => {
    const random = seeded(9);
    let changed = 0;
    for (let trial = 0; trial < 300; trial++) {
      const text = jumpingProgram(random);
      const limits = { ...DEFAULT_CONFIGURATION.limits, steps: 5000 };
      const source = sourceOf(text, { ...DEFAULT_CONFIGURATION, limits });
      const how = pick(random, ['add', 'renumber', 'remove'] as const);
      const step = 1 + Math.floor(random() * 10);
      const outcome = done(renumber(source, how, { start: step, step }));
      if ('refusal' in outcome) continue;
      const after = changedText(source.analysis, outcome.changes);
      expect(movesOf(sourceOf(after, source.configuration).analysis), text).toBe(movesOf(source.analysis));
      if (after !== text) changed++;
    }
    expect(changed).toBeGreaterThan(60);
  });
});

/** Changes of one line that a formatter with a bug would make. */
const MUTANTS: readonly (readonly [string, (line: string) => string])[] = [
  ['loses a word', (line) => line.replace(/\s[XYZIJR]-?[\d.]+/i, '')],
  ['loses a sign', (line) => line.replace(/([XYZIJ])-/i, '$1')],
  ['loses a point', (line) => line.replace(/([XYZ]-?\d*)\.(?=\d)/i, '$1')],
  ['rounds', (line) => line.replace(/([XYZ]-?\d*\.\d*)\d/i, '$19')],
  ['exchanges letters', (line) => line.replace(/X(-?[\d.]+)\s*Y(-?[\d.]+)/i, 'Y$1 X$2')],
  ['exchanges codes', (line) => line.replace(/G0?1(?!\d)/i, 'G0')],
  ['takes another feed', (line) => line.replace(/F(\d+)/i, 'F$11')],
  ['takes another speed', (line) => line.replace(/S(\d+)/i, 'S$11')],
  ['makes a remark of it', (line) => `(${line.replace(/[()]/g, '')})`],
];

describe('what a formatter with a bug would write', () => {
  it('is refused wherever it changes the path', async () => {
    const random = seeded(8);
    let caught = 0;
    for (const name of stored.filter((_, i) => i % 3 === 0)) {
      const source = await storedSource(name);
      const { analysis } = source;
      const moves = movesOf(analysis);
      for (let trial = 0; trial < 12; trial++) {
        const line = Math.floor(random() * analysis.lineCount);
        const text = analysis.lineText(line);
        const [bug, write] = pick(random, MUTANTS);
        const wrong = text.startsWith('(') ? text : write(text);
        if (wrong === text) continue;
        const changes: LineChange[] = [lineChange(line, text, wrong)];
        const refused = done(harm(source, changes));
        const after = sourceOf(changedText(analysis, changes), source.configuration, source.host).analysis;
        if (movesOf(after) === moves) continue;
        caught++;
        expect(refused?.line, `${basename(name)} ${line + 1} ${bug}`).toBeDefined();
      }
    }
    expect(caught).toBeGreaterThan(60);
  });

  it.each([
    ['the order of two codes of a group', 'G90 G91 G0 X1.\nX2.\nM30\n', 0, 'G91 G90 G0 X1.', 'iso'],
    ['a point where the control counts increments', 'G0 X10\nM30\n', 0, 'G0 X10.', 'iso-macro'],
    ['a point of a wait', 'G0 X1.\nG4 P500\nM30\n', 1, 'G4 P500.', 'iso'],
    [
      'a jump to another block',
      '#1=0\nN1 #1=#1+1\nN2 G0 X#1\nIF [#1 LT 3] GOTO 1\nM30\n',
      3,
      'IF [#1 LT 3] GOTO 2',
      'iso',
    ],
    ['a mode that nothing uses here', 'G17 G0 X1.\nM30\n', 0, 'G18 G0 X1.', 'iso'],
    ['a variable', '#1=5.\nG0 X1.\nM30\n', 0, '#1=6.', 'iso'],
    ['more runs of a program', 'G0 X0.\nM98 P2 L2\nM30\nO2\nG91 G0 X1.\nM99\n', 1, 'M98 P2 L3', 'iso'],
    ['coolant', 'M8\nG0 X1.\nM30\n', 0, 'M9', 'iso'],
    ['a rotary axis', 'G0 A10.\nA20.\nM30\n', 1, 'A21.', 'iso'],
  ])('%s', (_what, program, line, wrong, profile) => {
    const source = sourceOf(program, { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] });
    const refused = done(harm(source, [lineChange(line, source.analysis.lineText(line), wrong)]));
    expect(refused?.why).toMatch(/^Line \d+ would/);
  });
});
