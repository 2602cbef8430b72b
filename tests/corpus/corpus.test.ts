/**
 * Programs that are right, written in many hands: nobody may be told of an error in them, and of little else. Each runs
 * under the nearest `blockwright.json`, with the subprograms beside it, as on the command line. Parts, machines and tools
 * are invented; the programs were computed by hand.
 */
import { readdirSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { Analysis, type Finding } from '../../server/src/core/checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { PROFILES } from '../../server/src/core/machine/profile.ts';
import { readProgram } from '../../server/src/entries/cli/programFile.ts';
import { ShopFileFinder } from '../../server/src/entries/cli/shopFile.ts';
import { SubprogramFolders } from '../../server/src/entries/cli/subprogramFolder.ts';
import { composedProgram } from './composed.ts';
import { generatedPrograms } from './generated.ts';

const FOLDER = fileURLToPath(new URL('programs/', import.meta.url));
/** Hints that a right program may get, by its number of lines. */
const MOST_HINTS = 2;
const LINES_A_WARNING = 100;
/** Programs of steps from a place that only the machine knows: they have no path. */
const STARTS_WHERE_IT_STANDS: readonly string[] = ['all-incremental.nc', 'probe-a-bore.nc', 'sub-only-pocket.nc'];

const stored = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(?:nc|ngc)$/.test(name))
  .sort();
const shopFiles = new ShopFileFinder({});
const subprograms = new SubprogramFolders();

const analysed = (text: string, configuration: Configuration, file?: string): Analysis => {
  const host = file === undefined ? undefined : subprograms.hostFor(file, configuration.profile.colon !== 'alignment');
  const analysis = new Analysis(text, configuration, host);
  analysis.run();
  return analysis;
};

const read = async (name: string): Promise<{ text: string; configuration: Configuration; file: string }> => {
  const file = `${FOLDER}${name}`;
  const { text } = await readProgram(file);
  return { text, configuration: shopFiles.for(file).configuration, file };
};

const inWords = ({ line, rule, message }: Finding): string => `${line + 1} ${rule}: ${message}`;

/** Checks what holds for every right program. */
const expectRight = (analysis: Analysis): void => {
  const { findings } = analysis.findings();
  const of = (wanted: Finding['severity']) => findings.filter(({ severity }) => severity === wanted).map(inWords);
  expect(of('error')).toEqual([]);
  const warnings = of('warning');
  expect(warnings.length, warnings.join('\n')).toBeLessThanOrEqual(Math.floor(analysis.lineCount / LINES_A_WARNING));
  const hints = of('hint');
  expect(hints.length, hints.join('\n')).toBeLessThanOrEqual(MOST_HINTS);
  expect(analysis.stopped).toBeUndefined();
};

/** Moves of the path: a program without any would be right because nothing was executed. */
const movesOf = (analysis: Analysis): number => {
  let moves = 0;
  for (const { segment } of analysis.passages()) moves += segment.moves.count;
  return moves;
};

describe('right programs', () => {
  it('are many', () => {
    expect(stored.length).toBeGreaterThanOrEqual(40);
    expect(new Set(stored.map((name) => basename(name))).size).toBe(stored.length);
  });

  it.each(stored)('%s is left in peace', async (name) => {
    const { text, configuration, file } = await read(name);
    const analysis = analysed(text, configuration, file);
    expectRight(analysis);
    if (!STARTS_WHERE_IT_STANDS.includes(basename(name))) expect(movesOf(analysis)).toBeGreaterThan(0);
  });

  it.each([1, 20261125, 77])('of thousands of moves are left in peace, seed %i', (seed) => {
    for (const { profile, program } of generatedPrograms(seed)) {
      const analysis = analysed(program, { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] });
      expectRight(analysis);
      expect(movesOf(analysis)).toBeGreaterThan(300);
    }
  });
});

describe('right programs put together at random in the habits of many hands', () => {
  const seeds = Array.from({ length: 80 }, (_, i) => 1000 + i);
  it.each(seeds)('are left in peace, seed %i', (seed) => {
    const { program, profile, stock } = composedProgram(seed);
    for (const given of [{}, { stock }]) {
      const analysis = analysed(program, { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile], ...given });
      expectRight(analysis);
      expect(movesOf(analysis)).toBeGreaterThan(10);
    }
  });
});

describe('the same programs written otherwise', () => {
  const ways: readonly [string, (text: string) => string][] = [
    ['with CR and LF', (text) => text.replace(/\r?\n/g, '\r\n')],
    ['with CR alone', (text) => text.replace(/\r?\n/g, '\r')],
    ['in small letters', (text) => text.toLowerCase()],
    ['in capitals', (text) => text.toUpperCase()],
    ['with a delete slash nobody uses', (text) => text.replace(/^(?=[NXYGT]\d)/gm, '/')],
  ];
  it.each(ways)('%s are told the same', async (_way, rewritten) => {
    for (const name of stored) {
      const { text, configuration, file } = await read(name);
      const places = (program: string) =>
        analysed(program, configuration, file)
          .findings()
          .findings.map(({ line, rule, severity }) => `${line + 1} ${rule} ${severity}`);
      expect(places(rewritten(text)), name).toEqual(places(text));
    }
  });
});

describe('a slip in a right program', () => {
  const slips: readonly [string, string, string, string][] = [
    ['plain/bearing-cover.nc', 'I0. J-10.', 'I0. J-9.', 'arc-radius-mismatch'],
    ['plain/lower-case.nc', 'g43 h2', 'g43 h3', 'length-offset-other-tool'],
    ['plain/no-spaces.nc', 'F375.', 'F300.', 'tap-feed-mismatch'],
    ['plain/while-pocket.nc', 'Z#110 F200.', 'Z#110 F0', 'feed-zero'],
    ['strict/gusset.ngc', 'I6. J0.', 'I6. K0.1', 'arc-centre-off-plane'],
    ['job-shop/deep-pocket.nc', 'M8\nZ2.', 'M8\nZ-2.', 'rapid-into-stock'],
  ];
  it.each(slips)('of %s, %s as %s, is told', async (name, right, wrong, rule) => {
    const { text, configuration, file } = await read(name);
    expect(text).toContain(right);
    const { findings } = analysed(text.replace(right, wrong), configuration, file).findings();
    expect(findings.map((finding) => finding.rule)).toContain(rule);
  });
});
