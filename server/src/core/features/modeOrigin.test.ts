/** The word that is found must say what is in force: over stored, composed and random programs. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { composedProgram } from '../../../../tests/corpus/composed.ts';
import { pick, pieces } from '../../../../tests/harness/randomEdits.ts';
import { seeded } from '../../../../tests/protocol/programs.ts';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { PROFILES } from '../machine/profile.ts';
import { splitIntoChunks } from '../text/lineChunk.ts';
import { definitionAt } from './definition.ts';
import { highlightsAt } from './highlights.ts';
import { RunBack } from './modeOrigin.ts';
import { ChunkDigest } from './modeOriginDigest.ts';
import type { OriginMode } from './modeOriginFinders.ts';
import { referencesAt } from './references.ts';
import { allOf } from './referencesText.ts';
import { renamePlaceAt } from './rename.ts';

const configurationOf = (profile: string): Configuration => ({
  ...DEFAULT_CONFIGURATION,
  profile: PROFILES[profile],
  limits: { ...DEFAULT_CONFIGURATION.limits, steps: 20_000 },
});

/** What a mode's number should be after the block that set it, and the number that the origin's word says. */
const CHECKED: readonly { readonly mode: OriginMode; readonly field: number; readonly codes: number }[] = [
  { mode: 'feed', field: Mode.feed, codes: 0 },
  { mode: 'speed', field: Mode.speed, codes: 0 },
  { mode: 'tool', field: Mode.tool, codes: 0 },
  { mode: 'plane', field: Mode.plane, codes: 1 },
  { mode: 'distance', field: Mode.distance, codes: 1 },
  { mode: 'offset', field: Mode.offset, codes: 10 },
  { mode: 'retract', field: Mode.retract, codes: 1 },
];

