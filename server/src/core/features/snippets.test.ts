/**
 * The plain forms run without a finding as they come out, and the files for editors are the same list.
 * `UPDATE_GOLDEN=1` writes the files anew.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { BLOCKS, blockByName } from '../blocks/registry.ts';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { type ControlProfile, DEFAULT_PROFILE, PROFILES } from '../machine/profile.ts';
import type { Snippet } from './snippetForm.ts';
import { SNIPPETS, snippetLines } from './snippets.ts';
import { tracedMoves } from './trace.ts';

const FOLDER = new URL('../../../../snippets/', import.meta.url);

/** A snippet as it stands when every stop is left as it is. */
const filledIn = (snippet: Snippet, inch: boolean, profile: ControlProfile): string[] => {
  const defaults = new Map<string, string>();
  return snippetLines(snippet, inch, profile).map((line) =>
    line.replace(/\$\{(\d+):([^}]*)\}|\$(\d+)/g, (_, place: string | undefined, own: string, copy: string) => {
      if (place === undefined)
        return copy === '0' ? '' : (defaults.get(copy) ?? expect.fail(`$${copy} has no default`));
      expect(defaults.has(place), `stop ${place} is written twice`).toBe(false);
      defaults.set(place, own);
      return own;
    }),
  );
};

const HEAD = (inch: boolean): string[] => [
  'O1000',
  inch ? 'G20' : 'G21',
  'G17 G40 G49 G80 G90 G94 G98',
  'G54',
  'T5 M6',
  'S1000 M3',
  'G0 G54 X0. Y0.',
  `G43 Z${inch ? '1.5' : '30.'} H5`,
  'M8',
];
const END = ['M9', 'M5', 'G91 G28 Z0.', 'G90', 'M30'];
const CUT = ['G1 Z-1. F100.', 'G0 Z50.'];

/** The program that a snippet belongs into, with the snippet as it comes out. */
const programWith = (snippet: Snippet, inch: boolean, profile = DEFAULT_PROFILE): string[] => {
  const lines = filledIn(snippet, inch, profile);
  switch (snippet.prefix) {
    case 'start-plain':
      return [...lines, ...HEAD(inch).slice(4), ...CUT, ...END];
    case 'tool-plain':
      return [...HEAD(inch).slice(0, 4), ...lines, ...CUT, ...END];
    case 'end-plain':
      return [...HEAD(inch), ...CUT, ...lines];
    case 'subprogram-plain':
      return [...HEAD(inch), ...CUT, 'M98 P1001', ...END, ...lines];
    case 'call':
      return [...HEAD(inch), ...CUT, ...lines, ...END, 'O1001', 'G90', 'M99'];
    case 'loop':
      return [...HEAD(inch), ...lines.map((line) => (line === '' ? 'G91 G0 X1.\nG90' : line)), ...CUT, ...END];
    default:
      return [...HEAD(inch), ...lines, ...END];
  }
};

const under = (profile: string, lines: readonly string[]) => {
  const analysis = new Analysis([...lines, ''].join('\n'), { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] });
  while (!analysis.settle(1000));
  return analysis;
};

const CASES = SNIPPETS.flatMap((snippet) =>
  Object.entries(PROFILES)
    .filter(([, profile]) => profile.flow || snippet.needsFlow !== true)
    .flatMap(([name]) => [false, true].map((inch) => [snippet.prefix, name, inch ? 'inch' : 'mm', snippet] as const)),
);

describe('each snippet with its stops left as they are', () => {
  it.each(CASES)('%s runs under %s in %s with no error and no warning', (prefix, profile, units, snippet) => {
    const lines = programWith(snippet, units === 'inch', PROFILES[profile]).flatMap((line) => line.split('\n'));
    const analysis = under(profile, lines);
    const grave = analysis
      .findings()
      .findings.filter(({ severity, rule }) => severity !== 'hint' || rule === 'unknown-code')
      .map(({ rule, line, message }) => `${rule} "${lines[line]}" ${message}`);
    expect(grave).toEqual([]);
    expect(analysis.stopped).toBeUndefined();
    const after = analysis.stateBefore(lines.indexOf('M30'));
    expect(after.modes[Mode.distance], `${prefix} leaves G90 on`).toBe(90);
  });
});

