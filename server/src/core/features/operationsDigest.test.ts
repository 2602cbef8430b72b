import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { addSectionSums, Digester, noSectionSums, type SectionSums } from './operationsDigest.ts';
import { tracedMoves } from './trace.ts';

const folder = fileURLToPath(new URL('../../../../', import.meta.url));
const TEXTS = ['examples', 'tests/corpus/programs'].flatMap((name) =>
  readdirSync(join(folder, name), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => [entry.name, readFileSync(join(entry.parentPath, entry.name), 'utf8')] as const),
);

const analysed = (text: string): Analysis => {
  const analysis = new Analysis(text);
  analysis.run();
  return analysis;
};

/** Sums by the line of the tool change, −1 before the first. */
function sectionsOf(analysis: Analysis): Map<number, SectionSums> {
  const digester = new Digester(analysis, DEFAULT_CONFIGURATION);
  const sections = new Map<number, SectionSums>();
  let now = -1;
  for (const { segment, firstLine } of analysis.passages()) {
    if (segment.pass === 0) continue;
    for (const { change, sums } of digester.of(segment).parts) {
      if (change !== undefined) now = firstLine + change;
      const section = sections.get(now) ?? noSectionSums();
      sections.set(now, section);
      addSectionSums(section, sums);
    }
  }
  return sections;
}

test('lengths, times, depths and feeds are those of the moves, in every program', () => {
  expect(TEXTS.length).toBeGreaterThan(100);
  for (const [name, text] of TEXTS) {
    const analysis = analysed(text);
    const all = noSectionSums();
    for (const sums of sectionsOf(analysis).values()) addSectionSums(all, sums);
    const moves = [...tracedMoves(analysis, { firstLine: 0, helixFeed: DEFAULT_CONFIGURATION.profile.helixFeed })];
    const cuts = moves.filter(({ kind }) => kind === 'line' || kind === 'arc');
    const sum = (numbers: number[]) => numbers.filter(Number.isFinite).reduce((a, b) => a + b, 0);
    expect(all.seconds, name).toBeCloseTo(sum(moves.map(({ seconds }) => seconds)), 6);
    expect(all.cutLength, name).toBeCloseTo(sum(cuts.map(({ length }) => length)), 6);
    const feeds = cuts.map(({ feed }) => feed).filter(Number.isFinite);
    if (feeds.length > 0)
      expect([all.leastFeed, all.greatestFeed], name).toEqual([Math.min(...feeds), Math.max(...feeds)]);
    const levels = cuts.map(({ to }) => to[2]).filter(Number.isFinite);
    if (levels.length > 0) expect(all.lowest, name).toBeLessThanOrEqual(Math.min(...levels));
  }
});

test('each tool has its own, also where it comes back or changes in a loop', () => {
  const cut = (length: number) => `G0 X0. Y0. Z5.\nG1 Z0. F100.\nX${length}.\nG0 Z5.\n`;
  const lengths = (text: string) =>
    [...sectionsOf(analysed(text))].map(([line, { cutLength }]) => [line, Math.round(cutLength)]);
  expect(lengths(`T1 M6\n${cut(10)}T2 M6\n${cut(20)}T1 M6\n${cut(30)}M30\n`)).toEqual([
    [-1, 0],
    [0, 15],
    [5, 25],
    [10, 35],
  ]);
  const loop = `#1=0\nWHILE [#1 LT 3] DO1\nT1 M6\n${cut(10)}T2 M6\n${cut(20)}#1=#1+1\nEND1\nM30\n`;
  expect(lengths(loop)).toEqual([
    [-1, 0],
    [2, 45],
    [7, 75],
  ]);
});

test('an arc in another plane is as deep as its lowest point', () => {
  const lowest = (arc: string): number => {
    const sections = sectionsOf(analysed(`G21 G90\nT1 M6\nG0 X0. Y0. Z0.\nG18 ${arc} X20. Z0. I10. K0. F100.\nM30\n`));
    return sections.get(1)!.lowest;
  };
  expect([lowest('G2'), lowest('G3')]).toEqual([-10, 0]);
});

test('F that is not a feed a minute, cuts without a feed', () => {
  const sums = (text: string) => [...sectionsOf(analysed(`T1 M6\n${text}`)).values()].at(-1)!;
  expect(sums('G95 S1000 M3\nG0 X0. Y0. Z0.\nG1 X10. F.1\n')).toMatchObject({ isPerMinute: false, leastFeed: 100 });
  expect(sums('G0 X0. Y0. Z0.\nG1 X10.\n')).toMatchObject({ untimed: 1, cutLength: 10 });
});