/** Checks some lines of a program; returns how many places were found. */
const checkOrigins = (text: string, profile: string, random: () => number, count: number): number => {
  const configuration = configurationOf(profile);
  const analysis = new Analysis(text, configuration);
  analysis.run();
  const run = new RunBack(analysis, configuration);
  let found = 0;
  for (let i = 0; i < count; i++) {
    const line = Math.floor(random() * analysis.lineCount);
    if (!analysis.isReached(line)) continue;
    const now = analysis.stateAfter(line).modes;
    if (now[Mode.ended] === 1) continue;
    for (const { mode, field, codes } of CHECKED) {
      const origin = run.ofMode(line, mode);
      if (origin === undefined) continue;
      found++;
      const word = analysis.lineText(origin.line).slice(origin.column, origin.endColumn);
      // Its value is another one in another pass.
      if (/[#[]/.test(word)) continue;
      const then = analysis.stateAfter(origin.line).modes[field];
      const told = `${mode} at line ${line + 1} from line ${origin.line + 1} of\n${text}`;
      expect(now[field], told).toBe(then);
      if (codes > 0 && /^[A-Z]\s*\d+(\.\d)?$/i.test(word) && mode !== 'offset')
        expect(now[field], told).toBe(Number(word.slice(1)));
    }
  }
  return found;
};

describe('the place that is found has what is in force', () => {
  const EXAMPLES = new URL('../../../../examples/', import.meta.url);
  it.each(readdirSync(EXAMPLES).filter((name) => name.endsWith('.nc')))('%s', (name) => {
    const text = readFileSync(new URL(name, EXAMPLES), 'utf8');
    expect(checkOrigins(text, 'iso', seeded(3), 60)).toBeGreaterThan(60);
  });

  it('composed programs', () => {
    const random = seeded(5);
    for (let seed = 1; seed <= 5; seed++) {
      const { program, profile } = composedProgram(seed) as { program: string; profile?: string };
      expect(checkOrigins(program, profile ?? 'iso', random, 30), String(seed)).toBeGreaterThan(20);
    }
  });

  it('random programs with calls and jumps', () => {
    const random = seeded(11);
    let found = 0;
    for (let round = 0; round < 150; round++) {
      const text = ['O1', ...randomLines(random, 8, true), 'M30', 'O20', ...randomLines(random, 3), 'M99'].join('\n');
      found += checkOrigins(`${text}\nO30\n${randomLines(random, 3).join('\n')}\nM99`, 'iso', random, 6);
    }
    expect(found).toBeGreaterThan(1000);
  });
});

const LINES: readonly string[] = [
  'G1 X1. F100.',
  'G1 X2. F200.',
  'X3.',
  'S500 M3',
  'T1 M6',
  'T2 M6 (DRILL)',
  'G91 X1.',
  'G90',
  'G18',
  'G17',
  'G55',
  'G54 F50.',
  'G99',
  '(F999 G91)',
  'F70. G90 S800',
];

const randomLines = (random: () => number, count: number, calls = false): string[] => {
  const lines = Array.from({ length: count }, () => pick(random, LINES));
  if (!calls) return lines;
  for (let i = 0; i < 3; i++)
    lines.splice(Math.floor(random() * lines.length), 0, pick(random, ['M98 P20', 'M98 P30']));
  const at = Math.floor(random() * lines.length);
  lines.splice(at, 0, 'GOTO 50');
  lines.splice(at + 1 + Math.floor(random() * (lines.length - at)), 0, 'N50');
  return lines;
};

it('no text and no place makes them stumble', () => {
  const random = seeded(21);
  const words = [
    '#1',
    '#<a',
    '##2=',
    'GOTO',
    'N',
    'O',
    'M98',
    'P',
    'G65',
    '(',
    ')',
    '[',
    ']',
    '%',
    '\n',
    ' ',
    '1',
    '10',
    'M99',
    'WHILE',
    'DO1',
    'END1',
    'F',
    'G1',
    'X',
    '=',
    'T1',
    'M6',
    ';',
    '/',
    ':',
    '.',
    '-',
    '\r\n',
    'é',
  ];
  for (let round = 0; round < 500; round++) {
    const text = pieces(random, words, 20);
    const configuration = configurationOf(pick(random, ['iso', 'iso-macro', 'rs274ngc']));
    const analysis = new Analysis(text, configuration);
    analysis.run();
    const line = Math.floor(random() * analysis.lineCount);
    const column = Math.floor(random() * (analysis.lineText(line).length + 1));
    for (const place of [
      ...(definitionAt(analysis, configuration, line, column)?.places ?? []),
      ...(allOf(referencesAt(analysis, configuration, line, column, 100))?.places ?? []),
      ...(allOf(highlightsAt(analysis, configuration, line, column)) ?? []),
    ]) {
      expect(place.endColumn, text).toBeLessThanOrEqual(analysis.lineText(place.line).length);
      expect(place.column, text).toBeLessThanOrEqual(place.endColumn);
    }
    renamePlaceAt(analysis, configuration, line, column);
  }
});

it('the digest of a chunk names all letters and codes that are there', () => {
  const digest = (text: string) => new ChunkDigest(splitIntoChunks(text, true)[0]);
  const some = digest('g 5 4.1 X1.\nM0098 P#1 m6');
  expect([54, 1, 0, 98].map((code) => some.hasG(code))).toEqual([true, false, false, false]);
  expect([98, 6, 99].map((code) => some.hasM(code))).toEqual([true, true, false]);
  expect(some.hasVariables).toBe(true);
  expect(some.hasCalls).toBe(true);
  expect([23, 15, 5].map((letter) => some.hasLetter(letter))).toEqual([true, true, false]);
  const none = digest('N10 X1.5 Y-3 Z[1+2]\n');
  expect([none.hasVariables, none.hasCalls, none.hasG(0)]).toEqual([false, false, false]);
  expect(digest('G#1').hasG(17)).toBe(true);
  expect(digest('G[1+1]').hasM(17)).toBe(false);
});
