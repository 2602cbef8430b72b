import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { pick } from '../../../../tests/harness/randomEdits.ts';
import { seeded } from '../../../../tests/protocol/programs.ts';
import { Analysis } from '../checks/analysis.ts';
import type { SubprogramHost } from '../checks/flow/host.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { allOf, textOfFile } from './referencesText.ts';
import { type Renamed, type RenameEdit, renameAt, renamePlaceAt } from './rename.ts';
import { tracedMoves } from './trace.ts';

type Files = Readonly<Record<string, string>>;

const hostOf = (files: Files): SubprogramHost => ({
  lookup: (number) => {
    const text = Object.values(files).find((source) => new RegExp(`^O0*${number}(?!\\d)`).test(source));
    return text === undefined ? 'absent' : { text };
  },
});
/** Random jumps may lead in a ring: few steps are enough. */
const LIMITS = { ...DEFAULT_CONFIGURATION.limits, steps: 3000 };
const configurationOf = (profile: string) => ({
  ...DEFAULT_CONFIGURATION,
  limits: LIMITS,
  profile: PROFILES[profile],
});
const analysed = (text: string, profile: string, files: Files): Analysis => {
  const analysis = new Analysis(text, configurationOf(profile), hostOf(files));
  analysis.run();
  return analysis;
};

const edited = (text: string, edits: readonly RenameEdit[]): string => {
  const lines = text.split('\n');
  for (const { line, column, endColumn, text: by } of [...edits].sort((a, b) => b.column - a.column))
    lines[line] = lines[line].slice(0, column) + by + lines[line].slice(endColumn);
  return lines.join('\n');
};

interface Outcome {
  readonly text: string;
  readonly files: Files;
  readonly refusal: string;
}

const rename = (
  text: string,
  line: number,
  column: number,
  name: string,
  profile = 'iso',
  files: Files = {},
): Outcome => {
  const analysis = analysed(text, profile, files);
  const configuration = configurationOf(profile);
  const others = Object.entries(files).map(([file, source]) => ({
    name: file,
    text: textOfFile(source, configuration.profile),
  }));
  const found: Renamed | undefined = allOf(
    renameAt({ analysis, configuration, line, others, isWhole: true }, column, name),
  );
  if (found === undefined) return { text, files, refusal: 'nothing' };
  if ('refusal' in found) return { text, files, refusal: found.refusal };
  const changed = Object.fromEntries(
    others.map((other) => [other.name, edited(files[other.name], found.others.get(other) ?? [])]),
  );
  return { text: edited(text, found.own), files: changed, refusal: '' };
};

/** Renames at `|`. */
const at = (marked: string, name: string, profile?: string, files?: Files): Outcome => {
  const before = marked.slice(0, marked.indexOf('|')).split('\n');
  return rename(marked.replace('|', ''), before.length - 1, before[before.length - 1].length, name, profile, files);
};

