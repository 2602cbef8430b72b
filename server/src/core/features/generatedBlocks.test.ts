/** Every kind of block comes back from its own remarks: the same values, the same lines, and no rule that speaks of it. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../tests/bench/program.ts';
import { contextAt } from '../blocks/context.ts';
import { generateBlock } from '../blocks/generate.ts';
import { BLOCKS } from '../blocks/registry.ts';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { madeAgain, revisableBlockAt, revisableBlocks } from './generatedBlocks.ts';

const MILLING = { speed: '4000', feed: '600' };

/** Values that each kind works with. */
const VALUES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  tapping: { thread: '1/4-20 UNC', depth: '12', speed: '500', holder: 'synchronised', at: '10,5;30,5' },
  holes: {
    pattern: 'circle',
    count: '6',
    radius: '30',
    operations: 'spot,drill,tap',
    'spot.angle': '90',
    'spot.speed': '2000',
    'spot.feed': '150',
    'spot.tool-number': '1',
    'drill.speed': '2500',
    'drill.feed': '250',
    'drill.tool-number': '2',
    'tap.thread': 'M6',
    'tap.holder': 'synchronised',
    'tap.depth': '10',
    'tap.speed': '500',
    'tap.tool-number': '3',
  },
  'helical-bore': { bore: '19', tool: '10', depth: '6', at: '20,10;-20.5,10', ...MILLING },
  'helical-boss': { boss: '30', stock: '40', tool: '10', depth: '6', ...MILLING },
  'clear-tap': { thread: 'M6', tool: '3', 'broken-at': '2', length: '3', speed: '4000', feed: '60' },
  'thread-mill': { thread: 'M20', tool: '12', teeth: 'multi', 'cutting-length': '20', depth: '15', ...MILLING },
  'round-pocket': { diameter: '40', tool: '10', depth: '5', ...MILLING },
  'rectangular-pocket': { length: '60', width: '40', tool: '10', depth: '5', ...MILLING },
  slot: { length: '60', width: '12', tool: '10', depth: '5', ...MILLING },
  face: { length: '60', width: '40', tool: '20', depth: '1', ...MILLING },
  chamfer: { diameter: '40', tool: '10', depth: '1', ...MILLING },
};

const OWN = ['generated-block-edited', 'generated-block-stale', 'marker-broken'];
const TOOLS: Configuration['tools'] = [
  { number: 1, kind: 'spot-drill', diameter: 10, pointAngle: 90 },
  { number: 2, kind: 'drill', diameter: 5 },
  { number: 3, kind: 'tap', thread: 'M6' },
];

const KINDS = BLOCKS.filter(({ isPart }) => isPart !== true);
const CONTROLS = Object.keys(PROFILES).flatMap((profile) =>
  (['G21', 'G20'] as const).flatMap((units) => [true, false].map((write) => ({ profile, units, write }))),
);

const analysed = (lines: readonly string[], configuration: Configuration): Analysis => {
  const analysis = new Analysis(lines.join('\n'), configuration);
  analysis.run();
  return analysis;
};
const ownRules = (analysis: Analysis): string[] =>
  analysis
    .findings()
    .findings.map(({ rule }) => rule)
    .filter((rule) => OWN.includes(rule));

/** A program with a block of a kind; its first line and the block's lines. */
const written = (name: string, { profile, units, write }: (typeof CONTROLS)[number]) => {
  const kind = BLOCKS.find((candidate) => candidate.name === name)!;
  const configuration: Configuration = {
    ...DEFAULT_CONFIGURATION,
    profile: PROFILES[profile],
    tools: TOOLS,
    blockNumbers: { write, start: 10, step: 10 },
  };
  const head = [`${units} G17 G40 G49 G80 G90 G94 G54`, 'G0 X0. Y0. Z5.'];
  const context = contextAt(analysed([...head, 'M30', ''], configuration), head.length, configuration);
  const { lines, problems, raw } = generateBlock(kind, VALUES[name], context);
  if (lines === undefined) throw new Error(`${name}: ${problems.map(({ message }) => message).join(' | ')}`);
  return { configuration, head, lines, raw, program: [...head, ...lines, 'M30', ''] };
};

describe.each(KINDS)('$name', ({ name }) => {
  it('comes back from its remarks under every control, in both units, with and without block numbers', () => {
    for (const control of CONTROLS) {
      const about = JSON.stringify(control);
      const { configuration, head, lines, raw, program } = written(name, control);
      const analysis = analysed(program, configuration);
      expect(ownRules(analysis), about).toEqual([]);
      const found = revisableBlocks(analysis);
      expect(found, about).toHaveLength(1);
      expect(found[0].kind.name).toBe(name);
      expect(found[0].edited, about).toBeUndefined();
      const { firstLine, lastLine, raw: back } = found[0].block;
      expect([firstLine, lastLine]).toEqual([head.length, head.length + lines.length - 1]);
      const plain = (values: Readonly<Record<string, string>>) =>
        Object.entries(values).map(([key, value]) => [key, value.toUpperCase().replaceAll(';', '/')]);
      expect(plain(back), about).toEqual(plain(raw));
      expect(madeAgain(analysis, configuration, found[0]).lines, about).toEqual(lines);
      expect(revisableBlockAt(analysis, lastLine)?.block).toEqual(found[0].block);
      expect(revisableBlockAt(analysis, lastLine + 1)).toBeUndefined();
    }
  });

  it('shows a changed character in its body, and no renumbering', () => {
    const random = seeded(11);
    const { configuration, head, lines, program } = written(name, { profile: 'iso', units: 'G21', write: false });
    const numbered = program.map((line, i) => (line.startsWith('(') || line === '' ? line : `N${(i + 1) * 5} ${line}`));
    expect(ownRules(analysed(numbered, configuration))).toEqual([]);
    const first = lines.findIndex((line) => !line.includes('BLOCKWRIGHT-'));
    for (let i = 0; i < 30; i++) {
      const line = head.length + first + Math.floor(random() * (lines.length - first - 1));
      const text = program[line];
      const column = Math.floor(random() * text.length);
      if (/\s/.test(text[column])) continue;
      const other = text[column] === '7' ? '8' : '7';
      const changed = [...program];
      changed[line] = text.slice(0, column) + other + text.slice(column + 1);
      const [found] = revisableBlocks(analysed(changed, configuration));
      expect(found.edited, changed[line]).toBe('body');
    }
  });
});
