/** Coolant of every kind of block: on from the first safe height, and as it was when the block ends. */
import { expect, it } from 'vitest';
import { contextUnder, makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { Analysis } from '../checks/analysis.ts';
import { Mode } from '../machine/modes.ts';
import { PROFILES } from '../machine/profile.ts';
import { entryLines } from './prove.ts';

const MILLING = { speed: 2000, feed: 200, tool: 10 };
const HOLES = {
  operations: 'spot,drill',
  'spot.diameter': 8,
  'drill.diameter': 6,
  'drill.depth': 10,
  'drill.tool-number': 2,
  'drill.speed': 900,
  'drill.feed': 90,
};

/** Values that each kind works with. */
const KINDS: Readonly<Record<string, Readonly<Record<string, string | number>>>> = {
  tapping: { thread: 'M8', depth: 12, speed: 400, holder: 'float', float: 6 },
  holes: { ...HOLES, 'tool-number': 1, 'spot.speed': 900, 'spot.feed': 90 },
  'helical-bore': { ...MILLING, bore: 16, depth: 6 },
  'helical-boss': { ...MILLING, boss: 20, stock: 24, depth: 6 },
  'thread-mill': { thread: 'M16', tool: 10, depth: 12, speed: 2500, feed: 300 },
  'round-pocket': { ...MILLING, diameter: 40, depth: 6 },
  'rectangular-pocket': { ...MILLING, length: 60, width: 40, corner: 6, depth: 6 },
  slot: { ...MILLING, length: 60, width: 10, depth: 6 },
  face: { ...MILLING, length: 60, width: 40, depth: 1 },
  chamfer: { ...MILLING, length: 60, width: 40, corner: 6, size: 1 },
};
const COOLANTS = { none: 0, mist: 1, flood: 2 } as const;
/** What is on before, what is asked for, and the tool that is changed to. */
const CASES = [0, 1, 2, 3].flatMap((before) =>
  (['none', 'mist', 'flood', undefined] as const).flatMap((coolant) =>
    [undefined, 7].map((tool) => ({ before, coolant, tool })),
  ),
);
type Case = (typeof CASES)[number];

const contextWith = (coolant: number, profile = 'iso') => {
  const alone = contextUnder(PROFILES[profile]);
  return { ...alone, entry: { ...alone.entry, coolant } };
};

const check = (kind: string, { before, coolant, tool }: Case): void => {
  const raw = {
    ...KINDS[kind],
    ...(coolant === undefined ? {} : { coolant }),
    ...(tool === undefined ? {} : { 'tool-number': tool }),
  };
  const context = contextWith(before);
  const { lines } = runBlock(kind, raw, context);
  const head = entryLines(context);
  const analysis = new Analysis([...head, ...lines, ''].join('\n'), context.configuration);
  analysis.run();
  const on = (line: number): number => analysis.stateAfter(head.length + line).modes[Mode.coolant];
  const wanted = coolant === undefined ? before : COOLANTS[coolant];
  // All that goes at feed.
  const cuts = lines.flatMap((line, i) => (/^G[123] |^G98 G8/.test(line) ? [i] : []));
  expect(cuts.length).toBeGreaterThan(0);
  for (const line of cuts) expect(on(line), lines[line]).toBe(wanted);
  expect(on(lines.length - 1)).toBe(before);
  // No coolant runs while a tool is changed.
  for (const [line, text] of lines.entries()) if (text.includes('M6')) expect(on(line)).toBe(0);
};

it.each(Object.keys(KINDS))('%s has the coolant asked for, and gives back what was on before', (kind) => {
  for (const one of CASES) check(kind, one);
});

it('is left alone where nobody asks for it and nobody knows what is on', () => {
  for (const [kind, raw] of Object.entries(KINDS))
    expect(
      makeBlock(kind, raw).lines?.filter((line) => /M[789]$/.test(line)),
      kind,
    ).toEqual([]);
});

it('that is asked for where nobody knows what is on is turned off behind the block', () => {
  const { lines } = runBlock('face', { ...KINDS.face, coolant: 'flood' });
  expect(lines.filter((line) => /^M[789]$/.test(line))).toEqual(['M8', 'M9']);
  const dry = runBlock('face', { ...KINDS.face, coolant: 'none' });
  expect(dry.lines.filter((line) => /^M[789]$/.test(line))).toEqual(['M9']);
});