describe('a variable', () => {
  it('by number and by name, in every place, not in remarks', () => {
    const text = '#100=1. (#100)\nG1 X#1|00 Y[#100*-#100] F100.\nIF [#100 EQ 1] THEN #100 = 2\n#1001=1';
    const wanted = '#120=1. (#100)\nG1 X#120 Y[#120*-#120] F100.\nIF [#120 EQ 1] THEN #120 = 2\n#1001=1';
    for (const name of ['#120', '120', ' 120 ']) expect(at(text, name)).toMatchObject({ text: wanted, refusal: '' });
    expect(at('#<A b>=1.\nX#<a|B>', 'wide').text).toBe('#<wide>=1.\nX#<wide>');
    expect(at('#<a>=1.\nX#<|a>', '#<the depth>').text).toBe('#<the depth>=1.\nX#<the depth>');
  });

  it.each([
    ['#101=1\n#102=2\nX#1|01 Y#102', '102', /#102 is in use already, in line 2/],
    ['X#52|21', '120', /#5221 is the control’s own/],
    ['#101=1\nX#1|01', '5221', /#5221 is the control’s own/],
    ['#501=1\nX#5|01', '120', /keeps its value/],
    ['#101=1\nX#1|01', '600', /keeps its value/],
    ['#101=1\nX#1|01', '50', /no variable #50/],
    ['#101=1\nX##2\nX#1|01', '120', /Line 2 names a variable by a computed number/],
    ['#101=1\nX#[#1+2]\nX#1|01', '120', /Line 2 names/],
    ['X#0|', '120', /#0 is always empty/],
    ['X#1|01', '120', /value comes from outside/],
    ['#101=#1|01+1\nX#101', '120', /read in line 1 before this program sets it/],
    ['#101=1\nX#1|01', 'depth', /is no name for #101/],
    ['#101=1\nX#1|01', '1 2', /is no name/],
    ['G65 P9 X1.\nM30\nO9\nX#2|4\nM99', '30', /letter X of the call in line 1/],
    ['G65 P9 X1.\nM30\nO9\n#30=1\nX#3|0\nM99', '24', /letter X of the call in line 1/],
    ['G65 P9 X1.\nM30\nO9\n#30=1\nX#3|0\nM99', '130', /belong to one macro alone/],
    ['O9\n#30=1\nX#3|0\nM99', '31', /no call of it is in this folder/],
    ['#101=1\nM98 P77\nX#1|01', '120', /O77 is called and is not in this folder/],
    ['#101=1\n#3=5\nM98 P#3\nX#1|01', '120', /The call in line 3 computes/],
  ] as const)('%j to %s is refused', (text, name, why) => {
    const { refusal } = at(text, name);
    expect(refusal).toMatch(why);
    expect(refusal.split(/[.?] /).length).toBeLessThanOrEqual(2);
  });

  it('of a macro changes in the macro alone', () => {
    const text = '#30=7.\nG65 P9 X1.\nX#30\nM30\nO9\n#30=1\nX#3|0\nM99';
    expect(at(text, '31').text).toBe('#30=7.\nG65 P9 X1.\nX#30\nM30\nO9\n#31=1\nX#31\nM99');
  });

  it('is refused where a file that runs together with this one uses it', () => {
    const files = { 'SUB.NC': 'O77\nX#101\nM99', 'ALONE.NC': 'O5\n#101=3' };
    expect(at('#101=1\nM98 P77\nX#1|01', '120', 'iso', files).refusal).toMatch(/used in line 2 of SUB\.NC/);
    expect(at('#101=1\nX#1|01', '120', 'iso', files).refusal).toBe('');
    const caller = { 'MAIN.NC': 'O1\n#120=3\nM98 P77\nM30' };
    expect(at('O77\n#101=1\nX#1|01\nM99', '120', 'iso', caller).refusal).toMatch(/#120 is used in line 2 of MAIN\.NC/);
  });
});

describe('a sequence number', () => {
  const TEXT = 'N1|0 G0 X1.\nIF [1 EQ 2] GOTO 10\nGO TO 10 (10)\nM30\nO2\nN10\nGOTO 10\nM99';

  it('with its jumps, in its own program', () => {
    const wanted = 'N120 G0 X1.\nIF [1 EQ 2] GOTO 120\nGO TO 120 (10)\nM30\nO2\nN10\nGOTO 10\nM99';
    for (const name of ['120', 'N120', 'n120']) expect(at(TEXT, name).text).toBe(wanted);
    expect(at('N10 X1.\nGOTO 1|0', '5').text).toBe('N5 X1.\nGOTO 5');
    expect(at('T1 M6\nN10 X1.\nM99 P1|0', '5').text).toBe('T1 M6\nN5 X1.\nM99 P5');
  });

  it.each([
    ['N1|0\nN20', '20', /N20 is in use already, in line 2/],
    ['N1|0\nN10\nGOTO 10', '20', /stands in lines 1 and 2/],
    ['N1|0\nGOTO #1', '20', /jump in line 2 computes/],
    ['N1|0\nGOTO [5+5]', '20', /jump in line 2 computes/],
    ['N1|0\nM98 P9\nM30\nO9\nM99 P10', '20', /M99 P in line 5 comes back/],
    ['N1|0\nM98 P9\nM30\nO9\nM99 P20', '20', /M99 P in line 5 comes back/],
    ['N10\nM98 P9\nM30\nO9\nM99 P1|0', '20', /Rename it there/],
    ['N1|0\nGOTO 20', '20', /leads to N20, which is missing/],
    ['N1|0', 'TEN', /no sequence number/],
    ['N1|0', '123456789', /up to N99999999/],
    ['#1=10\nN10\nGOTO #|1', 'x', /is no name/],
    ['GOTO 1|0', '20', /No block of this program/],
  ] as const)('%j to %s is refused', (text, name, why) => expect(at(text, name).refusal).toMatch(why));

  it('that a subprogram of another file comes back to is refused', () => {
    const files = { 'SUB.NC': 'O77\nM99 P10' };
    expect(at('N1|0\nM98 P77\nM30', '20', 'iso', files).refusal).toMatch(/line 2 of SUB\.NC/);
    expect(at('N1|0\nM30', '20', 'iso', files).refusal).toBe('');
  });
});

describe('a program number', () => {
  it('with its calls in this file', () => {
    expect(at('M98 P20 L3\nG65 P2|0 X1.\nM66 P20\nM30\nO0020\nM99', '30').text).toBe(
      'M98 P30 L3\nG65 P30 X1.\nM66 P20\nM30\nO0030\nM99',
    );
    expect(at('M98 P30020\nM30\nO2|0\nM99', 'O1234', 'iso-macro').text).toBe('M98 P31234\nM30\nO1234\nM99');
    expect(at('M98 P30020\nM30\nO2|0\nM99', '7', 'iso-macro').text).toBe('M98 P30007\nM30\nO7\nM99');
  });

  it('with its calls in other files, and its head there', () => {
    const files = {
      'SUB.NC': '%\nO20 (SUB)\nM98 P20\nM99',
      'B.NC': 'O3\nM98 P20\nM30',
      'OWN.NC': 'O4\nM98 P20\nM30\nO20\nM99',
    };
    const renamed = at('O1\nM98 P2|0\nM30', '50', 'iso', files);
    expect(renamed).toMatchObject({ refusal: '', text: 'O1\nM98 P50\nM30' });
    expect(renamed.files).toEqual({
      'SUB.NC': '%\nO50 (SUB)\nM98 P50\nM99',
      'B.NC': 'O3\nM98 P50\nM30',
      'OWN.NC': files['OWN.NC'],
    });
    expect(at('O1\nM98 P20\nM30\nO2|0\nM99', '50', 'iso', files).files).toEqual(files);
  });

  it.each([
    ['M98 P2|0\nM30\nO20\nM99\nO30\nM99', '30', {}, /O30 is in use already, in line 5/],
    ['O2|0\nM99', '30', { 'A.NC': 'O30' }, /line 1 of A\.NC/],
    ['O2|0\nM99', '30', { 'O30.NC': 'X1.' }, /by the name of O30\.NC/],
    ['O2|0\nM99', '30', { 'A.NC': 'O9\nM98 P30' }, /called in line 2 of A\.NC/],
    ['O2|0\nM99', '30', { 'A.NC': 'O9\nM98 P20\nM98 P30\nM30\nO20\nM99' }, /called in line 3 of A\.NC/],
    ['O2|0\nM99', '30', { 'A.NC': 'O30\nM98 P20\nM30\nO20\nM99' }, /at the head of A\.NC/],
    ['O2|0\nM99', '30', { 'A.NC': 'O9\nM98 P#1' }, /computes its program number/],
    ['O2|0\nM99', '30', { 'A.NC': 'O20\nM99' }, /at the head of this file and A\.NC/],
    ['M98 P2|0', '30', { 'O20.NC': 'X1.\nM99' }, /by the name of its file alone/],
    ['M98 P2|0', '30', {}, /nowhere to be found/],
    ['M98 P2|0\nM30\nO20\nM99\nO20\nM99', '30', {}, /line 3 and line 5/],
    ['O2|0', 'O', {}, /no program number/],
    ['O2|0', '123456789', {}, /up to 8 digits/],
  ] as const)('%j to %s is refused', (text, name, files, why) =>
    expect(at(text, name, 'iso', files).refusal).toMatch(why),
  );
});

it('says what is under the cursor, and refuses at once what has no name of its own', () => {
  const place = (text: string, column: number) =>
    renamePlaceAt(analysed(text, 'iso', {}), DEFAULT_CONFIGURATION, 0, column);
  expect(place('N10 X1.', 1)).toEqual({ column: 1, endColumn: 3, placeholder: '10' });
  expect(place('X#< Ab >', 4)).toEqual({ column: 1, endColumn: 8, placeholder: '#<ab>' });
  expect(place('X#5221', 4)).toHaveProperty('refusal');
  expect(place('GOTO #1', 2)).toHaveProperty('refusal');
  expect(place('X10. F5.', 1)).toBeUndefined();
  expect(place('(#100)', 3)).toBeUndefined();
  expect(place('', 0)).toBeUndefined();
});

/** The whole path with its lines, and the last state. */
const pathOf = (text: string, profile: string, files: Files): unknown => {
  const analysis = analysed(text, profile, files);
  const last = analysis.stateAfter(analysis.lineCount - 1);
  return {
    moves: [...tracedMoves(analysis, { firstLine: 0 })],
    stopped: analysis.stopped?.line,
    position: [...last.position],
  };
};

describe('a rename never changes what the program does', () => {
  const EXAMPLES = new URL('../../../../examples/', import.meta.url);

  it.each(readdirSync(EXAMPLES).filter((name) => name.endsWith('.nc')))('%s', (name) => {
    const text = readFileSync(new URL(name, EXAMPLES), 'utf8');
    const profile = 'iso';
    const before = pathOf(text, profile, {});
    const places = new Set<string>();
    text.split('\n').forEach((line, index) => {
      for (const { index: column } of line.matchAll(/#\d+|\bN\d+|^O\d+|GOTO \d+|P\d{4}/g))
        places.add(`${index} ${column}`);
    });
    let renamed = 0;
    for (const place of [...places].slice(0, 25)) {
      const [line, column] = place.split(' ').map(Number);
      const skip = /^(GOTO |P)/.exec(text.split('\n')[line].slice(column))?.[0].length ?? 1;
      const outcome = rename(text, line, column + skip, '177', profile);
      if (outcome.refusal !== '') continue;
      renamed++;
      expect(pathOf(outcome.text, profile, {}), `${place} ${outcome.text}`).toEqual(before);
    }
    if (/#|GOTO/.test(text)) expect(renamed).toBeGreaterThan(0);
  });

  it('random programs with loops, jumps, calls and macros', () => {
    const random = seeded(7);
    let renamed = 0;
    let refused = 0;
    for (let round = 0; round < 500; round++) {
      const { text, files } = randomProgram(random);
      const lines = text.split('\n');
      const names = lines.flatMap((source, at) =>
        [...source.matchAll(/(?<=#)[\d<]|(?<=[NOP]|GOTO )\d/g)].map(({ index }) => [at, index] as const),
      );
      const [line, column] = pick(random, names);
      const profile = pick(random, ['iso', 'iso-macro']);
      const name = pick(random, namesFor(lines[line].slice(0, column + 1)));
      const outcome = rename(text, line, column, name, profile, files);
      if (outcome.refusal !== '') {
        refused++;
        continue;
      }
      if (outcome.text === text) continue;
      renamed++;
      const told = `${text}\n--- ${line}:${column} → ${name}\n${outcome.text}\n${JSON.stringify(files)}`;
      expect(pathOf(outcome.text, profile, outcome.files), told).toEqual(pathOf(text, profile, files));
    }
    expect(renamed).toBeGreaterThan(80);
    expect(refused).toBeGreaterThan(100);
  });
});

/** New names that fit what stands before the cursor, some of them taken. */
const namesFor = (before: string): readonly string[] => {
  if (before.includes('<')) return ['#<b>', '#<c>', 'wide', '#120'];
  if (/#\d$/.test(before)) return ['#101', '#102', '#140', '5', '#3', '#31', '#120', '24'];
  return ['10', '20', '30', '77', '88', '90', '120', '5'];
};

const LINES: readonly string[] = [
  '#101=#101+1.',
  '#101=3.',
  '#102=#101*2.',
  '#3=#3+1.',
  '#3=2.',
  '#<a>=#101+1.',
  '#<b>=4.',
  'G1 X#101 Y#3 F100.',
  'G1 X#<a> Y#<b> F100.',
  'G1 X[#102-#101] Y#24 F200.',
  'G0 X#26 Z5.',
  'IF [#101 GT 2] GOTO 20',
  'IF [#101 LT 9] GOTO 10',
  'IF [#3 EQ 2] GOTO 20',
  'IF [#101 LT 3] THEN #102=9.',
  'M98 P77',
  'M98 P90 L2',
  'G65 P77 X1. Z3.',
  'G65 P88 A2.',
  'G1 X7. F#101',
];

const randomProgram = (random: () => number): { text: string; files: Files } => {
  const some = (count: number): string[] => Array.from({ length: count }, () => pick(random, LINES));
  const body = ['O1', '#101=1.', '#3=1.', ...some(4), 'N10 G1 X1. F100.', ...some(4), 'N20 X2.', ...some(2)];
  if (random() < 0.5) body.push('#104=0', 'WHILE [#104 LT 3] DO1', ...some(2), '#104=#104+1.', 'END1');
  if (random() < 0.1) body.push('X##3');
  body.push('M30');
  const sub = ['O77', ...some(2).filter((line) => !/P77|GOTO/.test(line)), pick(random, ['M99', 'M99', 'M99 P20'])];
  const files: Record<string, string> = {};
  if (random() < 0.5) files['S.NC'] = ['O88', ...some(2).filter((line) => !/P|GOTO/.test(line)), 'M99'].join('\n');
  if (random() < 0.5) files['T.NC'] = 'O90\nG1 X9. F50.\nM99';
  return { text: [...body, ...sub].join('\n'), files };
};