describe('what the snippets do', () => {
  const run = (prefix: string, behind: string) => {
    const snippet = SNIPPETS.find((one) => one.prefix === prefix) ?? expect.fail(prefix);
    const lines = programWith(snippet, false);
    return under('iso', lines).stateBefore(lines.indexOf(behind));
  };

  it('the helix comes back to its centre above the work', () => {
    expect([...run('helical-plain', 'M9').position.slice(0, 3)]).toEqual([0, 0, 10]);
  });

  it.each([
    ['round-plain', [0, 0, 10]],
    ['chamfer-plain', [0, 0, 10]],
    ['boss-plain', [5, 0, 10]],
    ['cleartap-plain', [0, 0, 10]],
  ])('%s ends above %j', (prefix, place) => {
    const { position } = run(prefix, 'M5');
    for (const axis of [0, 1, 2]) expect(position[axis]).toBeCloseTo(place[axis], 9);
  });

  it.each([
    ['round-plain', -3, 15],
    ['pocket-plain', -1, 25],
    ['slot-plain', -1, 40],
    ['face-plain', -0.5, 130],
    ['chamfer-plain', -1.5, 8],
    ['boss-plain', -3, 5],
    ['cleartap-plain', -2 - 33 * 0.03, 0.7],
  ])('%s goes down to %d and out to X%d', (prefix, depth, reach) => {
    const snippet = SNIPPETS.find((one) => one.prefix === prefix) ?? expect.fail(prefix);
    const moves = [...tracedMoves(under('iso', programWith(snippet, false)), {})].filter(
      ({ kind }) => kind !== 'rapid',
    );
    expect(Math.min(...moves.map(({ to }) => to[2]))).toBeCloseTo(depth, 6);
    expect(Math.max(...moves.map(({ to }) => to[0]))).toBeCloseTo(reach, 6);
  });

  it('the thread is a pitch and a half higher behind its turn: P/4 on each half circle', () => {
    const snippet = SNIPPETS.find(({ prefix }) => prefix === 'threadmill-plain') ?? expect.fail();
    const lines = programWith(snippet, false);
    const { position } = under('iso', lines).stateBefore(lines.indexOf('G90', 9) + 1);
    expect(position[0]).toBeCloseTo(0, 9);
    expect(position[2]).toBeCloseTo(-10 + 1.5 * 1.5, 9);
  });

  it('a subprogram comes back behind its call', () => {
    expect(run('call', 'M9').position[2]).toBe(50);
  });
});

describe('the names', () => {
  it('never are those of a block’s form, and no two are the same', () => {
    const prefixes = SNIPPETS.map(({ prefix }) => prefix);
    expect(new Set(prefixes).size).toBe(prefixes.length);
    expect(prefixes.filter((prefix) => BLOCKS.some((kind) => kind.prefix === prefix))).toEqual([]);
  });

  it('begin with the prefix of the block whose plain form they are, and say so', () => {
    const plain = SNIPPETS.filter(({ block }) => block !== undefined);
    expect(plain.length).toBeGreaterThan(0);
    for (const { prefix, name, block = '' } of plain) {
      expect(prefix).toMatch(new RegExp(`^${(blockByName(block) ?? expect.fail(block)).prefix}.*-plain$`));
      expect(name).toMatch(/ \(plain\)$/);
    }
  });
});

const bodies = (withPrefix: boolean): object =>
  Object.fromEntries(
    SNIPPETS.map((snippet) => [
      snippet.name,
      {
        ...(withPrefix ? { prefix: snippet.prefix } : {}),
        body: snippetLines(snippet, false, DEFAULT_PROFILE),
        description: snippet.description,
      },
    ]),
  );

describe('snippets/', () => {
  // Without a prefix VS Code shows them by its command "Insert Snippet" only: at S, T or H of a word such as S2000 they
  // would pop up, and keep those of the server away.
  it.each([
    ['cnc-program.json, for VS Code', 'cnc-program.json', false],
    ['with-prefixes.json, for other editors', 'with-prefixes.json', true],
  ])('%s, holds the list in millimetres', (_, name, withPrefix) => {
    const file = new URL(name, FOLDER);
    const right = bodies(withPrefix);
    if (process.env.UPDATE_GOLDEN === '1') writeFileSync(file, `${JSON.stringify(right, null, 2)}\n`);
    expect(JSON.parse(readFileSync(file, 'utf8')), 'the file is old: run with UPDATE_GOLDEN=1').toEqual(right);
  });
});
